'use client'
// Whether one is in: late, away, gone, with one tap; and handing a claimed piece back. Whoever has a seat says "I am in"
// in the dock, where the thumb is.
import { useState } from 'react'
import { minuteOf, timeOfMinute } from '#lib/base'
import type { MyShift } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { useNow } from '../_board/index.ts'
import { Button, Dialog, Notice, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayComing } from './say-coming.ts'

type ComingProps = {
  readonly mine: MyShift
  readonly personId: RecordOf<'person'>['id']
  readonly date: string
  readonly isSeated: boolean
}

/** The line about being in. */
export function Coming({ mine, personId, date, isSeated }: ComingProps) {
  const { attempt, problem } = useTry()
  const [isLate, setLate] = useState(false)
  if (mine.shift === null || mine.phase === 'over') return null
  const shiftId = mine.shift.id
  const state = mine.attendance?.state ?? null
  const tick = (to: RecordOf<'attendance'>['state'] | null, dueAt: string | null = null) =>
    attempt({ kind: 'attend', personId, date, shiftId, state: to, dueAt })
  const claim = mine.turn !== null && mine.turn.assignment.how === 'claimed' && mine.turn.work === null
  return (
    <section className="mt-4 mb-2" aria-label="Are you in?">
      {isSeated || state === 'away' || state === 'left' ? null : (
        <p className="mb-2 text-small text-umber">{sayComing(mine.attendance)}</p>
      )}
      <div className="flex flex-wrap gap-2.5">
        {state === 'in' || isSeated ? null : (
          <Button mark="person" onClick={() => tick('in')}>
            I am in
          </Button>
        )}
        {mine.phase === 'before' || (mine.phase === 'now' && state !== 'in') ? (
          <Button mark="late" onClick={() => setLate(true)}>
            I come later
          </Button>
        ) : null}
        {state === 'in' ? (
          <Button mark="away" onClick={() => tick('left')}>
            I leave now
          </Button>
        ) : state === 'away' ? null : (
          <Button mark="away" onClick={() => tick('away')}>
            I cannot come
          </Button>
        )}
        {claim && mine.turn ? <HandBack assignmentId={mine.turn.assignment.id} isSeated={isSeated} /> : null}
      </div>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <LateDialog
        isOpen={isLate}
        start={mine.shift.start}
        onClose={() => setLate(false)}
        onLate={(dueAt) => {
          tick('late', dueAt)
          setLate(false)
        }}
      />
    </section>
  )
}

function HandBack({ assignmentId, isSeated }: { readonly assignmentId: string; readonly isSeated: boolean }) {
  const { attempt, problem } = useTry()
  if (!isSeated) return null
  return (
    <>
      <Button mark="undo" onClick={() => attempt({ kind: 'unclaim', assignmentId })}>
        Hand it back
      </Button>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </>
  )
}

type LateDialogProps = {
  readonly isOpen: boolean
  readonly start: string
  readonly onClose: () => void
  readonly onLate: (dueAt: string) => void
}

function LateDialog({ isOpen, start, onClose, onLate }: LateDialogProps) {
  const now = useNow(60_000)
  const soon = timeOfMinute(Math.min(1435, Math.ceil((Math.max(now.minute, minuteOf(start)) + 30) / 15) * 15))
  const [time, setTime] = useState<string | null>(null)
  const value = time ?? soon
  return (
    <Dialog
      isOpen={isOpen}
      title="When will you be here?"
      onClose={onClose}
      width="narrow"
      actions={
        <Button kind="ink" size="action" disabled={!/^\d\d:\d\d$/.test(value)} onClick={() => onLate(value)}>
          Say so
        </Button>
      }
    >
      <TextField label="About" type="time" value={value} onChange={(event) => setTime(event.target.value)} />
      <p className="pt-2 text-small text-umber">Your seat is kept unless the manager draws up again.</p>
    </Dialog>
  )
}
