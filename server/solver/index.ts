// Draws up days off the main thread.
export { drawUpAsker } from './ask.ts'
export { createSolver, type DrawUpAnswer, type Solver } from './solver.ts'
