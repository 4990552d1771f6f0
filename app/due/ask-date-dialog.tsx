'use client'
// A date for a piece: set by the manager, asked for by everybody else. The chance is said before one asks.
import { useMemo, useState } from 'react'
import type { DueId, RecordOf, Records } from '#lib/words'
import { useBoard, useNewId, useWho } from '../_board/index.ts'
import { Button, Check, Dialog, Notice, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayDueKind } from '../_text/index.ts'
import { PromiseLine } from './promise-line.tsx'

type AskDateDialogProps = {
  readonly isOpen: boolean
  readonly onClose: () => void
  readonly today: string
}

const dueKinds: readonly RecordOf<'due'>['kind'][] = ['exhibit', 'loan', 'visit', 'thesis', 'own']

/** The dialog. */
export function AskDateDialog({ isOpen, onClose, today }: AskDateDialogProps) {
  const { attempt, problem } = useTry()
  const newId = useNewId()
  const who = useWho()
  const isManager = who?.role === 'manager'
  const pieces = useBoard(specimensAndJackets)
  const followed = useBoard((records) =>
    [...records.watch.values()].flatMap((one) => (one.personId === who?.personId ? [one.pieceId] : [])),
  )
  // What one follows stands first: a lab's list is long.
  const choices = useMemo(() => {
    const isFirst = (one: { readonly value: string }) => followed.some((id) => id === one.value)
    const [first, rest] = [pieces.filter(isFirst), pieces.filter((one) => !isFirst(one))]
    return [{ value: '', label: 'Which piece?' }, ...first, ...rest]
  }, [pieces, followed])
  const [pieceId, setPieceId] = useState('')
  const [date, setDate] = useState('')
  const [dueKind, setDueKind] = useState<RecordOf<'due'>['kind']>('visit')
  const [isHard, setHard] = useState(false)
  const [note, setNote] = useState('')
  const ask = () => {
    const piece = pieces.find((one) => one.value === pieceId)
    if (!piece) return
    const isDone = attempt({
      kind: 'askDue',
      // A fresh id is plain text until the record takes it in.
      dueId: newId() as DueId,
      pieceId: piece.value,
      date,
      dueKind,
      isHard,
      note: note.trim(),
    })
    if (!isDone) return
    setPieceId('')
    setDate('')
    setNote('')
    onClose()
  }
  return (
    <Dialog
      isOpen={isOpen}
      title={isManager ? 'Set a date' : 'Ask for a date'}
      onClose={onClose}
      actions={
        <Button kind="ink" size="action" disabled={pieceId === '' || date === ''} onClick={ask}>
          {isManager ? 'Set it' : 'Ask'}
        </Button>
      }
    >
      <div className="flex flex-col gap-4">
        <Select label="Piece" value={pieceId} choices={choices} onValue={setPieceId} />
        <TextField
          label="Ready by"
          type="date"
          min={today}
          value={date}
          onChange={(event) => setDate(event.target.value)}
        />
        {isOpen ? <PromiseLine pieceId={pieceId} date={date} today={today} /> : null}
        <Select
          label="For"
          value={dueKind}
          choices={dueKinds.map((kind) => ({ value: kind, label: sayDueKind(kind) }))}
          onValue={(value) => setDueKind(dueKinds.find((kind) => kind === value) ?? 'own')}
        />
        <Check label="The date cannot move" isOn={isHard} onToggle={setHard} />
        <TextField label="What for, in a line" value={note} onChange={(event) => setNote(event.target.value)} />
        {isManager ? null : (
          <p className="text-small text-umber">The manager accepts or declines; you will see it here.</p>
        )}
        {problem === undefined ? null : (
          <Notice kind="error" kept={note}>
            {problem}
          </Notice>
        )}
      </div>
    </Dialog>
  )
}

function specimensAndJackets(records: Records) {
  const specimens = [...records.specimen.values()]
    .filter((one) => one.stage !== 'released')
    .map((one) => ({ value: one.id, label: `${one.number} ${one.name}` }))
  const jackets = [...records.jacket.values()]
    .filter((one) => one.state !== 'empty')
    .map((one) => ({ value: one.id, label: `${one.fieldNumber} ${one.contents}` }))
  const byLabel = (a: { readonly label: string }, b: { readonly label: string }) => (a.label < b.label ? -1 : 1)
  return [...specimens.sort(byLabel), ...jackets.sort(byLabel)]
}
