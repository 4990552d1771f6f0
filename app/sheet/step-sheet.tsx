'use client'
// One step's plan: technique, title, hours as low, likely and high, what it waits for, how many hands. Its hours done
// come from work alone. A new step is the same form without a past.
import { useState } from 'react'
import { type SheetStep, sheetSteps } from '#lib/views'
import type { RecordOf, StepId, TechniqueId } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, Button, Check, NumberField, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayMinutes } from '../_text/index.ts'
import { nameOf, type SheetAt } from './sheet-at.ts'

export type StepSheetProps = { readonly at: SheetAt; readonly row: SheetStep | null; readonly onDone: () => void }

/** The form, and for a step that is there the acts on it. */
export function StepSheet({ at, row, onDone }: StepSheetProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const steps = sheetSteps(at.records, at.sheet.id).rows.map((one) => one.step)
  const step = row?.step ?? null
  const techniques = at.records.lab.get('lab')?.techniques ?? []
  const [techniqueId, setTechnique] = useState<string>(step?.techniqueId ?? techniques[0]?.id ?? '')
  const [title, setTitle] = useState(step?.title ?? '')
  const [hours, setHours] = useState<Hours>(step?.hours ?? { lowH: undefined, likelyH: undefined, highH: undefined })
  const [after, setAfter] = useState<readonly StepId[]>(step?.after ?? defaultAfter(steps))
  const [hands, setHands] = useState({ least: step?.peopleMin ?? 1, most: step?.peopleMax ?? 1 })
  const [rank, setRank] = useState<number | undefined>(step?.rank ?? lastRank(steps) + 10)
  const named = title.trim() === '' ? (techniques.find((one) => one.id === techniqueId)?.name ?? '') : title.trim()
  const { lowH, likelyH, highH } = hours
  const isWhole = lowH !== undefined && likelyH !== undefined && highH !== undefined && techniqueId !== ''
  const isFixed = step !== null && step.state !== 'waiting'
  const keep = () => {
    if (!isWhole) return
    const plan = {
      techniqueId: techniqueId as TechniqueId,
      title: named,
      rank: rank ?? 0,
      after: [...after],
      hours: { lowH, likelyH, highH },
      peopleMin: hands.least,
      peopleMax: hands.most,
    }
    const done = step
      ? attempt({ kind: 'editStep', stepId: step.id, patch: plan })
      : attempt({
          kind: 'addStep',
          step: { ...plan, id: newId() as StepId, pieceId: at.sheet.id, state: 'waiting', doneMinutes: 0, by: [] },
        })
    if (done) onDone()
  }
  const others = steps.filter((one) => one.id !== step?.id && one.state !== 'dropped')
  return (
    <ActForm
      act={step ? 'Keep the plan' : 'Add the step'}
      problem={problem}
      isOff={!isWhole}
      onAct={keep}
      others={step ? <StepActs step={step} attempt={attempt} onDone={onDone} /> : undefined}
    >
      {step && step.by.length > 0 ? (
        <p className="text-umber">
          {step.by.map((one) => `${nameOf(at, one.personId)} ${sayMinutes(one.minutes)}`).join(', ')}
        </p>
      ) : null}
      <Select
        label="Technique"
        value={techniqueId}
        onValue={setTechnique}
        disabled={isFixed}
        hint={isFixed ? 'Begun with this technique; another technique is another step.' : undefined}
        choices={techniques.map((one) => ({ value: one.id as string, label: one.name }))}
      />
      <TextField
        label="What is to be done"
        hint={title.trim() === '' ? 'Left empty, the technique names it.' : undefined}
        value={title}
        onChange={(event) => setTitle(event.target.value)}
      />
      <fieldset>
        <legend className="pb-1 font-firm">Hours of the whole step</legend>
        <div className="grid grid-cols-3 gap-3">
          <HoursField label="Low" value={lowH} onValue={(value) => setHours({ ...hours, lowH: value })} />
          <HoursField label="Likely" value={likelyH} onValue={(value) => setHours({ ...hours, likelyH: value })} />
          <HoursField label="High" value={highH} onValue={(value) => setHours({ ...hours, highH: value })} />
        </div>
      </fieldset>
      {others.length === 0 ? null : (
        <fieldset>
          <legend className="font-firm">Not before these are done</legend>
          {others.map((one) => (
            <Check
              key={one.id}
              label={one.title}
              isOn={after.includes(one.id)}
              onToggle={(isOn) => setAfter(isOn ? [...after, one.id] : after.filter((id) => id !== one.id))}
            />
          ))}
        </fieldset>
      )}
      <div className="grid grid-cols-3 gap-3">
        <NumberField
          label="Hands, least"
          min={1}
          max={12}
          value={hands.least}
          onValue={(value) => setHands({ least: value ?? 1, most: Math.max(hands.most, value ?? 1) })}
        />
        <NumberField
          label="Hands, most"
          min={1}
          max={12}
          value={hands.most}
          onValue={(value) => setHands({ ...hands, most: value ?? 1 })}
        />
        <NumberField label="Order" min={0} max={10_000} value={rank} onValue={setRank} />
      </div>
    </ActForm>
  )
}

type Hours = {
  readonly lowH: number | undefined
  readonly likelyH: number | undefined
  readonly highH: number | undefined
}

function HoursField(props: {
  readonly label: string
  readonly value: number | undefined
  readonly onValue: (value: number | undefined) => void
}) {
  return <NumberField {...props} unit="h" min={0} step={0.5} />
}

/** A new step follows the last open one, as steps usually do. */
function defaultAfter(steps: readonly RecordOf<'step'>[]): readonly StepId[] {
  const last = steps.findLast((one) => one.state === 'waiting' || one.state === 'begun')
  return last ? [last.id] : []
}

const lastRank = (steps: readonly RecordOf<'step'>[]): number => Math.max(0, ...steps.map((one) => one.rank))

function StepActs({ step, attempt, onDone }: StepActsProps) {
  const act = (kind: 'finishStep' | 'dropStep' | 'reopenStep') => {
    if (attempt({ kind, stepId: step.id })) onDone()
  }
  if (step.state === 'done' || step.state === 'dropped')
    return <Button onClick={() => act('reopenStep')}>Take it up again</Button>
  return (
    <>
      <Button onClick={() => act('dropStep')}>Drop it</Button>
      <Button mark="finish" onClick={() => act('finishStep')}>
        It is done
      </Button>
    </>
  )
}

type StepActsProps = {
  readonly step: RecordOf<'step'>
  readonly attempt: ReturnType<typeof useTry>['attempt']
  readonly onDone: () => void
}
