// When pieces will be ready, with honest widths: finish windows and chances from steps, estimates and the pace of work.
export { earnedValue } from './earned.ts'
export { experienceOf, LINKAGE, pertPath, pertStep, stepLeft } from './hours.ts'
export { type Pace, paceOf } from './pace.ts'
export { brierScore, crpsLogNormal, crpsNormal, pinballLoss } from './scores.ts'
export { chanceBelow, meanOf, modeOf, quantileOf, type Spread, spreadOf } from './spread.ts'
export { learningHours, updateHours, upliftedEstimate } from './update.ts'
export { chanceBy, chancesOf, type FinishWindow, type Forecast, finishWindow } from './window.ts'
