'use client'
// The lab's techniques: the ladder, gentlest first, and what stands apart from it. Figures of tools carry where they
// come from; what nobody has measured stays unknown and is not counted as nothing.
import { Feature, Hazard, type RecordOf, type TechniqueId, Technique as TechniqueWords } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { Button, Check, Fold, Select } from '../_parts/controls/index.ts'
import { KeptText } from '../room/kept-field.tsx'
import { Problem } from './problem.tsx'
import { Measured, ToolFigures } from './tool-figures.tsx'
import type { LabInHand } from './use-lab.ts'
import { useList } from './use-list.ts'

type Technique = RecordOf<'lab'>['techniques'][number]

/** All techniques, gentlest first. */
export function TechniquesForm(hand: LabInHand) {
  const newId = useNewId()
  const { all, problem, keepAll, edit, remove } = useList(hand, 'techniques')
  const ladder = all.filter((one) => one.force !== null).toSorted((a, b) => (a.force ?? 0) - (b.force ?? 0))
  const apart = all.filter((one) => one.force === null)
  /** Two rungs change places; the numbers of the ladder stay what they are. */
  const swap = (one: Technique, other: Technique | undefined) => {
    if (!other) return
    keepAll(
      all.map((each) =>
        each.id === one.id
          ? { ...each, force: other.force }
          : each.id === other.id
            ? { ...each, force: one.force }
            : each,
      ),
    )
  }
  const add = (isOnLadder: boolean) => {
    const force = isOnLadder ? Math.max(0, ...ladder.map((one) => one.force ?? 0)) + 1 : null
    keepAll([...all, { ...blank, id: newId() as TechniqueId, force, group: isOnLadder ? 'exposing' : 'other' }])
  }
  return (
    <div className="flex flex-col gap-4">
      <Problem say={problem} />
      <h3 className="heading text-say">The ladder, gentlest first</h3>
      <ol>
        {ladder.map((one, index) => (
          <li key={one.id} className="border-b border-line">
            <Entry
              technique={one}
              onEdit={(patch) => edit(one.id, patch)}
              onRemove={() => remove(one.id)}
              onGentler={index > 0 ? () => swap(one, ladder[index - 1]) : undefined}
              onStronger={index < ladder.length - 1 ? () => swap(one, ladder[index + 1]) : undefined}
            />
          </li>
        ))}
      </ol>
      <div>
        <Button mark="add" onClick={() => add(true)}>
          Add a rung
        </Button>
      </div>
      <h3 className="heading text-say">Apart from the ladder</h3>
      <ul>
        {apart.map((one) => (
          <li key={one.id} className="border-b border-line">
            <Entry technique={one} onEdit={(patch) => edit(one.id, patch)} onRemove={() => remove(one.id)} />
          </li>
        ))}
      </ul>
      <div>
        <Button mark="add" onClick={() => add(false)}>
          Add a technique
        </Button>
      </div>
    </div>
  )
}

const blank: Omit<Technique, 'id' | 'force' | 'group'> = {
  name: 'New technique',
  short: 'new',
  needs: [],
  airLpm: 0,
  runningPct: 0,
  vibrationMs2: null,
  vibrationSource: '',
  noiseDba: null,
  noiseSource: '',
  hazards: [],
}

function Entry({ technique, onEdit, onRemove, onGentler, onStronger }: EntryProps) {
  const facts = [
    technique.airLpm > 0 ? `${technique.airLpm} L/min` : '',
    figureOf(technique.vibrationMs2, 'm/s²', technique.hazards.includes('vibration') && 'vibration unknown'),
    figureOf(technique.noiseDba, 'dB(A)', technique.hazards.includes('noise') && 'noise unknown'),
    ...technique.needs,
  ].filter(Boolean)
  return (
    <Fold
      title={
        <>
          <span className="font-strong text-ink">{technique.name}</span>
          <span className="text-small font-plain">{facts.join(', ')}</span>
        </>
      }
    >
      <div className="flex flex-col gap-4 pb-5">
        <div className="grid gap-3 tablet:grid-cols-3">
          <KeptText label="Name" value={technique.name} onKeep={(name) => onEdit({ name })} />
          <KeptText label="Short, for tags" value={technique.short} onKeep={(short) => onEdit({ short })} />
          <Select
            label="Used for"
            value={technique.group}
            choices={TechniqueWords.shape.group.options.map((value) => ({ value, label: value }))}
            onValue={(group) => onEdit({ group: group as Technique['group'] })}
          />
        </div>
        <Ticks
          legend="A place must have"
          all={Feature.options}
          on={technique.needs}
          onChange={(needs) => onEdit({ needs: needs as Technique['needs'] })}
        />
        <Ticks
          legend="Cautions"
          all={Hazard.options}
          on={technique.hazards}
          onChange={(hazards) => onEdit({ hazards: hazards as Technique['hazards'] })}
        />
        <ToolFigures technique={technique} onEdit={onEdit} />
        <div className="grid gap-3 tablet:grid-cols-2">
          <KeptText label="What to wear" value={technique.wear ?? ''} onKeep={(wear) => onEdit({ wear })} />
          <KeptText
            label="What to do when it goes wrong"
            value={technique.whenWrong ?? ''}
            onKeep={(whenWrong) => onEdit({ whenWrong })}
          />
          <Measured
            label="Most a person is planned at it in a day"
            unit="min"
            max={1440}
            step={5}
            hint="Leave it empty for no cap."
            value={technique.benchMinutesMax ?? null}
            onKeep={(value) => onEdit({ benchMinutesMax: value === null ? undefined : Math.round(value) })}
          />
        </div>
        <div className="flex flex-wrap gap-2">
          {onGentler ? <Button onClick={onGentler}>One rung gentler</Button> : null}
          {onStronger ? <Button onClick={onStronger}>One rung stronger</Button> : null}
          <Button kind="quiet" onClick={onRemove}>
            Remove<span className="sr-only"> {technique.name}</span>
          </Button>
        </div>
      </div>
    </Fold>
  )
}

/** A figure with its unit; where it is missing, what is said of a tool that needs one. */
const figureOf = (value: number | null, unit: string, missing: string | false) =>
  value === null ? missing || '' : `${value} ${unit}`

function Ticks({ legend, all, on, onChange }: TicksProps) {
  return (
    <fieldset>
      <legend className="text-small font-firm text-umber">{legend}</legend>
      <div className="grid grid-cols-2 gap-x-4 tablet:grid-cols-4">
        {all.map((one) => (
          <Check
            key={one}
            label={one}
            isOn={on.includes(one)}
            onToggle={(isOn) => onChange(isOn ? [...on, one] : on.filter((each) => each !== one))}
          />
        ))}
      </div>
    </fieldset>
  )
}

type EntryProps = {
  readonly technique: Technique
  readonly onEdit: (patch: Partial<Technique>) => string | undefined
  readonly onRemove: () => void
  readonly onGentler?: (() => void) | undefined
  readonly onStronger?: (() => void) | undefined
}
type TicksProps = {
  readonly legend: string
  readonly all: readonly string[]
  readonly on: readonly string[]
  readonly onChange: (on: string[]) => void
}
