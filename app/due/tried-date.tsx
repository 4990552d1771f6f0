'use client'
// A date one is thinking of: its chance, a week earlier or later, and for the manager the move. Nothing is anybody's
// until it is moved.
import { addDays } from '#lib/base'
import type { DueRow } from '#lib/views'
import { Button, Notice, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayDate, sayReady } from '../_text/index.ts'

type TriedDateProps = {
  readonly row: DueRow
  readonly date: string
  /** Null beyond the season. */
  readonly chance: number | null
  readonly today: string
  readonly isManager: boolean
  readonly onTry: (date: string | null) => void
}

/** The strip under the window. */
export function TriedDate({ row, date, chance, today, isManager, onTry }: TriedDateProps) {
  const { attempt, problem } = useTry()
  const { due } = row
  const step = (days: number) => {
    const next = addDays(date, days)
    onTry(next < today ? today : next)
  }
  return (
    <div className="border-t border-line py-2">
      <p className="named text-say text-chalk" role="status">
        {chance === null
          ? `${sayDate(date, 'full')} lies beyond the season that was looked at.`
          : sayReady(chance, sayDate(date, 'full'))}{' '}
        {date === due.date ? '' : 'Only tried; the date stands where it stood.'}
      </p>
      <div className="flex flex-wrap items-end gap-x-2 gap-y-1">
        <Button onClick={() => step(-7)}>A week earlier</Button>
        <Button onClick={() => step(7)}>A week later</Button>
        <TextField
          label="Or on"
          type="date"
          min={today}
          value={date}
          onChange={(event) => event.target.value >= today && onTry(event.target.value)}
        />
        {isManager && date !== due.date ? (
          <Button
            kind="ink"
            onClick={() => {
              if (attempt({ kind: 'moveDue', dueId: due.id, date, isHard: due.isHard })) onTry(null)
            }}
          >
            Move the date to {sayDate(date, 'short')}
          </Button>
        ) : null}
        <Button kind="quiet" onClick={() => onTry(null)}>
          Put it back
        </Button>
      </div>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </div>
  )
}
