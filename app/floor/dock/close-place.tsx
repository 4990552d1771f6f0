'use client'
// Takes a place out of use until a day, with the reason everybody will read on it.
import { useState } from 'react'
import { addDays } from '#lib/base'
import type { RecordOf } from '#lib/words'
import { Button, Dialog, TextField } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'

/** A button that asks until when and why. */
export function ClosePlace({ place, today }: { readonly place: RecordOf<'place'>; readonly today: string }) {
  const { attempt, problem } = useTry()
  const [isOpen, setOpen] = useState(false)
  const [until, setUntil] = useState('')
  const [reason, setReason] = useState('')
  return (
    <>
      <Button
        aria-haspopup="dialog"
        onClick={() => {
          setUntil(addDays(today, 1))
          setReason('')
          setOpen(true)
        }}
      >
        Out of use…
      </Button>
      <Dialog
        isOpen={isOpen}
        width="narrow"
        title={`${place.code} out of use`}
        onClose={() => setOpen(false)}
        actions={
          <Button
            kind="ink"
            disabled={until === ''}
            onClick={() => {
              if (attempt({ kind: 'closePlace', placeId: place.id, until, reason })) setOpen(false)
            }}
          >
            Take it out of use
          </Button>
        }
      >
        <div className="flex flex-col gap-4">
          <TextField
            label="In use again on"
            type="date"
            min={addDays(today, 1)}
            value={until}
            onChange={(event) => setUntil(event.target.value)}
            problem={problem}
          />
          <TextField label="Why" value={reason} onChange={(event) => setReason(event.target.value)} />
        </div>
      </Dialog>
    </>
  )
}
