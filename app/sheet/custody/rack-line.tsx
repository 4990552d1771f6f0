'use client'
// What stands on a rack and what it is rated for, with the piece asked about; over its rating for sure it is refused,
// perhaps over it asks for a reason.
import type { RackLoad } from '#lib/rules'
import { TextField } from '../../_parts/controls/index.ts'
import { capital, sayCount, sayKg } from '../../_text/index.ts'

export type RackLineProps = {
  readonly loads: readonly RackLoad[]
  readonly lowKg: number
  readonly highKg: number
  readonly despite: string
  readonly onDespite: (reason: string) => void
}

/** One line for each rating the shelf comes under, and the reason where one is asked for. */
export function RackLine({ loads, lowKg, highKg, despite, onDespite }: RackLineProps) {
  if (loads.length === 0) return null
  const isOver = loads.some((one) => one.standsLowKg + lowKg > one.rack.ratedKg)
  const isPerhaps = loads.some((one) => one.standsHighKg + highKg > one.rack.ratedKg)
  return (
    <div className={isPerhaps ? 'border-l-[5px] border-ink pl-3' : ''} aria-live="polite">
      {loads.map((one) => (
        <p key={one.rack.id} className="text-small">
          {capital(one.rack.name)} is rated for {sayKg(one.rack.ratedKg)}. {capital(sayCount(one.pieces, 'piece'))} of
          the board {one.pieces === 1 ? 'stands' : 'stand'} on it, {sayKg(one.standsLowKg)} to {sayKg(one.standsHighKg)}
          ; with this one {sayKg(one.standsLowKg + lowKg)} to {sayKg(one.standsHighKg + highKg)}.
        </p>
      ))}
      {isOver ? <p className="font-strong">That is over the rating. Choose another shelf.</p> : null}
      {isPerhaps && !isOver ? (
        <TextField
          label="It may be over. Why may it stand there"
          hint="Or weigh it, or choose another shelf."
          value={despite}
          onChange={(event) => onDespite(event.target.value)}
        />
      ) : null}
    </div>
  )
}
