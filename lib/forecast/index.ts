// When pieces will be ready, with honest widths: finish windows and chances from steps, estimates and the pace of work.
export { experienceOf, pertPath, pertStep } from './hours.ts'
export { type Pace, paceOf } from './pace.ts'
export { chanceBelow, meanOf, quantileOf, spreadOf } from './spread.ts'
export { chanceBy, chancesOf, type FinishWindow, type Forecast, finishWindow } from './window.ts'
