'use client'
// Lifting and moving a piece: who or what its mass asks for, the lab's hoists and slings against it, and lifts by hand put into
// the revised NIOSH equation where it applies. Each figure opens to its formula with the numbers.
import { useState } from 'react'
import { LIFT_FORMULA } from '#lib/limits'
import { HEAVY_KG, type LiftInputs, liftingGear, liftNeed, liftSaid, liftsOf } from '#lib/views'
import { LiftManner, type RecordOf } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import {
  ActForm,
  Check,
  DialogButton,
  Fold,
  FoldingSection,
  NumberField,
  Select,
  TextField,
} from '../_parts/controls/index.ts'
import { useKeptForm } from '../_shell/kept-form.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayMass } from '../_text/index.ts'
import { sayGear, sayLift, sayLiftFormula, sayLiftInputs, sayNeed } from './say-lift.ts'
import { momentOf, nameOf, type SheetAt } from './sheet-at.ts'

type Lift = RecordOf<'lift'>

/** The section of a Sheet. */
export function Lifting({ at }: { readonly at: SheetAt }) {
  const { piece, number } = at.sheet
  const { mostKg } = liftNeed(piece.mass)
  const gear = mostKg >= HEAVY_KG ? liftingGear(at.records, mostKg) : []
  const lifts = liftsOf(at.records, piece.id)
  return (
    <FoldingSection id="lifting" title="Lifting and moving" brief={sayMass(piece.mass)}>
      <div className="flex flex-col gap-2 pt-2">
        <p>{sayNeed(piece.mass)}</p>
        {gear.length === 0 ? null : (
          <ul className="text-small">
            {gear.map((one) => (
              <li key={one.check.id}>{sayGear(one)}</li>
            ))}
          </ul>
        )}
        {lifts.map((lift) => (
          <LiftText key={lift.id} at={at} lift={lift} />
        ))}
        {at.isStaff && !at.isResting ? (
          <DialogButton word="Work out a lift…" title={`Lifting ${number} by hand`} className="no-print self-start">
            {(close) => <LiftForm at={at} onDone={close} />}
          </DialogButton>
        ) : null}
        <p className="text-small text-umber">
          Turning a jacket and lifts by several people are outside the equation. The site’s safety officer and local
          rules decide.
        </p>
      </div>
    </FoldingSection>
  )
}

function LiftText({ at, lift }: { readonly at: SheetAt; readonly lift: Lift }) {
  const said = liftSaid(lift)
  return (
    <Fold title={sayLift(said)}>
      <div className="pb-2 text-small">
        <p>From {sayLiftInputs(lift)}.</p>
        {said.isRefused ? null : <p>{sayLiftFormula(lift, said)}</p>}
        {lift.note === '' ? null : <p>{lift.note}</p>}
        <p className="text-umber">
          {momentOf(at, lift.at)}, {nameOf(at, lift.by)}
          {lift.formula === LIFT_FORMULA ? '' : `; computed anew by version ${LIFT_FORMULA}`}
        </p>
      </div>
    </Fold>
  )
}

const manners: Readonly<Record<Lift['manner'][number], string>> = {
  'one hand': 'With one hand',
  seated: 'Seated',
  kneeling: 'Kneeling',
  unstable: 'The load shifts or is unstable',
  restricted: 'No room to stand and turn freely',
}

const fields = [
  ['loadKg', 'Load', 'kg', 0.1, 10_000, ''],
  ['hCm', 'Hands from between the ankles, H', 'cm', 1, 300, 'Not measured: 20 + half the depth of the load.'],
  ['vCm', 'Hands above the floor at the start, V', 'cm', 1, 300, ''],
  ['dCm', 'How far up or down, D', 'cm', 1, 300, ''],
  ['angleDeg', 'Turn of the body, A', '°', 5, 180, ''],
  ['perMinute', 'Lifts a minute', '', 0.1, 60, 'Once or twice: 0.2.'],
  ['durationH', 'Hours of lifting in the day', 'h', 0.5, 24, ''],
  ['persons', 'People who lift', '', 1, 12, ''],
] as const

