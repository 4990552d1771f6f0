'use client'
// What stands over the printed line-up beside its date: the shift, how far it is everybody's, the scale, and that there is
// a page with its cautions, so that nobody pins up the plan alone unknowingly.
import { sayMoment } from '../_text/index.ts'
import { type PrintedProps, printedCautions } from './print-cautions.tsx'
import { printScale } from './print-scale.ts'
import { usePrinting } from './use-printing.ts'

/** Only on paper. */
export function PrintHead({ at, turns }: PrintedProps) {
  const { records, date, shift, today } = at
  const isPrinting = usePrinting()
  const lab = records.lab.get('lab')
  const room = records.room.get('room')
  const day = records.day.get(date)
  if (!isPrinting || !lab || !room || !shift) return null
  const state = turns
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
      {printedCautions(at, turns).length === 0 ? null : <span>Cautions on the next page</span>}
      <span>{lab.name}</span>
    </p>
  )
}
