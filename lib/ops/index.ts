// The acts of the lab: what may be done, by whom, under which conditions, with which changes.
export { asJudged, turnsThatFall } from './assess.ts'
export { applyOp, inverseOf, judgeOp, needsOf, subjectsOf } from './dispatch.ts'
export { isPrivateOf } from './erase.ts'
export type { Need, When, Who } from './op.ts'
export { parseOp } from './parse.ts'
export { type Op, type OpBody, type OpKind, type OpOf, opSchemas } from './shapes/index.ts'
