'use client'
// Writing into the record, and correcting what stands there: a correction is a new entry, the old one stays.
import { useState } from 'react'
import { doneAt, doneBy, type Written } from '#lib/views'
import type { RecordOf, TechniqueId } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, NumberField, Select, TextArea } from '../_parts/controls/index.ts'
import { later } from '../_shell/later.tsx'
import { useTry } from '../_shell/use-try.ts'
import { useTyped } from '../_shell/use-typed.ts'
import { momentOf, nameOf, type SheetAt, techniqueName } from './sheet-at.ts'
import { askedOf, batchOf, detailOf, type Form, formOf, keepsOf } from './treatment/form.ts'
import { isLog, sayEntryKind, sayLog, writableKinds } from './words.ts'

const TreatmentFields = later(async () => (await import('./treatment/fields.tsx')).TreatmentFields)

export type WriteFormProps = {
  readonly at: SheetAt
  readonly onDone: () => void
  /** Words to begin with: those of the shared note. */
  readonly begin?: string
}

/** A new entry. */
export function WriteForm({ at, onDone, begin = '' }: WriteFormProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  // Half an entry survives a reload and an empty battery: the whole form is kept on this device until it was added.
  // Words of the shared note are kept in that note, and an older half entry must not stand in their place.
  const own = useTyped(`write.${at.sheet.id}`)
  const [shared, setShared] = useState('')
  const [raw, keep, clear] = begin === '' ? own : ([shared, setShared, () => setShared('')] as const)
  const form = formOf(raw, begin)
  const { kind, techniqueId, text } = form
  const set = (more: Partial<Form>) => keep(keepsOf({ ...form, ...more }))
  const detail = detailOf(form)
  const batchId = batchOf(form)
  const asked = askedOf(at.records, at.sheet.id, form, at.today)
  const techniques = at.records.lab.get('lab')?.techniques ?? []
  return (
    <ActForm
      act="Add it"
      problem={problem}
      isOff={text.trim() === '' || detail === 'wrong' || (asked.length > 0 && form.despite.trim() === '')}
      onAct={() => {
        if (detail === 'wrong') return
        const done = attempt({
          kind: 'write',
          entryId: newId(),
          pieceId: at.sheet.id,
          entryKind: kind,
          techniqueId: techniqueId === '' ? null : (techniqueId as TechniqueId),
          text: text.trim(),
          ...(detail && { detail }),
          ...(batchId !== undefined && { batchId }),
          ...(asked.length > 0 && { despite: form.despite.trim() }),
        })
        if (!done) return
        clear()
        onDone()
      }}
    >
      <TextArea
        label="What was done, used or seen"
        hint="Material, concentration, solvent, how and where on the piece."
        rows={5}
        value={text}
        onChange={(event) => set({ text: event.target.value })}
      />
      <div className="grid gap-4 tablet:grid-cols-2">
        <Select
          label="Kind"
          value={kind}
          onValue={(value) => set({ kind: writableKinds.find((one) => one === value) ?? 'note' })}
          choices={writableKinds.map((one) => ({ value: one, label: sayEntryKind(one) }))}
        />
        <Select
          label="Technique"
          value={techniqueId}
          onValue={(value) => set({ techniqueId: value, moved: '' })}
          choices={[
            { value: '', label: 'none in particular' },
            ...techniques.map((one) => ({ value: one.id as string, label: one.name })),
          ]}
        />
      </div>
      <TreatmentFields at={at} form={form} set={set} />
    </ActForm>
  )
}

export type CorrectFormProps = { readonly at: SheetAt; readonly written: Written; readonly onDone: () => void }

/** A correction of a log or an entry. */
export function CorrectForm({ at, written, onDone }: CorrectFormProps) {
  return (
    <div className="flex flex-col gap-4">
      <div className="border-l border-line pl-3 text-wash">
        <p className="text-small">
          {nameOf(at, doneBy(written))}, {momentOf(at, doneAt(written))}. This stays; your correction hangs under it.
        </p>
        <p className="whitespace-pre-wrap">
          {isLog(written)
            ? `${sayLog(written.record, techniqueName(at, written.record.techniqueId))}. ${written.record.note}`
            : written.record.text}
        </p>
      </div>
      {isLog(written) ? (
        <CorrectLog at={at} log={written.record} onDone={onDone} />
      ) : (
        <CorrectEntry at={at} entry={written.record} onDone={onDone} />
      )}
    </div>
  )
}

function CorrectEntry({ at, entry, onDone }: PartProps & { readonly entry: RecordOf<'entry'> }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [text, setText] = useState('')
  return (
    <ActForm
      act="Correct it"
      problem={problem}
      isOff={text.trim() === ''}
      onAct={() => {
        const body = { entryId: newId(), corrects: entry.id, pieceId: at.sheet.id, text: text.trim() }
        if (attempt({ kind: 'correctEntry', ...body })) onDone()
      }}
    >
      <TextArea label="What is right" value={text} onChange={(event) => setText(event.target.value)} />
    </ActForm>
  )
}

function CorrectLog({ at, log, onDone }: PartProps & { readonly log: RecordOf<'log'> }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [minutes, setMinutes] = useState<number | undefined>(log.minutes)
  // What was stated is private and not on the Sheet: left blank, it stays.
  const [running, setRunning] = useState<number | undefined>()
  const [note, setNote] = useState(log.note)
  return (
    <ActForm
      act="Correct it"
      problem={problem}
      isOff={minutes === undefined}
      onAct={() => {
        const done = attempt({
          kind: 'correctLog',
          logId: newId(),
          corrects: log.id,
          pieceId: at.sheet.id,
          minutes: Math.round(minutes ?? 0),
          runningMinutes: running === undefined ? null : Math.round(running),
          note: note.trim(),
        })
        if (done) onDone()
      }}
    >
      <div className="grid grid-cols-2 gap-4">
        <NumberField label="At the bench" unit="min" min={0} max={1440} value={minutes} onValue={setMinutes} />
        <NumberField
          label="Tool in hand"
          hint="Blank: as it was stated."
          unit="min"
          min={0}
          max={1440}
          value={running}
          onValue={setRunning}
        />
      </div>
      <TextArea label="Note" value={note} onChange={(event) => setNote(event.target.value)} />
    </ActForm>
  )
}

type PartProps = { readonly at: SheetAt; readonly onDone: () => void }
