// Which fragments belong together: trays, assemblies, the next pair worth trying, and an order to glue in.
export { advise } from './advise.ts'
export { joinOrder, lockedOutBy } from './order.ts'
export { reasonsFor } from './reasons.ts'
export { studyRound, studyTray } from './study.ts'
export * from './tray.ts'
