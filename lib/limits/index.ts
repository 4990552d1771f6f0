// Formulas with a published standard behind them, each file naming its standard, edition and clause; and published
// limits as data, each with its jurisdiction, edition and date.
export * from './air.ts'
export * from './hours-given.ts'
export * from './lifting.ts'
export * from './lifting-day.ts'
export * from './mass.ts'
export * from './materials.ts'
export * from './noise.ts'
export * from './noise-survey.ts'
export * from './published.ts'
export * from './reached.ts'
export * from './solutions.ts'
export * from './vibration.ts'
