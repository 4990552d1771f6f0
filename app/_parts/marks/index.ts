// Our own marks: one pen, one ink.
export { Mark, MarkAt, type MarkName } from './mark.tsx'
export { Sign } from './sign.tsx'
