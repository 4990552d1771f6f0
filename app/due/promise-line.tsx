'use client'
// May we promise? The chance of a piece to be ready by a date one is thinking of, the days of 8 and 9½ in ten, and what
// it would push back. Where the season is not for one's eyes, the quick count alone.
import { useEffect, useMemo, useState } from 'react'
import { chanceBy, paceOf } from '#lib/forecast'
import type { PromiseAnswer, SeasonRefused } from '#lib/season'
import { useAsk, useBoard } from '../_board/index.ts'
import { sayDate, sayReady } from '../_text/index.ts'
import { sayOthers } from '../season/say.ts'

type PromiseLineProps = { readonly pieceId: string; readonly date: string; readonly today: string }

/** A date is typed digit by digit: asked when it has stood for a moment. */
const QUIET_MS = 350

/** The answer, in sentences. */
export function PromiseLine({ pieceId, date, today }: PromiseLineProps) {
  const settled = useSettled(date)
  const isWhole = pieceId !== '' && /^2\d{3}-\d{2}-\d{2}$/.test(settled)
  const { answer } = useAsk<PromiseAnswer | SeasonRefused>('promise', isWhole ? { pieceId, date: settled } : null)
  const records = useBoard((board) => board)
  const quick = useMemo(
    () => (isWhole ? chanceBy(records, pieceId, settled, today, paceOf(records, today)) : null),
    [records, pieceId, settled, today, isWhole],
  )
  if (!isWhole) return null
  if (answer === null || 'refused' in answer) {
    return (
      <p className="named text-say" role="status">
        {quick === null ? 'It has no steps yet, so nothing can be counted.' : sayReady(quick, sayDate(settled, 'full'))}
      </p>
    )
  }
  const others = answer.others.filter(({ before, after }) => Math.abs(before - after) >= 0.01)
  return (
    <div role="status">
      <p className="named text-say">{sayReady(answer.chance, sayDate(settled, 'full'))}</p>
      <p className="text-small text-wash">{sayDays(answer)}</p>
      {answer.chance > answer.chanceNow + 0.03 ? (
        <p className="text-small text-wash">
          That is with work put on it for the date; as the season is planned now:{' '}
          {sayReady(answer.chanceNow, sayDate(settled, 'short'))}
        </p>
      ) : null}
      <p className="text-small text-wash">
        {others.length === 0 ? 'It pushes no other date back.' : `Other dates: ${sayOthers(others, records)}`}
      </p>
    </div>
  )
}

function sayDays({ at80, at95 }: PromiseAnswer): string {
  if (at80 === null) return '8 in 10 is not reached within the season looked at.'
  const late =
    at95 === null ? 'nearly sure not within the season looked at' : `nearly sure from ${sayDate(at95, 'full')}`
  return `8 in 10 from ${sayDate(at80, 'full')}, ${late}.`
}

function useSettled(date: string): string {
  const [settled, setSettled] = useState(date)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(date), QUIET_MS)
    return () => clearTimeout(timer)
  }, [date])
  return settled
}
