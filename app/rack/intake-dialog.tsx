'use client'
// A new jacket in under a minute: the number as inked, what it should hold, three measures, where it stands. Locality,
// horizon and collector stay as they were for the last one, because a season's jackets come in rows.
import { useState } from 'react'
import { jacketMass } from '#lib/limits'
import type { PieceId, RecordOf, StepId } from '#lib/words'
import { useBoard, useNewId } from '../_board/index.ts'
import { Button, Check, Dialog, Notice, NumberField, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayKg } from '../_text/index.ts'
import { blankIntake, type Intake, jacketOf } from './intake.ts'

type IntakeDialogProps = {
  readonly isOpen: boolean
  readonly today: string
  readonly onClose: () => void
  readonly onDone: (number: string) => void
}

const hazards: readonly { readonly key: RecordOf<'jacket'>['hazards'][number]; readonly label: string }[] = [
  { key: 'wet', label: 'Came in wet' },
  { key: 'mould', label: 'Mould' },
  { key: 'pyrite', label: 'Pyrite' },
  { key: 'old plaster', label: 'Old plaster, unknown fibre' },
  { key: 'radioactive', label: 'Radioactive minerals possible' },
]

/** The dialog. */
export function IntakeDialog({ isOpen, today, onClose, onDone }: IntakeDialogProps) {
  const { attempt, problem, clear } = useTry()
  const newId = useNewId()
  const lab = useBoard((records) => records.lab.get('lab'))
  const [form, setForm] = useState<Intake>(blankIntake)
  const set = <K extends keyof Intake>(key: K, value: Intake[K]) => setForm((before) => ({ ...before, [key]: value }))
  const mass = jacketMass({
    lengthM: (form.lengthCm ?? 0) / 100,
    widthM: (form.widthCm ?? 0) / 100,
    heightM: (form.heightCm ?? 0) / 100,
  })
  const opening = lab?.techniques.find((one) => one.group === 'opening')

  const keep = (isAnother: boolean) => {
    // Fresh ids are plain text until a record takes them in.
    const made = jacketOf(form, { pieceId: newId() as PieceId, stepId: newId() as StepId, opening, mass, today })
    if (!attempt({ kind: 'addJacket', ...made })) return
    onDone(form.fieldNumber.trim())
    setForm((before) => ({
      ...blankIntake,
      locality: before.locality,
      horizon: before.horizon,
      collector: before.collector,
      collectedOn: before.collectedOn,
      shelf: before.shelf,
    }))
    if (!isAnother) onClose()
  }

  return (
    <Dialog
      isOpen={isOpen}
      title="New jacket"
      onClose={() => {
        clear()
        onClose()
      }}
      actions={
        <>
          <Button size="action" disabled={form.fieldNumber.trim() === ''} onClick={() => keep(true)}>
            Keep, and another
          </Button>
          <Button kind="ink" size="action" disabled={form.fieldNumber.trim() === ''} onClick={() => keep(false)}>
            Keep
          </Button>
        </>
      }
    >
      <div className="flex flex-col gap-4">
        <div className="grid grid-cols-2 gap-3">
          <TextField
            label="Field number"
            isInked
            autoComplete="off"
            value={form.fieldNumber}
            onChange={(event) => set('fieldNumber', event.target.value)}
          />
          <Select
            label="What it is"
            value={form.container}
            choices={[
              { value: 'jacket', label: 'Plaster jacket' },
              { value: 'block', label: 'Block' },
              { value: 'bag', label: 'Bag or box' },
            ]}
            onValue={(value) => set('container', value as Intake['container'])}
          />
        </div>
        <TextField
          label="Expected contents"
          value={form.contents}
          onChange={(event) => set('contents', event.target.value)}
        />
        <div className="grid grid-cols-3 gap-3">
          <NumberField label="Length" unit="cm" min={0} value={form.lengthCm} onValue={(v) => set('lengthCm', v)} />
          <NumberField label="Width" unit="cm" min={0} value={form.widthCm} onValue={(v) => set('widthCm', v)} />
          <NumberField label="Height" unit="cm" min={0} value={form.heightCm} onValue={(v) => set('heightCm', v)} />
        </div>
        <div className="grid grid-cols-2 gap-3">
          <NumberField
            label="Weighed"
            unit="kg"
            min={0}
            value={form.weighedKg}
            onValue={(v) => set('weighedKg', v)}
            hint={
              mass.highKg === 0
                ? 'Empty when nobody has weighed it.'
                : `By its measures ${sayKg(mass.lowKg)} to ${sayKg(mass.highKg)}; a weighing replaces it.`
            }
          />
          <TextField
            label="Stands at"
            value={form.shelf}
            onChange={(event) => set('shelf', event.target.value)}
            hint="Rack and shelf."
          />
        </div>
        <div className="grid grid-cols-2 gap-3">
          <TextField label="Locality" value={form.locality} onChange={(event) => set('locality', event.target.value)} />
          <TextField label="Horizon" value={form.horizon} onChange={(event) => set('horizon', event.target.value)} />
          <TextField
            label="Collector"
            value={form.collector}
            onChange={(event) => set('collector', event.target.value)}
          />
          <TextField
            label="Collected on"
            type="date"
            max={today}
            value={form.collectedOn}
            onChange={(event) => set('collectedOn', event.target.value)}
          />
        </div>
        <fieldset>
          <legend className="text-small font-firm text-umber">Seen on it</legend>
          <div className="grid grid-cols-1 gap-x-3 tablet:grid-cols-2">
            {hazards.map(({ key, label }) => (
              <Check
                key={key}
                label={label}
                isOn={form.hazards.includes(key)}
                onToggle={(isOn) =>
                  set('hazards', isOn ? [...form.hazards, key] : form.hazards.filter((one) => one !== key))
                }
              />
            ))}
          </div>
          {form.hazards.includes('old plaster') || form.hazards.includes('radioactive') ? (
            <p className="pt-2 text-small">
              Old jacket: fibre, mould and radioactive minerals are possible. Ask the safety officer before opening.
            </p>
          ) : null}
        </fieldset>
        <Check
          label="Choose it for this season"
          note="Otherwise it rests in the archive once put away."
          isOn={form.isInSeason}
          onToggle={(isOn) => set('isInSeason', isOn)}
        />
        {problem === undefined ? null : <Notice kind="error">Not kept. {problem} What you typed is still here.</Notice>}
      </div>
    </Dialog>
  )
}
