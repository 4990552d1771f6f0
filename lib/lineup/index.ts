// The day: a plain problem, its solver, its checker, its explanations.
export { appraise, scoreOf, unmetMusts } from './appraise.ts'
export {
  type AssignAnswer,
  type AssignOptions,
  type AssignProblem,
  appraiseAssign,
  parseAssign,
  solveAssign,
} from './assign.ts'
export { type BoundOptions, boundOf } from './bound/day.ts'
export { type Apart, type BuildOptions, type Built, buildProblem } from './build.ts'
export { applyChange, type Change, sizeOf } from './change.ts'
export { type Difference, diff } from './diff.ts'
export { exampleProblem } from './example.ts'
export { type Explanation, explain, type LeftOut, type Reason, reasonFor } from './explain.ts'
export { judgeProblem } from './judge.ts'
export * from './problem.ts'
export { type Proposal, type ProposedChange, type ProposedTurn, type ProposeOptions, propose } from './propose.ts'
export { type Redrawn, type RedrawOptions, redraw } from './redraw.ts'
export { DEFAULT_SEED, type SolveOptions, solve, stepsFor } from './solve/index.ts'
export { type Fault, type RuleCode, verify, verifyRules } from './verify.ts'
