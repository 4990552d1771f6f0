// Draws up days off the main thread.
export { drawUpAsker } from './ask.ts'
export { createSolver, type DrawUp, type DrawUpAnswer, type Solver, type SolverOptions } from './solver.ts'
