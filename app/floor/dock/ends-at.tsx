'use client'
// A process that ends by itself: acid out at 11:00. Whoever sets it has somebody there at that minute in each draw-up.
import { useState } from 'react'
import { openSteps, type PieceTag } from '#lib/views'
import { Button, Dialog, Select, TextField } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import type { FloorAt } from '../use-floor.ts'

/** The button and its form; nothing for a piece without an open step. */
export function EndsAt({ at, piece }: { readonly at: FloorAt; readonly piece: PieceTag }) {
  const { attempt, problem, clear } = useTry()
  const [isOpen, setOpen] = useState(false)
  const steps = openSteps(at.records, piece.pieceId)
  const [wanted, setWanted] = useState('')
  const [time, setTime] = useState('')
  const [despite, setDespite] = useState('')
  const step = steps.find(({ id }) => id === wanted) ?? steps.find(({ endsAt }) => endsAt) ?? steps[0]
  if (!step) return null
  const set = (endsAt: { readonly date: string; readonly time: string; readonly despite?: string } | null) => {
    if (attempt({ kind: 'setClock', stepId: step.id, endsAt })) setOpen(false)
  }
  return (
    <>
      <Button
        mark="clock"
        aria-haspopup="dialog"
        onClick={() => {
          clear()
          setTime(step.endsAt?.time ?? '')
          setDespite(step.endsAt?.despite ?? '')
          setOpen(true)
        }}
      >
        Ends at…
      </Button>
      <Dialog
        isOpen={isOpen}
        width="narrow"
        title={
          <>
            What of <span className="inked">{piece.number}</span> ends by itself
          </>
        }
        onClose={() => setOpen(false)}
        actions={
          <>
            {step.endsAt ? (
              <Button kind="quiet" onClick={() => set(null)}>
                Nothing ends
              </Button>
            ) : null}
            <Button
              kind="ink"
              disabled={!/^\d\d:\d\d$/.test(time)}
              onClick={() =>
                set({ date: at.date, time, ...(despite.trim() === '' ? {} : { despite: despite.trim() }) })
              }
            >
              Note it
            </Button>
          </>
        }
      >
        <div className="flex flex-col gap-4">
          <Select
            label="Step"
            value={step.id as string}
            onValue={setWanted}
            choices={steps.map((one) => ({ value: one.id as string, label: one.title }))}
          />
          <TextField
            label="Ends at"
            hint="Somebody who may do this step will have a turn on the piece then."
            type="time"
            value={time}
            onChange={(event) => setTime(event.target.value)}
            problem={problem}
          />
          {problem === undefined && despite === '' ? null : (
            <TextField
              label="Why it may end with nobody there"
              hint="Stands with the clock. Local rules and the safety officer decide what may run alone."
              value={despite}
              maxLength={240}
              onChange={(event) => setDespite(event.target.value)}
            />
          )}
        </div>
      </Dialog>
    </>
  )
}
