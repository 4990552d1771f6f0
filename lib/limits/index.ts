// Formulas with a published standard behind them, each file naming its standard, edition and clause.
export * from './mass.ts'
export * from './noise.ts'
export * from './vibration.ts'
