'use client'
// What is open about a place's safety: checks before use, and what is in use beside it in the chosen shift.
import { assignmentsOn, mixingOfDay } from '#lib/rules'
import type { PlaceId } from '#lib/words'
import type { FloorAt } from '../floor/use-floor.ts'
import { CheckRows } from './check-rows.tsx'
import { MixingNotices } from './mixing-notices.tsx'

type PlaceSafetyProps = { readonly at: FloorAt; readonly placeId: PlaceId }

/** Nothing at all when there is nothing to say. */
export function PlaceSafety({ at, placeId }: PlaceSafetyProps) {
  const { records, shift, date, today, minute } = at
  const here = mixingOfDay(
    records,
    date,
    assignmentsOn(records, date).filter((turn) => turn.shiftId === shift?.id),
  ).filter(({ ids }) => ids.place === placeId || ids.at === placeId)
  return (
    <>
      <CheckRows records={records} now={{ date: today, minute }} shiftId={shift?.id ?? null} placeId={placeId} />
      <MixingNotices records={records} findings={here} />
    </>
  )
}
