'use client'
// Under the printed line-up: the usual cautions of its work, each once with the places it holds for, and whom to ask.
import { useMemo } from 'react'
import { assignmentsOn, type Turn } from '#lib/rules'
import { type CautionsHere, cautionsOfTurns } from '../mine/cautions.ts'
import type { FloorAt } from './use-floor.ts'

export type PrintedProps = {
  readonly at: FloorAt
  /** The turns of a line-up that is drawn up and not posted; the day's own when not given. */
  readonly turns?: readonly Turn[] | undefined
}

/** The cautions of the turns in the printed shift. */
export function printedCautions({ records, date, shift }: FloorAt, turns?: readonly Turn[]): readonly CautionsHere[] {
  const here = (turns ?? assignmentsOn(records, date)).filter((turn) => turn.shiftId === shift?.id)
  return cautionsOfTurns(records, here)
}

/** Only on paper. It comes in one paint with the plan, since a print may be pressed in the next instant and does not wait. */
export function PrintCautions({ at, turns }: PrintedProps) {
  const { records, date, shift } = at
  // biome-ignore lint/correctness/useExhaustiveDependencies: `at` is new at every paint; what is read of it stands here
  const said = useMemo(() => printedCautions(at, turns), [records, date, shift, turns])
  if (said.length === 0) return null
  return (
    <section className="floor-print-cautions" aria-label="Cautions of this shift">
      <h2 className="heading text-say">Cautions</h2>
      <ul>
        {said.map(({ key, bold, text, codes }) => (
          <li key={`${key} ${text}`}>
            <b>{key === 'decides' ? 'Everywhere' : codes.join(', ')}</b> {bold === undefined ? '' : `${bold} `}
            {text}
          </li>
        ))}
      </ul>
    </section>
  )
}
