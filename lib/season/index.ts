// The season: who can do what by when, over months. Projects (activities, precedence, what is scarce) and their
// schedules are in project/.

export { type HelpsOptions, helps } from './lab/helps.ts'
export { type Planned, planSeason } from './lab/planned.ts'
export { promise } from './lab/promise.ts'
export { type PlayOptions, playSeason } from './lab/season.ts'
export { parsePsplib } from './project/parse-psplib.ts'
export * from './words.ts'
