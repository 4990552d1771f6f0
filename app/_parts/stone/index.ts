// The stone tells its own stage: one outline per specimen, drawn from its id.
export type { StoneStage } from './figure.ts'
export { proportion, Stone, StoneAt, type Tone } from './stone.tsx'
