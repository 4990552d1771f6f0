// The day: a plain problem, its solver, its checker, its explanations.
export { appraise, scoreOf } from './appraise.ts'
export {
  appraiseAssign,
  parseAssign,
  solveAssign,
} from './assign.ts'
export { boundOf } from './bound/day.ts'
export { buildProblem } from './build.ts'
export { applyChanges, type Change } from './change.ts'
export { clashesOf } from './clash.ts'
export { type Considered, consider } from './consider.ts'
export { exampleProblem } from './example.ts'
export { explain, type Reason } from './explain.ts'
export { judgeProblem } from './judge.ts'
export type { LeftOut } from './left-out.ts'
export * from './problem.ts'
export { type Proposal, type ProposedTurn, propose } from './propose.ts'
export { redraw } from './redraw.ts'
export { DEFAULT_SEED, type Settle, solve, stepsFor } from './solve/index.ts'
export type { ProposedClash } from './told-clashes.ts'
export { type RuleCode, verify, verifyRules } from './verify.ts'
export { drawWeek, type TurnLimit, turnsMaxOf, type Week, type WeekDay } from './week/draw-week.ts'
export { whatIf } from './what-if.ts'
