'use client'
// Making up a batch: what is wanted, then what to weigh, then what was weighed. The amounts stand there before anything is
// poured; a half-filled form stays on this device.
import { useState } from 'react'
import { askedOfMaking } from '#lib/rules'
import type { Finding, RecordOf, Strength } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, Fold, NumberField, Select, TextField } from '../_parts/controls/index.ts'
import { useKeptForm } from '../_shell/kept-form.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, conventions, numberBatch } from '../_text/index.ts'
import type { CrewAt } from '../crew/use-crew-at.ts'
import { Asked } from './asked.tsx'
import { Recipe } from './recipe.tsx'

type MakeFormProps = {
  readonly at: CrewAt
  /** The batch it is thinned from; left out where it is made anew. */
  readonly stock?: RecordOf<'batch'>
  readonly onDone: () => void
}

type Form = ReturnType<typeof blankOf>

function blankOf(at: CrewAt, stock: RecordOf<'batch'> | undefined) {
  const number = undefined as number | undefined
  return {
    materialId: stock?.materialId ?? '',
    solventId: stock?.solventId ?? '',
    lot: stock?.lot ?? '',
    solventLot: '',
    amount: number,
    convention: (stock?.strength?.convention ?? 'wv') as string,
    wanted: number,
    by: 'volumeMl' as string,
    ...{ resinG: number, stock: number, solventG: number, solventMl: number, volumeMl: number },
    madeOn: at.today,
    expiresOn: '',
    note: '',
    despite: '',
  }
}

const conventionOf = (form: Form): Strength['convention'] =>
  form.convention === 'ww' || form.convention === 'per100ml' ? form.convention : 'wv'

const isOfLot = ({ code }: Finding): boolean => code === 'lot-untested'

