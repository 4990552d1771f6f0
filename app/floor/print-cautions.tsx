'use client'
// Under the printed line-up: the usual cautions of its work, each once with the places it holds for, and whom to ask.
import { useMemo } from 'react'
import { assignmentsOn, type Turn } from '#lib/rules'
import { cautionsOfTurns } from '../mine/cautions.ts'
import type { FloorAt } from './use-floor.ts'

type PrintCautionsProps = {
  readonly at: FloorAt
  /** The turns that are drawn; those that are posted when not given. */
  readonly turns?: readonly Turn[] | undefined
}

/** Only on paper; it lies ready, since paper does not wait. */
export function PrintCautions({ at, turns }: PrintCautionsProps) {
  const { records, date, shift } = at
  const said = useMemo(() => {
    const here = (turns ?? assignmentsOn(records, date)).filter((turn) => turn.shiftId === shift?.id)
    return cautionsOfTurns(records, here)
  }, [records, date, shift?.id, turns])
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
