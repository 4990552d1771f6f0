'use client'
// The facts beside the plan, in words one reads from across the room. What has no room falls off at the end: cautions
// stand before whatever may be missed.
import { timeOfMinute } from '#lib/base'
import type { WallFacts } from '#lib/views'
import type { Shift } from '#lib/words'
import { Mark, type MarkName } from '../_parts/marks/index.ts'
import { sayDate } from '../_text/index.ts'

export type WallSideProps = {
  readonly facts: WallFacts
  readonly shift: Readonly<Shift>
  readonly date: string
  readonly minute: number
  readonly isPosted: boolean
  readonly isOffline: boolean
}

const careMarks: Readonly<Record<string, MarkName>> = { noise: 'noise', dust: 'dust', solvent: 'hood', acid: 'acid' }

/** More would push the rest off the wall. */
const LATE_SHOWN = 3
const ENDS_SHOWN = 2

/** The column. */
export function WallSide({ facts, shift, date, minute, isPosted, isOffline }: WallSideProps) {
  return (
    <aside className="wall-side" aria-label="Today">
      <p className="wall-clock inked">{timeOfMinute(minute)}</p>
      <div>
        <p className="wall-day heading">{sayDate(date).split(' ')[0]}</p>
        <p className="wall-shift">
          {shift.name}, to {shift.end}
        </p>
      </div>
      {isOffline ? (
        <p className="wall-word" role="status">
          Not connected. This is how it was last known.
        </p>
      ) : null}
      {facts.care.length === 0 ? null : (
        <ul className="wall-care">
          {facts.care.map(({ hazard, places }) => (
            <li key={hazard} className="flex items-center gap-3">
              <Mark name={careMarks[hazard] ?? 'caution'} size={34} className="flex-none" />
              <span>
                {hazard} at {places.join(', ')}
              </span>
            </li>
          ))}
        </ul>
      )}
      <ul className="wall-facts">
        {isPosted ? null : <Fact mark="drawn">no line-up posted yet</Fact>}
        {facts.late.slice(0, LATE_SHOWN).map((one) => (
          <Fact key={one.name} mark="late">
            <strong className="font-strong">{one.name}</strong> {one.dueAt ?? 'late'}
          </Fact>
        ))}
        {facts.late.length > LATE_SHOWN ? <Fact mark="late">{facts.late.length - LATE_SHOWN} more late</Fact> : null}
        <Fact mark="seat">
          <strong className="font-strong">{facts.freeSeats}</strong> {facts.freeSeats === 1 ? 'seat' : 'seats'} free
        </Fact>
        {facts.air.totalLpm === 0 ? null : (
          <Fact mark="compressor">
            <strong className="font-strong">{facts.air.freeLpm}</strong> air free
            <span className="sr-only">, litres a minute</span>
          </Fact>
        )}
        {facts.ends.slice(0, ENDS_SHOWN).map(({ time, number, what }) => (
          <Fact key={`${time} ${number} ${what}`} mark="clock">
            <strong className="font-strong">{time}</strong> {what} ends, <span className="inked">{number}</span>
          </Fact>
        ))}
      </ul>
      {facts.next === null ? null : (
        <div>
          <p className="wall-word text-umber">next date</p>
          <p className="wall-number inked">{facts.next.piece.number}</p>
          <p className="wall-word named">
            {facts.next.piece.name}, {sayDate(facts.next.date, 'short')}
          </p>
        </div>
      )}
    </aside>
  )
}

function Fact({ mark, children }: { readonly mark: MarkName; readonly children: React.ReactNode }) {
  return (
    <li className="wall-fact">
      <Mark name={mark} size={34} />
      <span className="min-w-0">{children}</span>
    </li>
  )
}
