'use client'
// A date moved by hand, with the chance it would have: what one asks before one promises.
import { useState } from 'react'
import type { DueRow } from '#lib/views'
import { Button, Check, Dialog, Notice, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { PromiseLine } from './promise-line.tsx'

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
        {isOpen ? <PromiseLine pieceId={row.due.pieceId} date={date} today={today} /> : null}
        <Check label="It cannot move again" isOn={isHard} onToggle={setHard} />
        {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      </div>
    </Dialog>
  )
}
