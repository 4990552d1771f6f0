'use client'
// What stands over the printed line-up beside its date: the shift, how far it is everybody's, and the scale.
import { sayMoment } from '../_text/index.ts'
import { printScale } from './print-scale.ts'
import type { FloorAt } from './use-floor.ts'
import { usePrinting } from './use-printing.ts'

/** Only on paper. */
export function PrintHead({ at, isProposal = false }: { readonly at: FloorAt; readonly isProposal?: boolean }) {
  const { records, date, shift, today } = at
  const isPrinting = usePrinting()
  const lab = records.lab.get('lab')
  const room = records.room.get('room')
  const day = records.day.get(date)
  if (!isPrinting || !lab || !room || !shift) return null
  const state = isProposal
    ? 'Drawn up, not posted'
    : day
      ? `Posted ${sayMoment(day.postedAt, lab.zone, today)}`
      : 'Not posted'
  return (
    <p className="floor-print-head">
      <b>
        {shift.name} {shift.start}–{shift.end}
      </b>
      <span>{state}</span>
      <span>1 : {printScale(room)}</span>
      <span>{lab.name}</span>
    </p>
  )
}
