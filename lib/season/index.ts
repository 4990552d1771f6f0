// The season: who can do what by when, over months. Projects (activities, precedence, what is scarce) and their
// schedules are in project/.

export { type HelpsOptions, helps } from './lab/helps.ts'
export { type Leads, leadsOf } from './lab/leads.ts'
export type { LabModel } from './lab/model.ts'
export { orderOf } from './lab/order.ts'
export { type Planned, planSeason } from './lab/planned.ts'
export { promise } from './lab/promise.ts'
export { createRunner } from './lab/runner.ts'
export { type PlayOptions, playSeason } from './lab/season.ts'
export { type Story, storyOf } from './lab/story.ts'
export { emptyTally, runFutures, type Tally } from './lab/tally.ts'
export { parsePsplib } from './project/parse-psplib.ts'
export * from './words.ts'
