// The season: who can do what by when, over months. Projects (activities, precedence, what is scarce) and their
// schedules are in project/.

export { playSeason } from './lab/season.ts'
export { parsePsplib } from './project/parse-psplib.ts'
export * from './words.ts'