function LiftForm({ at, onDone }: { readonly at: SheetAt; readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const { piece } = at.sheet
  const [blank] = useState(() => ({
    // To a tenth: what was estimated is known no better.
    loadKg: (Math.round(liftNeed(piece.mass).mostKg * 10) / 10) as number | undefined,
    hCm: (20 + Math.round(piece.widthM * 50)) as number | undefined,
    vCm: undefined as number | undefined,
    dCm: undefined as number | undefined,
    angleDeg: 0 as number | undefined,
    perMinute: 0.2 as number | undefined,
    durationH: 1 as number | undefined,
    persons: 1 as number | undefined,
    coupling: 'poor' as string,
    manner: '',
    note: '',
  }))
  const { form, set, clear } = useKeptForm(`lift.${piece.id}`, blank)
  const manner = LiftManner.options.filter((one) => form.manner.split(',').includes(one))
  const { loadKg, hCm, vCm, dCm, angleDeg, perMinute, durationH, persons } = form
  const isWhole =
    [loadKg, hCm, vCm, dCm, angleDeg, perMinute, durationH, persons].every((one) => one !== undefined) &&
    (loadKg ?? 0) > 0 &&
    (durationH ?? 0) > 0
  const lift: LiftInputs = {
    ...{ pieceId: piece.id, loadKg: loadKg ?? 0, hCm: hCm ?? 0, vCm: vCm ?? 0, dCm: dCm ?? 0 },
    ...{ angleDeg: angleDeg ?? 0, perMinute: perMinute ?? 0, durationH: durationH ?? 0 },
    coupling: (['good', 'fair'] as const).find((one) => one === form.coupling) ?? 'poor',
    ...{ persons: Math.round(persons ?? 1), manner, note: form.note.trim() },
  }
  const told = liftSaid(lift)
  // What refuses is known without a measure.
  const said = isWhole || told.isRefused ? told : null
  return (
    <ActForm
      act="Keep it on the Sheet"
      problem={problem === undefined ? undefined : `Not kept. ${problem} What you typed is still here.`}
      isOff={!isWhole}
      onAct={() => {
        if (!attempt({ kind: 'measureLift', lift: { ...lift, id: newId() } })) return
        clear()
        onDone()
      }}
    >
      <p
        role="status"
        className="sticky -top-4 z-10 -mx-4 -mt-4 border-b border-line bg-plaster px-4 py-3 font-strong tablet:-mx-6 tablet:px-6"
      >
        {said === null ? 'All figures are needed.' : sayLift(said)}
      </p>
      <div className="grid gap-4 tablet:grid-cols-2">
        {fields.map(([key, label, unit, step, max, hint]) => (
          <NumberField
            key={key}
            label={label}
            {...(unit === '' ? {} : { unit })}
            {...(hint === '' ? {} : { hint })}
            min={0}
            max={max}
            step={step}
            value={form[key]}
            onValue={(value) => set({ [key]: value })}
          />
        ))}
        <Select
          label="Grip"
          value={form.coupling}
          hint="A plaster jacket: poor."
          choices={[
            { value: 'good', label: 'good: handles that fit' },
            { value: 'fair', label: 'fair: fingers bent under it' },
            { value: 'poor', label: 'poor: bulky, sharp, slippery, its centre off' },
          ]}
          onValue={(coupling) => set({ coupling })}
        />
        <TextField
          label="Note"
          maxLength={240}
          value={form.note}
          onChange={(event) => set({ note: event.target.value })}
        />
      </div>
      <fieldset>
        <legend className="text-small font-firm text-umber">It is lifted</legend>
        <div className="grid gap-x-4 tablet:grid-cols-2">
          {LiftManner.options.map((one) => (
            <Check
              key={one}
              label={manners[one]}
              isOn={manner.includes(one)}
              onToggle={(isOn) =>
                set({ manner: (isOn ? [...manner, one] : manner.filter((each) => each !== one)).join(',') })
              }
            />
          ))}
        </div>
      </fieldset>
    </ActForm>
  )
}
