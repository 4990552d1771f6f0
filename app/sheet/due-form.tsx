'use client'
// A date: set by the manager, asked for by others, or moved.
import { useState } from 'react'
import { addDays } from '#lib/base'
import type { DueId, RecordOf } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, Check, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, sayDueKind } from '../_text/index.ts'
import { PromiseLine } from '../due/promise-line.tsx'
import type { SheetAt } from './sheet-at.ts'

const dueKinds = ['exhibit', 'loan', 'visit', 'thesis', 'own'] as const

export type DueFormProps = {
  readonly at: SheetAt
  /** The date that is moved; null for a new one. */
  readonly due: RecordOf<'due'> | null
  readonly onDone: () => void
}

/** The form. */
export function DueForm({ at, due, onDone }: DueFormProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [date, setDate] = useState(due?.date ?? addDays(at.today, 28))
  const [kind, setKind] = useState<(typeof dueKinds)[number]>(due?.kind ?? (at.role === 'researcher' ? 'visit' : 'own'))
  const [isHard, setHard] = useState(due?.isHard ?? false)
  const [note, setNote] = useState('')
  const act = () => {
    const done = due
      ? attempt({ kind: 'moveDue', dueId: due.id, date, isHard })
      : attempt({
          kind: 'askDue',
          dueId: newId() as DueId,
          pieceId: at.sheet.id,
          date,
          dueKind: kind,
          isHard,
          note: note.trim(),
        })
    if (done) onDone()
  }
  return (
    <ActForm
      act={due ? 'Move it' : at.isManager ? 'Set it' : 'Ask for it'}
      problem={problem}
      isOff={date === ''}
      onAct={act}
    >
      <TextField
        label="Ready by"
        type="date"
        value={date}
        min={at.today}
        onChange={(event) => setDate(event.target.value)}
      />
      <PromiseLine pieceId={at.sheet.id} date={date} today={at.today} />
      {due ? null : (
        <Select
          label="For"
          value={kind}
          onValue={(value) => setKind(dueKinds.find((one) => one === value) ?? 'own')}
          choices={dueKinds.map((one) => ({ value: one, label: capital(sayDueKind(one)) }))}
        />
      )}
      <Check label="It cannot move" note="an opening, a flight, a defence" isOn={isHard} onToggle={setHard} />
      {due ? null : (
        <TextField label="What for" value={note} maxLength={240} onChange={(event) => setNote(event.target.value)} />
      )}
      {due || at.isManager ? null : <p className="text-umber">The manager accepts or declines it.</p>}
    </ActForm>
  )
}
