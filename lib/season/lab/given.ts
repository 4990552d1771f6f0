/**
 * What becomes of half-days that are expected: how many people really come to, and how much of one ends as work on a
 * piece. Learned from the hours given in this calendar year and the last (tallies), set against the weekly pattern, and
 * drawn towards common practice where there is little to learn from. A pattern that changed within the year misleads
 * for a while; weeks in which there was nothing to do count as not come, as the lab's real pace does.
 */
import { daysBetween } from '#lib/base'
import { labOf, shiftMinutes } from '#lib/rules'
import type { RecordOf, Records } from '#lib/words'

export interface Given {
  /** Share of days on which each of the crew does not come though expected. */
  readonly away: Float64Array
  /** Share of a half-day that becomes minutes of work. */
  readonly workShare: number
}

/** Share of half-days missed, before anything is known (common practice, from memory; no source). */
const USUAL_AWAY = 0.1
/** Laying out, records and clearing away take the rest (common practice, from memory; no source). */
const USUAL_WORK = 0.85
/** Half-days that weigh as much as what is usual. */
const PRIOR_TURNS = 20
/** Nobody is planned as never coming; who comes so seldom is an exception to be entered. */
const AWAY_MAX = 0.8

/** Attendance and yield as of a day. */
export function givenOf(records: Records, crew: readonly RecordOf<'person'>[], from: string): Given {
  const length = usualLength(records)
  let turns = 0
  let minutes = 0
  const away = crew.map((person) => {
    const weekly = person.pattern.length
    const year = Number(from.slice(0, 4))
    let expected = 0
    let came = 0
    for (const [of, since, to] of [
      [year, `${year}-01-01`, from],
      [year - 1, `${year - 1}-01-01`, `${year}-01-01`],
    ] as const) {
      const tally = records.tally.get(`${of}.${person.id}`)
      if (!tally) continue
      const days = Math.min(daysBetween(since, to), daysBetween(person.since, to))
      expected += (Math.max(0, days) * weekly) / 7
      came += tally.stretches
      turns += tally.stretches
      minutes += tally.minutes
    }
    // Whoever works more than the pattern says is not thereby sure to come.
    const known = Math.min(came, expected)
    return 1 - (known + PRIOR_TURNS * (1 - USUAL_AWAY)) / (expected + PRIOR_TURNS)
  })
  const share = (minutes + PRIOR_TURNS * USUAL_WORK * length) / ((turns + PRIOR_TURNS) * length)
  return {
    away: Float64Array.from(away, (share) => Math.min(AWAY_MAX, Math.max(0, share))),
    workShare: Math.min(1, share),
  }
}

/** Mean length of the lab's shifts, minutes. */
function usualLength(records: Records): number {
  const shifts = labOf(records)?.shifts ?? []
  return shifts.length === 0 ? 180 : shifts.reduce((sum, shift) => sum + shiftMinutes(shift), 0) / shifts.length
}