/** The form; a thinned batch keeps material, solvent and convention of its stock. */
export function MakeForm({ at, stock, onDone }: MakeFormProps) {
  const { records } = at
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [blank] = useState(() => blankOf(at, stock))
  const { form, set, clear } = useKeptForm(stock ? `thin.${stock.id}` : 'batch', blank)
  const active = [...records.material.values()]
    .filter((one) => one.isActive)
    .toSorted((a, b) => a.name.localeCompare(b.name, 'en'))
  const materials = active.filter(({ what }) => what !== 'solvent')
  const solvents = active.filter(({ what }) => what === 'solvent')
  const material = records.material.get(form.materialId)
  const convention = conventionOf(form)
  const strength = form.amount === undefined || form.solventId === '' ? null : { amount: form.amount, convention }
  const inGrams = convention !== 'wv'
  const made = {
    materialId: form.materialId,
    lot: form.lot.trim(),
    solventId: form.solventId === '' ? null : form.solventId,
    madeOn: form.madeOn === '' ? at.today : form.madeOn,
    thinnedFrom: stock
      ? {
          batchId: stock.id,
          stockMl: inGrams ? null : (form.stock ?? null),
          stockG: inGrams ? (form.stock ?? null) : null,
        }
      : null,
  }
  const asked = askedOfMaking(records, made)
  const number = (key: 'resinG' | 'stock' | 'solventG' | 'solventMl' | 'volumeMl', label: string, unit: string) => (
    <NumberField
      key={key}
      label={label}
      unit={unit}
      min={0}
      step="any"
      value={form[key]}
      onValue={(value) => set({ [key]: value })}
    />
  )
  // What is wrong with the solvent is said before anything is weighed, the lot where it is typed.
  const saidOf = (some: readonly Finding[]) => (
    <Asked records={records} asked={some} despite={form.despite} onDespite={(despite) => set({ despite })} />
  )
  return (
    <ActForm
      act={stock ? 'It is thinned' : form.solventId === '' ? 'Take it in' : 'It is made up'}
      problem={problem === undefined ? undefined : `Not kept. ${problem} What you typed is still here.`}
      isOff={form.materialId === '' || (asked.length > 0 && form.despite.trim() === '')}
      onAct={() => {
        const { resinG = null, solventG = null, solventMl = null, volumeMl = null } = form
        const batch = {
          ...made,
          id: newId(),
          strength,
          solventLot: form.solventLot.trim(),
          weighed: { resinG, solventG, solventMl, volumeMl },
          expiresOn: form.expiresOn === '' ? null : form.expiresOn,
          note: form.note.trim(),
          despite: asked.length > 0 ? form.despite.trim() : '',
        }
        if (!attempt({ kind: 'makeBatch', batch })) return
        clear()
        onDone()
      }}
    >
      {stock ? (
        <p>
          From batch {numberBatch(stock.number)}: {material?.name ?? 'it'}, {stock.strength?.amount}{' '}
          {conventions[convention]}. Counted in the same way.
        </p>
      ) : (
        <>
          <Select
            label="What"
            value={form.materialId}
            onValue={(materialId) => set({ materialId })}
            choices={[
              { value: '', label: materials.length === 0 ? 'the list below is empty' : 'choose' },
              ...materials.map((one) => ({ value: one.id as string, label: one.name })),
            ]}
          />
          <Select
            label="Dissolved in"
            value={form.solventId}
            onValue={(solventId) => set({ solventId })}
            choices={[
              { value: '', label: 'nothing: as bought' },
              ...solvents.map((one) => ({
                value: one.id as string,
                label: material?.solventIds.includes(one.id) ? `${one.name}, by the list` : one.name,
              })),
            ]}
          />
        </>
      )}
      {saidOf(asked.filter((one) => !isOfLot(one)))}
      {form.solventId === '' ? null : (
        <>
          <div className="grid gap-4 tablet:grid-cols-2">
            <NumberField
              label="How strong"
              min={0}
              step="any"
              value={form.amount}
              onValue={(amount) => set({ amount })}
            />
            {stock ? null : (
              <Select
                label="Counted in"
                value={form.convention}
                onValue={(value) => set({ convention: value })}
                choices={Object.entries(conventions).map(([value, label]) => ({ value, label }))}
              />
            )}
          </div>
          <Recipe records={records} form={{ ...form, convention }} stock={stock} set={set} />
          <fieldset className="border-t border-line pt-3">
            <legend className="font-strong">As weighed and measured</legend>
            <div className="grid grid-cols-2 gap-3 pt-1">
              {stock
                ? number('stock', `Of ${numberBatch(stock.number)}`, inGrams ? 'g' : 'ml')
                : number('resinG', capital(material?.name ?? 'Resin'), 'g')}
              {number('solventMl', 'Solvent', 'ml')}
              {number('solventG', 'Solvent', 'g')}
              {number('volumeMl', 'In all', 'ml')}
            </div>
            <p className="pt-1 text-small text-umber">Fill in what was weighed; leave the rest empty.</p>
          </fieldset>
        </>
      )}
      <div className="grid gap-4 tablet:grid-cols-2">
        <TextField
          label="Lot"
          hint="As on the maker’s container."
          maxLength={120}
          value={form.lot}
          onChange={(event) => set({ lot: event.target.value })}
        />
        {form.solventId === '' ? null : (
          <TextField
            label="Solvent’s lot"
            maxLength={120}
            value={form.solventLot}
            onChange={(event) => set({ solventLot: event.target.value })}
          />
        )}
        <TextField
          label={form.solventId === '' ? 'Opened on' : 'Made on'}
          type="date"
          max={at.today}
          value={form.madeOn}
          onChange={(event) => set({ madeOn: event.target.value })}
        />
        <TextField
          label="To be used until"
          type="date"
          min={form.madeOn}
          value={form.expiresOn}
          onChange={(event) => set({ expiresOn: event.target.value })}
        />
      </div>
      <Fold title="A note">
        <TextField
          label="Note"
          isLabelHidden
          maxLength={240}
          value={form.note}
          onChange={(event) => set({ note: event.target.value })}
        />
      </Fold>
      {saidOf(asked.filter(isOfLot))}
    </ActForm>
  )
}
