'use client'
// Something has ended: what was seen goes into the record, and what comes after it begins at once, with its own end.
import { useState } from 'react'
import { timeOfMinute } from '#lib/base'
import type { Clock, Records } from '#lib/words'
import { useNewId, useNow } from '../_board/index.ts'
import { ActForm, Button, TextArea, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { useTyped } from '../_shell/use-typed.ts'
import { capital, sayClockWhat, sayEnded } from '../_text/index.ts'
import { EndFields, isLabTime, isTended } from './end-fields.tsx'
import { endToOffer } from './plan.ts'

type ClockFormProps = { readonly records: Records; readonly clock: Readonly<Clock>; readonly onDone: () => void }

/** The form of its end. */
export function EndForm({ records, clock, onDone }: ClockFormProps) {
  const newId = useNewId()
  const now = useNow(60_000)
  const { attempt, problem } = useTry()
  const [seen, setSeen, clear] = useTyped(`clock.${clock.id}`)
  const [at, setAt] = useState('')
  const [typed, setTyped] = useState<{ date: string; time: string } | null>(null)
  const [despite, setDespite] = useState('')
  const { techniqueId } = clock
  const [next] = clock.next
  const ended = { date: now.date, time: at === '' ? timeOfMinute(now.minute) : at }
  const ends = next ? (typed ?? endToOffer(records, techniqueId, next.what, ended, next.minutes)) : null
  const isGood = ends === null || (isLabTime(ends) && (isTended(records, techniqueId, ends) || despite.trim() !== ''))
  return (
    <ActForm
      act={next ? `It ended; ${next.what} begins` : 'It ended'}
      problem={problem}
      isOff={!isGood}
      onAct={() => {
        const text = [sayEnded(clock, ended), seen.trim()].filter((one) => one !== '').join(' ')
        const reason = ends === null || isTended(records, techniqueId, ends) ? '' : despite.trim()
        const ids = { clockId: clock.id, pieceId: clock.pieceId, entryId: newId() }
        if (!attempt({ kind: 'endClock', ...ids, text, ended, ends, despite: reason })) return
        clear()
        onDone()
      }}
    >
      <p>{sayEnded(clock, ended)}</p>
      <TextField
        label="Ended at"
        type="time"
        value={ended.time}
        onChange={(event) => setAt(event.target.value)}
        hint="Today."
      />
      <TextArea
        label="What was seen"
        hint="Goes into the treatment record behind the times."
        value={seen}
        onChange={(event) => setSeen(event.target.value)}
      />
      {next && ends ? (
        <EndFields
          {...{ records, techniqueId, despite }}
          label={`${capital(next.what)} ends`}
          today={now.date}
          value={ends}
          onValue={setTyped}
          onDespite={setDespite}
        />
      ) : null}
    </ActForm>
  )
}

/** The form of another end. */
export function MoveForm({ records, clock, onDone }: ClockFormProps) {
  const now = useNow(60_000)
  const { attempt, problem } = useTry()
  const [ends, setEnds] = useState<{ date: string; time: string }>(clock.ends)
  const [despite, setDespite] = useState(clock.despite)
  const isAlone = !isTended(records, clock.techniqueId, ends)
  return (
    <ActForm
      act="Move it"
      problem={problem}
      isOff={!isLabTime(ends) || (isAlone && despite.trim() === '')}
      onAct={() => {
        const body = { clockId: clock.id, ends, despite: isAlone ? despite.trim() : '' }
        if (attempt({ kind: 'moveClock', ...body })) onDone()
      }}
    >
      <EndFields
        {...{ records, despite }}
        techniqueId={clock.techniqueId}
        label={`${sayClockWhat(clock)} ends`}
        today={now.date}
        value={ends}
        onValue={setEnds}
        onDespite={setDespite}
      />
      <Button
        kind="quiet"
        onClick={() => {
          if (attempt({ kind: 'dropClock', clockId: clock.id })) onDone()
        }}
      >
        Entered wrongly: take it off
      </Button>
    </ActForm>
  )
}
