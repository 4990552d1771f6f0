'use client'
// A new jacket in under a minute: the number as inked, where it stands, three measures; all else unfolds when wanted.
// What a season's jackets have in common stays from one to the next. What is typed stays on this device until it is kept.
import { rackLoads } from '#lib/rules'
import type { PieceId, RecordOf, StepId } from '#lib/words'
import { useBoard, useNewId } from '../_board/index.ts'
import {
  Button,
  Check,
  Dialog,
  Fold,
  Notice,
  NumberField,
  Select,
  TextArea,
  TextField,
} from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useKeptForm } from '../_shell/kept-form.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, grouped, sayKg } from '../_text/index.ts'
import { fieldHazards } from '../mine/cautions.ts'
import { RackLine } from '../sheet/custody/rack-line.tsx'
import { DraftPhoto, useDrafts } from '../sheet/photos/draft-photo.tsx'
import { blankIntake, type Intake, jacketOf, massOfIntake, problemsOf, rocks, sameAgain } from './intake.ts'

export type IntakeDialogProps = {
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

/** The piece of a photograph that was taken before there is one. */
const UNBORN = 'intake' as PieceId

/** The dialog. */
export default function IntakeDialog({ isOpen, today, onClose, onDone }: IntakeDialogProps) {
  const { attempt, problem, clear } = useTry()
  const newId = useNewId()
  const records = useBoard((board) => board)
  const lab = records.lab.get('lab')
  const { form, set, clear: begin, isTyped } = useKeptForm<Intake>('intake', blankIntake)
  const label = useDrafts('intake')
  const mass = massOfIntake(form)
  const isTaken = (number: string) =>
    number !== '' && [...records.jacket.values()].some((one) => one.fieldNumber.toLowerCase() === number.toLowerCase())
  const wrong = problemsOf(form, today, isTaken)
  const isOff = form.fieldNumber.trim() === '' || Object.keys(wrong).length > 0
  const opening = lab?.techniques.find((one) => one.group === 'opening')
  const field = (key: keyof Intake, label: string, hint?: string) => (
    <TextField
      label={label}
      autoComplete="off"
      value={String(form[key] ?? '')}
      onChange={(event) => set({ [key]: event.target.value })}
      {...(hint === undefined ? {} : { hint })}
      {...(wrong[key] === undefined ? {} : { problem: wrong[key] })}
    />
  )
  const number = (key: keyof Intake, label: string, unit?: string) => (
    <NumberField
      label={label}
      min={0}
      value={typeof form[key] === 'number' ? form[key] : undefined}
      onValue={(value) => set({ [key]: value })}
      {...(unit === undefined ? {} : { unit })}
      {...(wrong[key] === undefined ? {} : { problem: wrong[key] })}
    />
  )

  const keep = (isAnother: boolean) => {
    // Fresh ids are plain text until a record takes them in.
    const made = jacketOf(form, { pieceId: newId() as PieceId, stepId: newId() as StepId, opening, today })
    if (!attempt({ kind: 'addJacket', ...made })) return
    label.send({ pieceId: made.jacket.id })
    onDone(form.fieldNumber.trim())
    begin(sameAgain(form))
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
          <Button size="action" disabled={isOff} onClick={() => keep(true)}>
            Keep, and another
          </Button>
          <Button kind="ink" size="action" disabled={isOff} onClick={() => keep(false)}>
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
            onChange={(event) => set({ fieldNumber: event.target.value })}
            problem={wrong.fieldNumber}
          />
          <Select
            label="What it is"
            value={form.container}
            choices={[
              { value: 'jacket', label: 'Plaster jacket' },
              { value: 'block', label: 'Block' },
              { value: 'bag', label: 'Bag or box' },
            ]}
            onValue={(value) => set({ container: value as Intake['container'] })}
          />
        </div>
        <DraftPhoto form="intake" pieceId={UNBORN} view="label" word="Photograph its label" />
        <div className="grid grid-cols-3 gap-3">
          {number('lengthCm', 'Length', 'cm')}
          {number('widthCm', 'Width', 'cm')}
          {number('heightCm', 'Height', 'cm')}
        </div>
        <div className="grid grid-cols-2 gap-3">
          <Select
            label="Rock"
            value={form.rock}
            choices={[
              { value: '', label: 'not known' },
              ...rocks.map((one) => ({ value: one as string, label: capital(one) })),
            ]}
            onValue={(rock) => set({ rock })}
          />
          {form.container === 'jacket' ? number('plasterMm', 'Plaster', 'mm') : null}
        </div>
        {mass.highKg === 0 ? null : <MassLine form={form} />}
        {field('shelf', 'Stands at', 'Rack and shelf.')}
        <RackLine
          loads={rackLoads(records, form.shelf, null)}
          lowKg={form.weighedKg ?? mass.lowKg}
          highKg={form.weighedKg ?? mass.highKg}
          despite={form.standsDespite}
          onDespite={(standsDespite) => set({ standsDespite })}
        />
        {field('contents', 'Expected contents')}
        <Fold title="Weighed; jacket n of N">
          <div className="flex flex-col gap-4 pt-2">
            {number('weighedKg', 'Weighed', 'kg')}
            <div className="grid grid-cols-2 gap-3">
              {number('partN', 'Jacket')}
              {number('partTotal', 'of')}
            </div>
          </div>
        </Fold>
        <Fold title="Where and when it was found" isOpen={wrong.collectedOn !== undefined}>
          <div className="grid grid-cols-2 gap-3 pt-2">
            {field('locality', 'Locality')}
            {field('horizon', 'Horizon')}
            {field('collector', 'Collector')}
            <TextField
              label="Collected on"
              type="date"
              max={today}
              value={form.collectedOn}
              onChange={(event) => set({ collectedOn: event.target.value })}
              problem={wrong.collectedOn}
            />
          </div>
        </Fold>
        <Fold title="Which way up, sketch and field notes">
          <div className="flex flex-col gap-4 pt-2">
            {field('faceUp', 'Face up', 'Skull side, north arrow, top of bed.')}
            {field('sketchNote', 'On the sketch')}
            <TextArea
              label="Field notes"
              value={form.fieldNotes}
              onChange={(event) => set({ fieldNotes: event.target.value })}
            />
          </div>
        </Fold>
        <Fold title="Seen on it" isOpen={form.hazards.length > 0}>
          <div className="grid grid-cols-1 gap-x-3 tablet:grid-cols-2">
            {hazards.map(({ key, label }) => (
              <Check
                key={key}
                label={label}
                isOn={form.hazards.includes(key)}
                onToggle={(isOn) =>
                  set({ hazards: isOn ? [...form.hazards, key] : form.hazards.filter((one) => one !== key) })
                }
              />
            ))}
          </div>
          <Cautions hazards={form.hazards} contact={lab?.safetyContact ?? ''} />
          {field('hazardNote', 'More about it')}
        </Fold>
        <Fold title="Permit and ownership">
          <div className="grid grid-cols-2 gap-3 pt-2">
            {field('permit', 'Permit')}
            {field('owner', 'Whose it is')}
          </div>
        </Fold>
        <Check
          label="Choose it for this season"
          note="Otherwise it rests in the archive once put away."
          isOn={form.isInSeason}
          onToggle={(isInSeason) => set({ isInSeason })}
        />
        {isTyped ? (
          <p className="text-small text-umber">
            What you type stays on this device until it is kept.{' '}
            <button type="button" className="min-h-11 underline underline-offset-4" onClick={() => begin()}>
              Begin anew
            </button>
          </p>
        ) : null}
        {problem === undefined ? null : <Notice kind="error">Not kept. {problem} What you typed is still here.</Notice>}
      </div>
    </Dialog>
  )
}

/** The range of mass with its formula and the numbers in it. */
function MassLine({ form }: { readonly form: Intake }) {
  const { lowKg, highKg, shellKg, from } = massOfIntake(form)
  const box = [form.lengthCm, form.widthCm, form.heightCm].map((cm) => ((cm ?? 0) / 100).toFixed(2)).join(' × ')
  const shell = shellKg > 0 ? ` + ${sayKg(shellKg)} of plaster` : ''
  return (
    <div>
      <p className="font-firm" aria-live="polite">
        {sayKg(lowKg)} to {sayKg(highKg)} by its measures
        {form.weighedKg === undefined ? '' : `; ${sayKg(form.weighedKg)} weighed, which counts`}.
      </p>
      <p className="text-small text-umber">
        Ellipsoid: π/6 × {box} m × {grouped(from.lowKgM3)} kg/m³{shell}. Box: {box} m × {grouped(from.highKgM3)} kg/m³
        {shell}. {from.plasterMm > 0 ? `Shell ${from.plasterMm} mm, dry plaster 1 105 kg/m³.` : ''}
      </p>
    </div>
  )
}

type CautionsProps = { readonly hazards: Intake['hazards']; readonly contact: string }

/** The usual caution for each hazard, where it is noted. */
function Cautions({ hazards: seen, contact }: CautionsProps) {
  if (seen.length === 0) return null
  return (
    <ul className="my-2 border-l-[5px] border-ink pl-3" aria-label="Cautions">
      {seen.map((hazard) => (
        <li key={hazard} className="flex items-start gap-2.5 py-1">
          <Mark name="caution" size={22} />
          {fieldHazards[hazard]}
        </li>
      ))}
      <li className="text-small text-umber">
        {contact === '' ? '' : `${contact}. `}Local codes and the site’s safety officer decide.
      </li>
    </ul>
  )
}
