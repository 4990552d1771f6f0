'use client'
// Finishing in ten seconds: the minutes are counted, the tool's minutes guessed from the technique, the shelf is where
// it was. One note, one tick, one press.
import { useEffect, useState } from 'react'
import { askedOfUse } from '#lib/rules'
import { type MyTurn, minutesAtWork } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { Button, Check, Dialog, Notice, NumberField, Select, TextArea, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { useTyped } from '../_shell/use-typed.ts'
import { sayMinutes } from '../_text/index.ts'
import { Asked } from '../batches/asked.tsx'
import { ChooseBatch } from '../batches/choose-batch.tsx'
import { DraftPhoto, useDrafts } from '../sheet/photos/draft-photo.tsx'
import { Speak } from './speak.tsx'

type FinishDialogProps = {
  readonly records: Records
  readonly turn: MyTurn
  readonly work: RecordOf<'work'>
  readonly nowMs: number
  readonly isOpen: boolean
  readonly onClose: () => void
  readonly onDone: (words: string) => void
}

/** The dialog. */
export function FinishDialog({ records, turn, work, nowMs, isOpen, onClose, onDone }: FinishDialogProps) {
  const { attempt, problem } = useTry()
  const newId = useNewId()
  const clocked = minutesAtWork(work, nowMs)
  const [minutes, setMinutes] = useState<number | undefined>(clocked)
  const [running, setRunning] = useState<number | undefined>(0)
  const [shelf, setShelf] = useState('')
  const [stepDone, setStepDone] = useState(false)
  const [note, type, clear] = useTyped(`finish.${work.id}`)
  const [batchId, setBatch, clearBatch] = useTyped(`batch.${work.id}`)
  const [despite, setDespite, clearDespite] = useTyped(`despite.${work.id}`)
  const [moved, setMoved, clearMoved] = useTyped(`moved.${work.id}`)
  const { drafts, send } = useDrafts(`finish.${work.id}`)
  const { technique, piece, step } = turn
  const puts = putsOn(technique)
  const isPut = puts.length > 0 && batchId !== ''
  const isSoakedIn = technique.group === 'consolidating'
  const asked = isPut ? askedOfUse(records, { pieceId: piece.id, batchId, isSoakedIn, on: turn.assignment.date }) : []
  const isPowered = technique.runningPct > 0

  // The figures are those of the moment it was opened: a clock that moves under a pen only confuses.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  useEffect(() => {
    if (!isOpen) return
    setMinutes(clocked)
    setRunning(Math.round((clocked * technique.runningPct) / 100))
    setShelf(piece.shelf)
    setStepDone(false)
  }, [isOpen])

  const finish = () => {
    const logId = newId()
    const isDone = attempt({
      kind: 'finish',
      workId: work.id,
      logId,
      minutes: minutes === clocked ? null : (minutes ?? null),
      runningMinutes: isPowered ? Math.round(running ?? 0) : 0,
      note: note.trim(),
      ...(moved === '' || technique.force === null ? {} : { movedRock: moved === 'yes' }),
      ...(isPut ? { batchId, ...(asked.length > 0 && { despite: despite.trim() }) } : {}),
      stepDone,
      shelf: shelf.trim() === piece.shelf ? null : shelf.trim(),
    })
    if (!isDone) return
    send({ said: { entryId: logId } })
    clear()
    clearMoved()
    clearBatch()
    clearDespite()
    const photo = drafts.length === 0 ? '' : ' The photograph is on its way.'
    onDone(
      `${stepDone ? 'Step finished' : 'Finished'}, ${sayMinutes(minutes ?? clocked)}. It is in the record.${photo}`,
    )
  }

  return (
    <Dialog
      isOpen={isOpen}
      title="Finish"
      onClose={onClose}
      actions={
        <Button
          kind="ink"
          size="action"
          mark="finish"
          disabled={minutes === undefined || (asked.length > 0 && despite.trim() === '')}
          onClick={finish}
        >
          Keep it
        </Button>
      }
    >
      <div className="flex flex-col gap-4">
        <div className="flex gap-3">
          <NumberField
            label="At the bench"
            unit="min"
            min={0}
            max={1440}
            step={1}
            value={minutes}
            onValue={(value) => setMinutes(value === undefined ? undefined : Math.round(value))}
          />
          {isPowered ? (
            <NumberField
              label="Tool in the hand"
              unit="min"
              min={0}
              max={1440}
              step={1}
              value={running}
              onValue={setRunning}
            />
          ) : null}
        </div>
        <TextArea
          label="How did it go?"
          rows={3}
          value={note}
          onChange={(event) => type(event.target.value)}
          hint="One line is enough: what you freed, what you saw, what to mind."
        />
        <Speak onHeard={(words) => type(note === '' ? words : `${note} ${words}`)} />
        {puts.length === 0 ? null : (
          <ChooseBatch records={records} of={puts} value={batchId} none="nothing, or not said" onValue={setBatch} />
        )}
        <Asked records={records} asked={asked} despite={despite} onDespite={setDespite} />
        <DraftPhoto form={`finish.${work.id}`} pieceId={piece.id} view="detail" word="Take a photograph" />
        {technique.force === null ? null : (
          <Select
            label={`Did ${technique.name.toLowerCase()} move the rock?`}
            value={moved}
            onValue={setMoved}
            choices={[
              { value: '', label: 'not said' },
              { value: 'yes', label: 'It moved the rock' },
              { value: 'no', label: 'It did not' },
            ]}
          />
        )}
        <Check label={`“${step.title}” is done`} isOn={stepDone} onToggle={setStepDone} />
        <TextField label="Put away at" value={shelf} onChange={(event) => setShelf(event.target.value)} />
        {problem === undefined ? null : (
          <Notice kind="error" kept={note}>
            {problem}
          </Notice>
        )}
      </div>
    </Dialog>
  )
}

/** What a technique puts on a piece: nothing for those that take something off. */
function putsOn({ group, needs }: MyTurn['technique']): readonly RecordOf<'material'>['what'][] {
  if (group === 'consolidating') return ['resin']
  if (group === 'joining') return ['resin', 'adhesive', 'gap filler']
  return needs.includes('acid tank') ? ['acid'] : []
}
