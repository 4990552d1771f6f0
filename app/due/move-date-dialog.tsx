'use client'
// A date moved by hand, with the chance it would have: what one asks before one promises.
import { useMemo, useState } from 'react'
import { chanceBy, paceOf } from '#lib/forecast'
import type { DueRow } from '#lib/views'
import { useBoard } from '../_board/index.ts'
import { Button, Check, Dialog, Notice, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayDate, sayReady } from '../_text/index.ts'

type MoveDateDialogProps = {
  readonly row: DueRow
  readonly today: string
  readonly isOpen: boolean
  readonly onClose: () => void
}

/** The dialog. */
export function MoveDateDialog({ row, today, isOpen, onClose }: MoveDateDialogProps) {
  const { attempt, problem } = useTry()
  const [date, setDate] = useState(row.due.date)
  const [isHard, setHard] = useState(row.due.isHard)
  return (
    <Dialog
      isOpen={isOpen}
      title={`Move the date of ${row.number}`}
      onClose={onClose}
      width="narrow"
      actions={
        <Button
          kind="ink"
          size="action"
          disabled={date === ''}
          onClick={() => {
            if (attempt({ kind: 'moveDue', dueId: row.due.id, date, isHard })) onClose()
          }}
        >
          Move it
        </Button>
      }
    >
      <div className="flex flex-col gap-4">
        <TextField label="To" type="date" min={today} value={date} onChange={(event) => setDate(event.target.value)} />
        {isOpen ? <ChanceLine pieceId={row.due.pieceId} date={date} today={today} /> : null}
        <Check label="It cannot move again" isOn={isHard} onToggle={setHard} />
        {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      </div>
    </Dialog>
  )
}

/** The chance of a piece to be ready by a date one is thinking of. */
export function ChanceLine({
  pieceId,
  date,
  today,
}: {
  readonly pieceId: string
  readonly date: string
  readonly today: string
}) {
  const records = useBoard((board) => board)
  const chance = useMemo(
    () => (date === '' || pieceId === '' ? null : chanceBy(records, pieceId, date, today, paceOf(records, today))),
    [records, pieceId, date, today],
  )
  if (date === '' || pieceId === '') return null
  return (
    <p className="named text-say" role="status">
      {chance === null ? 'It has no steps yet, so nothing can be counted.' : sayReady(chance, sayDate(date, 'full'))}
    </p>
  )
}
