// The day: a plain problem, its solver, its checker, its explanations.
export { appraise, scoreOf, unmetMusts } from './appraise.ts'
export { exampleProblem } from './example.ts'
export { judgeProblem } from './judge.ts'
export * from './problem.ts'
export { DEFAULT_SEED, type SolveOptions, solve, stepsFor } from './solve/index.ts'
export { type Fault, type RuleCode, verify, verifyRules } from './verify.ts'
