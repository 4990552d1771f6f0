// The season: who can do what by when, over months. Projects (activities, precedence, what is scarce) and their
// schedules are in project/.
export { parsePsplib } from './project/parse-psplib.ts'
