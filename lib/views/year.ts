// What volunteers gave in a calendar year and what came of it, as sums: no person is set beside another.
import { fullTimeEquivalent } from '#lib/limits'
import type { RecordOf, Records } from '#lib/words'

export type YearReport = {
  /** Volunteers who gave any hours. */
  readonly people: number
  readonly hours: number
  /** Full-time equivalents at 2 080 h a year. */
  readonly posts: number
  /** Pieces on the board that reached a new stage in the year, and those of them that are housed or released. */
  readonly moved: number
  readonly finished: number
  readonly datesMet: number
}

const done: readonly RecordOf<'specimen'>['stage'][] = ['housed', 'released']

/** The year's sums from tallies, stages and dates. Pieces in the archive are not counted: the board does not hold them. */
export function yearReport(records: Records, year: number): YearReport {
  const isIn = (date: string) => date.startsWith(`${year}-`)
  const tallies = [...records.tally.values()].filter(
    (tally) => tally.year === year && tally.minutes > 0 && records.person.get(tally.personId)?.role === 'volunteer',
  )
  const hours = tallies.reduce((sum, { minutes }) => sum + minutes, 0) / 60
  const moved = [...records.specimen.values()].filter((piece) => isIn(piece.stageSince))
  return {
    people: tallies.length,
    hours,
    posts: fullTimeEquivalent(hours, 1),
    moved: moved.length,
    finished: moved.filter((piece) => done.includes(piece.stage)).length,
    datesMet: [...records.due.values()].filter(({ state, date }) => state === 'met' && isIn(date)).length,
  }
}
