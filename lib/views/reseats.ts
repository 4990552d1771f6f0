// Seats of posted days that other hands have changed for somebody who has not seen it yet.
import type { RecordOf, Records } from '#lib/words'

/** One change to be told, with what the person has now; null when they have no seat any more. */
export type ReseatOf = { readonly told: RecordOf<'reseat'>; readonly now: RecordOf<'assignment'> | null }

/** A person's changes from a date on, in the order of the days and of their shifts. */
export function reseatsOf(records: Records, personId: string, from: string): readonly ReseatOf[] {
  const order = records.lab.get('lab')?.shifts.map(({ id }): string => id) ?? []
  return [...records.reseat.values()]
    .filter((told) => told.personId === personId && told.date >= from)
    .toSorted((a, b) =>
      a.date === b.date ? order.indexOf(a.shiftId) - order.indexOf(b.shiftId) : a.date < b.date ? -1 : 1,
    )
    .map((told) => ({ told, now: records.assignment.get(told.id) ?? null }))
}
