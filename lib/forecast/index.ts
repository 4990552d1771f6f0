// When pieces will be ready, with honest widths: finish windows and chances from steps, estimates and the pace of work.
export { type Estimate, type Experience, experienceOf, type Moments, pertPath, pertStep } from './hours.ts'
export { type Pace, paceOf, type WeeklyHours } from './pace.ts'
export { chanceBelow, meanOf, quantileOf, type Spread, spreadOf } from './spread.ts'
export { chanceBy, chancesOf, type FinishWindow, type Forecast, finishWindow } from './window.ts'
