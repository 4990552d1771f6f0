// The only place with user language for codes, dates, amounts and states. Names come from the records.
export * from './amounts.ts'
export * from './chance.ts'
export * from './dates.ts'
export { hasSentence, sayFinding, sayFindings } from './findings/index.ts'
export * from './materials.ts'
export { namesIn } from './names.ts'
export * from './ops.ts'
export * from './states.ts'
