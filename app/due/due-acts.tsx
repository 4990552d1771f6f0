'use client'
// What the manager may do with a date: answer a request, move it, say that it was met or that nobody waits any more.
import { useState } from 'react'
import type { DueRow } from '#lib/views'
import { useWho } from '../_board/index.ts'
import { Button, Notice } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { MoveDateDialog } from './move-date-dialog.tsx'

/** The acts of one row; nothing for anybody else. */
export function DueActs({ row, today }: { readonly row: DueRow; readonly today: string }) {
  const role = useWho()?.role
  const { attempt, problem } = useTry()
  const [isMoving, setMoving] = useState(false)
  if (role !== 'manager') return null
  const { due } = row
  return (
    <>
      <div className="-ml-2 flex flex-wrap gap-1">
        {due.state === 'asked' ? (
          <>
            <Button mark="tick" onClick={() => attempt({ kind: 'answerDue', dueId: due.id, accept: true })}>
              Accept
            </Button>
            <Button onClick={() => attempt({ kind: 'answerDue', dueId: due.id, accept: false })}>Decline</Button>
          </>
        ) : (
          <>
            <Button kind="quiet" onClick={() => setMoving(true)} aria-label={`Move the date of ${row.number}`}>
              Move
            </Button>
            <Button
              kind="quiet"
              onClick={() => attempt({ kind: 'endDue', dueId: due.id, state: 'met' })}
              aria-label={`${row.number}: date met`}
            >
              Met
            </Button>
            <Button
              kind="quiet"
              onClick={() => attempt({ kind: 'endDue', dueId: due.id, state: 'dropped' })}
              aria-label={`Drop the date of ${row.number}`}
            >
              Drop
            </Button>
          </>
        )}
      </div>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <MoveDateDialog row={row} today={today} isOpen={isMoving} onClose={() => setMoving(false)} />
    </>
  )
}
