'use client'
// One material of the list: what it is, what it is allowed for and since which test, what it goes into.
import { useState } from 'react'
import { allowances, Material as MaterialSchema, type RecordOf } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, Check, NumberField, Select, TextField } from '../_parts/controls/index.ts'
import { useKeptForm } from '../_shell/kept-form.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, sayAllowance } from '../_text/index.ts'
import type { CrewAt } from '../crew/use-crew-at.ts'

const whats = MaterialSchema.shape.what.options

type Props = {
  readonly at: CrewAt
  readonly material: RecordOf<'material'> | null
  readonly onDone: () => void
}

/** The form, kept on this device until it was kept by the lab. */
export function MaterialForm({ at, material, onDone }: Props) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [blank] = useState(() => ({
    name: material?.name ?? '',
    what: (material?.what ?? 'resin') as string,
    allowedFor: (material?.allowedFor ?? []) as readonly string[],
    testedOn: material?.testedOn ?? '',
    testedLot: material?.testedLot ?? '',
    testNote: material?.testNote ?? '',
    densityGMl: (material?.densityGMl ?? undefined) as number | undefined,
    solventIds: (material?.solventIds ?? []) as readonly string[],
    note: material?.note ?? '',
    isActive: material?.isActive ?? true,
  }))
  const { form, set, clear } = useKeptForm(`material.${material?.id ?? 'new'}`, blank)
  const what = whats.find((one) => one === form.what) ?? 'resin'
  const isSolid = what !== 'solvent' && what !== 'acid'
  const solvents = [...at.records.material.values()].filter((one) => one.what === 'solvent' && one.isActive)
  const toggled = (list: readonly string[], one: string, isOn: boolean) =>
    isOn ? [...list.filter((other) => other !== one), one] : list.filter((other) => other !== one)
  return (
    <ActForm
      act="Keep it"
      problem={problem === undefined ? undefined : `Not kept. ${problem} What you typed is still here.`}
      isOff={form.name.trim() === ''}
      onAct={() => {
        const done = attempt({
          kind: 'setMaterial',
          material: {
            id: material?.id ?? newId(),
            name: form.name.trim(),
            what,
            allowedFor: isSolid ? allowances.filter((one) => form.allowedFor.includes(one)) : [],
            testedOn: form.testedOn === '' ? null : form.testedOn,
            testedLot: form.testedLot.trim(),
            testNote: form.testNote.trim(),
            densityGMl: form.densityGMl ?? null,
            solventIds:
              what === 'solvent' ? [] : solvents.map(({ id }) => id).filter((id) => form.solventIds.includes(id)),
            isActive: form.isActive,
            note: form.note.trim(),
          },
        })
        if (!done) return
        clear()
        onDone()
      }}
    >
      <TextField
        label="Name"
        maxLength={120}
        value={form.name}
        onChange={(event) => set({ name: event.target.value })}
      />
      <div className="grid gap-4 tablet:grid-cols-2">
        {material ? null : (
          <Select
            label="What it is"
            value={what}
            onValue={(value) => set({ what: value })}
            choices={whats.map((one) => ({ value: one, label: capital(one) }))}
          />
        )}
        <NumberField
          label="Density"
          unit="g/ml"
          min={0}
          step="any"
          hint="From its data sheet; needed where volumes and weights meet."
          value={form.densityGMl}
          onValue={(densityGMl) => set({ densityGMl })}
        />
      </div>
      {isSolid ? (
        <fieldset>
          <legend className="font-firm">The lab allows it</legend>
          {allowances.map((one) => (
            <Check
              key={one}
              label={capital(sayAllowance(one))}
              isOn={form.allowedFor.includes(one)}
              onToggle={(isOn) => set({ allowedFor: toggled(form.allowedFor, one, isOn) })}
            />
          ))}
        </fieldset>
      ) : null}
      {isSolid ? (
        <div className="grid gap-4 tablet:grid-cols-2">
          <TextField
            label="Tested on"
            type="date"
            max={at.today}
            value={form.testedOn}
            onChange={(event) => set({ testedOn: event.target.value })}
          />
          <TextField
            label="Lot that was tested"
            maxLength={120}
            value={form.testedLot}
            onChange={(event) => set({ testedLot: event.target.value })}
          />
          <TextField
            label="Which test, what came of it"
            maxLength={240}
            value={form.testNote}
            onChange={(event) => set({ testNote: event.target.value })}
          />
        </div>
      ) : null}
      {what === 'solvent' || solvents.length === 0 ? null : (
        <fieldset>
          <legend className="font-firm">Goes into</legend>
          {solvents.map((one) => (
            <Check
              key={one.id}
              label={one.name}
              isOn={form.solventIds.includes(one.id)}
              onToggle={(isOn) => set({ solventIds: toggled(form.solventIds, one.id, isOn) })}
            />
          ))}
        </fieldset>
      )}
      {material ? (
        <Check
          label="In use"
          note="otherwise no new batch is made of it; what was made of it stays"
          isOn={form.isActive}
          onToggle={(isActive) => set({ isActive })}
        />
      ) : null}
      <TextField
        label="Note"
        maxLength={240}
        value={form.note}
        onChange={(event) => set({ note: event.target.value })}
      />
    </ActForm>
  )
}
