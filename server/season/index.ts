// Plays seasons off the main thread, and tells each role what it may hear.
export { seasonAsks } from './ask.ts'
export { createSeasons, type SeasonThreads, seasonThreads } from './seasons.ts'
export { noteWeekly } from './weekly.ts'
