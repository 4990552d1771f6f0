// The chance of each piece to be ready by its first date, as every screen tells it: the season's futures where one was
// heard; until then what the season last noted for that very date, and a quick count only of what it never counted. The
// quick count looks back on what a piece was getting where the season plans ahead, and may be far from it.
import { daysBetween } from '#lib/base'
import { chancesOf, paceOf } from '#lib/forecast'
import type { DateOutlook, SeasonAnswer } from '#lib/season'
import type { RecordOf, Records } from '#lib/words'

/** A chance is noted once a week: one that is older than a missed week tells of another lab. */
const NOTED_DAYS = 14

/** Probabilities by piece, as of a day; a piece without a forecast is not in it. */
export function firstChances(
  records: Records,
  today: string,
  season: SeasonAnswer | null,
): ReadonlyMap<string, number> {
  // The quick count reads every step: it is made only where it is needed.
  let quick: ReadonlyMap<string, number> | null = null
  const quickOf = (dueId: string): number | undefined => {
    quick ??= chancesOf(records, today, paceOf(records, today))
    return quick.get(dueId)
  }
  const told = new Map(season?.dates.map((one) => [one.dueId, one]))
  const noted = lastNotes(records, (on) => daysBetween(on, today) <= NOTED_DAYS)
  const first = new Map<string, { readonly date: string; readonly chance: number }>()
  for (const due of records.due.values()) {
    const known = first.get(due.pieceId)
    if (due.state !== 'accepted' || (known && known.date <= due.date)) continue
    const heard = told.get(due.id)
    const note = noted.get(due.id)
    const counted = heard && isOf(heard, due) ? heard : note?.date === due.date ? note : undefined
    const chance = counted?.chance ?? quickOf(due.id)
    if (chance !== undefined) first.set(due.pieceId, { date: due.date, chance })
  }
  return new Map([...first].map(([pieceId, { chance }]) => [pieceId, chance]))
}

/** Whether the futures were counted for this very date: one moved or promised since has others. */
export const isOf = (counted: DateOutlook, due: RecordOf<'due'>): boolean =>
  counted.date === due.date && counted.isAsked === (due.state === 'asked')

/** The latest note of each date among those of days that count. */
export function lastNotes(records: Records, counts: (on: string) => boolean): ReadonlyMap<string, RecordOf<'outlook'>> {
  const latest = new Map<string, RecordOf<'outlook'>>()
  for (const one of records.outlook.values()) {
    if (!counts(one.on)) continue
    const known = latest.get(one.dueId)
    if (!known || known.on < one.on) latest.set(one.dueId, one)
  }
  return latest
}
