'use client'
// What a specimen lies in for good: cradle or clamshell, of what, how it is lifted, what it weighs in it and what it
// bears. A field jacket is for the way from the field and says so here.
import { useState } from 'react'
import { askedOfHousing, housingOf, massKgOf, rackLoads } from '#lib/rules'
import type { RecordOf } from '#lib/words'
import { useNewId } from '../../_board/index.ts'
import {
  ActForm,
  Check,
  DialogButton,
  FoldingSection,
  NumberField,
  Select,
  TextField,
} from '../../_parts/controls/index.ts'
import { useKeptForm } from '../../_shell/kept-form.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayKg } from '../../_text/index.ts'
import { Asked } from '../../batches/asked.tsx'
import { momentOf, nameOf, type SheetAt } from '../sheet-at.ts'
import { RackLine } from './rack-line.tsx'

type Housing = RecordOf<'housing'>

/** The housing that counts, what came before, and the way to another. */
export function Housings({ at }: { readonly at: SheetAt }) {
  const { specimen, jacket } = at.sheet
  if (!specimen)
    return jacket && jacket.state !== 'empty' && jacket.container === 'jacket' ? (
      <FoldingSection id="housing" title="Housing" brief="not of a field jacket">
        <p>
          A field jacket is for the way from the field. It does not go into a collection: what is in it becomes a
          specimen, and that is housed.
        </p>
      </FoldingSection>
    ) : null
  const last = housingOf(at.records, specimen.id)
  const former = [...at.records.housing.values()].filter((one) => one.pieceId === specimen.id && one.id !== last?.id)
  return (
    <FoldingSection id="housing" title="Housing" brief={last ? `${last.form}, ${sayKg(last.massKg)}` : 'none yet'}>
      <div>
        {last ? <HousingText at={at} one={last} /> : <p className="text-umber">Not housed yet.</p>}
        {former.length === 0 ? null : (
          <p className="text-small text-umber">
            Before: {former.map((one) => `${one.form}, ${momentOf(at, one.at)}`).join('; ')}
          </p>
        )}
      </div>
      {at.isStaff ? (
        <DialogButton
          word={last ? 'House it anew…' : 'House it…'}
          title={`Housing for ${at.sheet.number}`}
          className="no-print mt-3"
        >
          {(close) => <HouseForm at={at} last={last} onDone={close} />}
        </DialogButton>
      ) : null}
    </FoldingSection>
  )
}

function HousingText({ at, one }: { readonly at: SheetAt; readonly one: Housing }) {
  const words = [
    one.materials.length > 0 ? `of ${one.materials.join(', ')}` : '',
    one.side === '' ? '' : `${one.side} side to study`,
    one.liftPoints === '' ? '' : `lifted at ${one.liftPoints}`,
  ].filter((word) => word !== '')
  return (
    <>
      <p className="font-firm">
        {one.form === 'cradle' ? 'Cradle' : 'Two-part clamshell'}
        {words.length > 0 ? `, ${words.join(', ')}` : ''}
      </p>
      <p>
        {sayKg(one.massKg)} with the specimen, {one.isWeighed ? 'weighed' : 'estimated'}; made for {sayKg(one.bearsKg)}.
      </p>
      {one.form === 'clamshell' ? (
        <p className="text-small text-umber">Handles of a clamshell lift one half only, not the whole.</p>
      ) : null}
      {one.despite ? <p className="missing-line">Asked about, and made all the same: {one.despite}</p> : null}
      <p className="text-small text-umber">
        {momentOf(at, one.at)}, {nameOf(at, one.by)}
      </p>
    </>
  )
}

type HouseFormProps = { readonly at: SheetAt; readonly last: Housing | null; readonly onDone: () => void }

function HouseForm({ at, last, onDone }: HouseFormProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const { piece } = at.sheet
  const [blank] = useState(() => ({
    form: (last?.form ?? 'cradle') as string,
    materials: last?.materials.join(', ') ?? '',
    liftPoints: last?.liftPoints ?? '',
    side: last?.side ?? at.sheet.specimen?.side ?? '',
    massKg: last?.massKg as number | undefined,
    isWeighed: false,
    bearsKg: last?.bearsKg as number | undefined,
    shelf: piece.shelf,
    note: '',
    despite: '',
    why: '',
  }))
  const { form, set, clear } = useKeptForm(`house.${piece.id}`, blank)
  const { massKg, bearsKg } = form
  const materials = form.materials
    .split(/[,;\n]/)
    .map((one) => one.trim())
    .filter((one) => one !== '')
  const asked = askedOfHousing(at.records, materials)
  const loads = rackLoads(at.records, form.shelf, piece)
  return (
    <ActForm
      act="It is housed"
      problem={problem === undefined ? undefined : `Not kept. ${problem} What you typed is still here.`}
      isOff={massKg === undefined || bearsKg === undefined || (asked.length > 0 && form.why.trim() === '')}
      onAct={() => {
        if (massKg === undefined || bearsKg === undefined) return
        const words = { liftPoints: form.liftPoints.trim(), side: form.side.trim(), note: form.note.trim() }
        const done = attempt({
          kind: 'house',
          housing: {
            ...words,
            id: newId(),
            pieceId: piece.id,
            form: form.form === 'clamshell' ? 'clamshell' : 'cradle',
            materials,
            massKg,
            bearsKg,
            isWeighed: form.isWeighed,
            shelf: form.shelf.trim(),
            ...(asked.length > 0 && { despite: form.why.trim() }),
          },
          despite: form.despite.trim(),
        })
        if (!done) return
        clear()
        onDone()
      }}
    >
      <Select
        label="What it is"
        value={form.form}
        onValue={(value) => set({ form: value })}
        choices={[
          { value: 'cradle', label: 'Cradle, open above' },
          { value: 'clamshell', label: 'Two-part clamshell' },
        ]}
      />
      <TextField
        label="Made of"
        hint="With commas: plaster, glass fibre, felt. What touches the bone last."
        value={form.materials}
        onChange={(event) => set({ materials: event.target.value })}
      />
      <Asked records={at.records} asked={asked} despite={form.why} onDespite={(why) => set({ why })} />
      <div className="grid grid-cols-2 gap-3">
        <NumberField
          label="With the specimen"
          unit="kg"
          min={0}
          step={0.1}
          value={massKg}
          onValue={(value) => set({ massKg: value })}
          hint={`Alone it is up to ${sayKg(massKgOf(piece))}.`}
        />
        <NumberField
          label="Made to bear"
          unit="kg"
          min={0}
          step={0.1}
          value={bearsKg}
          onValue={(value) => set({ bearsKg: value })}
          problem={
            massKg !== undefined && bearsKg !== undefined && bearsKg < massKg
              ? 'Less than what lies in it weighs.'
              : undefined
          }
        />
      </div>
      <Check
        label="Weighed"
        note="otherwise it is an estimate"
        isOn={form.isWeighed}
        onToggle={(isWeighed) => set({ isWeighed })}
      />
      <TextField
        label="Lifted at"
        value={form.liftPoints}
        onChange={(event) => set({ liftPoints: event.target.value })}
      />
      <TextField label="Side to study" value={form.side} onChange={(event) => set({ side: event.target.value })} />
      <TextField label="Shelf" value={form.shelf} onChange={(event) => set({ shelf: event.target.value })} />
      <RackLine
        loads={loads}
        lowKg={massKg ?? 0}
        highKg={massKg ?? 0}
        despite={form.despite}
        onDespite={(despite) => set({ despite })}
      />
    </ActForm>
  )
}
