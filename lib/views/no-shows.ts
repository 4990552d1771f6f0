// When somebody did not come, as a manager reads it: what was noted, and seats of days still on the board that nothing
// says anything of. Whoever may not read the notes has none of them in their records.
import { minuteOf } from '#lib/base'
import { presenceOf, shiftOf, worksOfTurn } from '#lib/rules'
import type { RecordOf, Records, ShiftId } from '#lib/words'

export type NoShows = {
  /** Newest first. */
  readonly noted: readonly RecordOf<'noShow'>[]
  /** Seats of shifts that are over, with nothing logged and nobody's tick; newest first. */
  readonly open: readonly { readonly date: string; readonly shiftId: ShiftId }[]
}

const newestFirst = (a: { readonly date: string }, b: { readonly date: string }) => (a.date < b.date ? 1 : -1)

/** One person's, as of a moment. */
export function noShowsOf(
  records: Records,
  personId: string,
  now: { readonly date: string; readonly minute: number },
): NoShows {
  const person = records.person.get(personId)
  const isOver = (date: string, shiftId: string) => {
    const end = shiftOf(records, shiftId)?.end
    return date < now.date || (date === now.date && end !== undefined && minuteOf(end) <= now.minute)
  }
  const open = [...records.assignment.values()].filter(
    ({ id, date, shiftId, personId: whose }) =>
      whose === personId &&
      isOver(date, shiftId) &&
      worksOfTurn(records, id).length === 0 &&
      !records.attendance.has(id) &&
      !records.noShow.has(id) &&
      person !== undefined &&
      !presenceOf(records, person, date, shiftId).isAway,
  )
  return {
    noted: [...records.noShow.values()].filter((one) => one.personId === personId).toSorted(newestFirst),
    open: open.map(({ date, shiftId }) => ({ date, shiftId })).toSorted(newestFirst),
  }
}
