// Draws up days, and looks ahead, off the main thread.
export { solverAsks } from './ask.ts'
export { type Answer, createSolver, type Solver } from './solver.ts'
