'use client'
// What an entry says beside its words, by its kind: a jar for what was put on, a tool for what was taken off, who agreed
// to what was decided.
import { Select, TextField } from '../../_parts/controls/index.ts'
import { conventions } from '../../_text/index.ts'
import { Asked } from '../../batches/asked.tsx'
import { ChooseBatch } from '../../batches/choose-batch.tsx'
import { type SheetAt, techniqueIn } from '../sheet-at.ts'
import { askedOf, detailOf, type Form, withJar } from './form.ts'

type FieldsProps = {
  readonly at: SheetAt
  readonly form: Form
  readonly set: (more: Partial<Form>) => void
}

const withTool: readonly Form['kind'][] = ['treatment', 'test patch']

/** The fields of the kind chosen. */
export function TreatmentFields({ at, form, set }: FieldsProps) {
  const line = (key: keyof Form, label: string) => (
    <TextField
      label={label}
      maxLength={120}
      value={form[key]}
      onChange={(event) => set({ [key]: event.target.value })}
    />
  )
  const number = (key: keyof Form, label: string, unit: string) => (
    <TextField
      label={label}
      unit={unit}
      inputMode="decimal"
      value={form[key]}
      onChange={(event) => set({ [key]: event.target.value.replace(',', '.').trim() })}
    />
  )
  const technique = techniqueIn(at, form.techniqueId)
  const staff = [...at.records.person.values()].filter((one) => one.isActive)
  const isJar = withJar.includes(form.kind)
  return (
    <>
      <div className="grid gap-4 tablet:grid-cols-2">
        {isJar ? (
          <ChooseBatch
            records={at.records}
            of={['resin', 'adhesive', 'gap filler', 'acid']}
            value={form.batchId}
            none="no batch of the lab"
            onValue={(batchId) => set({ batchId })}
          />
        ) : null}
        {form.kind === 'note' ? null : line('area', 'Where on the piece')}
        {withTool.includes(form.kind) ? line('tool', 'Tool') : null}
        {withTool.includes(form.kind) ? line('setting', 'Setting') : null}
        {isJar && form.batchId === '' ? line('material', 'Material and solvent') : null}
        {isJar && form.batchId === '' ? line('batch', 'Batch') : null}
        {isJar && form.batchId === '' ? number('amount', 'Strength', '') : null}
        {isJar && form.batchId === '' ? (
          <Select
            label="Strength counts"
            value={form.convention}
            onValue={(value) => set({ convention: value })}
            choices={Object.entries(conventions).map(([value, label]) => ({ value, label }))}
          />
        ) : null}
        {technique && technique.force !== null ? (
          <Select
            label="Did it move the rock?"
            value={form.moved}
            onValue={(value) => set({ moved: value })}
            choices={[
              { value: '', label: 'not said' },
              { value: 'yes', label: 'It moved the rock' },
              { value: 'no', label: 'It did not' },
            ]}
          />
        ) : null}
        {form.kind === 'decision' ? (
          <Select
            label="Who agreed"
            value={form.agreed}
            onValue={(value) => set({ agreed: value })}
            choices={[
              { value: '', label: 'nobody else' },
              ...staff.map((one) => ({ value: one.id as string, label: one.name })),
            ]}
          />
        ) : null}
        {detailOf(form) === 'wrong' ? (
          <p className="text-small">A figure or a line cannot be read: a strength is a number above nothing.</p>
        ) : null}
      </div>
      <Asked
        records={at.records}
        asked={askedOf(at.records, at.sheet.id, form, at.today)}
        despite={form.despite}
        onDespite={(despite) => set({ despite })}
      />
    </>
  )
}
