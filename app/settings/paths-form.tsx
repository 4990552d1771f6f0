'use client'
// Ways to learn, step by step: a level in a technique or an item of the induction. Who follows which is said on their page.
import type { LearningPath, PathStep, TechniqueId } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { Button, Fold, Select } from '../_parts/controls/index.ts'
import { sayLevel } from '../_text/index.ts'
import { KeptText } from '../room/kept-field.tsx'
import { Problem } from './problem.tsx'
import type { LabInHand } from './use-lab.ts'
import { useList } from './use-list.ts'

/** All paths, and one more. */
export function PathsForm(hand: LabInHand) {
  const { lab } = hand
  const newId = useNewId()
  const { all: paths, problem, keepAll, edit, remove } = useList(hand, 'paths')
  const first = lab.techniques[0]
  return (
    <div className="flex flex-col gap-2">
      {paths.length === 0 ? <p className="text-umber">No path yet.</p> : null}
      {paths.map((path) => (
        <Fold key={path.id} title={<span className="font-strong text-ink">{path.name}</span>}>
          <div className="flex flex-col gap-3 pb-5">
            <KeptText label="Name of the path" value={path.name} onKeep={(name) => edit(path.id, { name })} />
            <Steps lab={lab} path={path} onChange={(steps) => edit(path.id, { steps: [...steps] })} />
            <div>
              <Button kind="quiet" onClick={() => remove(path.id)}>
                Remove<span className="sr-only"> {path.name}</span>
              </Button>
            </div>
          </div>
        </Fold>
      ))}
      <Problem say={problem} />
      <div>
        <Button
          mark="add"
          disabled={!first}
          onClick={() => {
            if (!first) return
            const step: PathStep = { kind: 'skill', techniqueId: first.id, level: 1 }
            keepAll([...paths, { id: newId(), name: `Path ${paths.length + 1}`, steps: [step] }])
          }}
        >
          Add a path
        </Button>
      </div>
    </div>
  )
}

/** `skill needle 2`, `item fire`: a step as the value of a list. */
const keyOfStep = (step: PathStep) =>
  step.kind === 'skill' ? `skill ${step.techniqueId} ${step.level}` : `item ${step.itemId}`

function stepOf(value: string): PathStep {
  const [kind, id = '', level] = value.split(' ')
  // The lists hold nothing but what `keyOfStep` made of the lab's own techniques and items.
  if (kind === 'skill') return { kind, techniqueId: id as TechniqueId, level: Number(level) }
  return { kind: 'item', itemId: id }
}

function Steps({ lab, path, onChange }: StepsProps) {
  const { steps } = path
  const choices = [
    ...(lab.induction ?? []).map((item) => ({
      value: keyOfStep({ kind: 'item', itemId: item.id }),
      label: `Induction: ${item.name}`,
    })),
    ...lab.techniques.flatMap((technique) =>
      ([1, 2, 3, 4] as const).map((level) => ({
        value: keyOfStep({ kind: 'skill', techniqueId: technique.id, level }),
        label: `${technique.name}, ${level} ${sayLevel(level)}`,
      })),
    ),
  ]
  const swapped = (index: number) =>
    steps.map((step, n) => steps[n === index ? index - 1 : n === index - 1 ? index : n] ?? step)
  return (
    <ol aria-label={`Steps of ${path.name}`} className="flex flex-col gap-3">
      {steps.map((step, index) => (
        // A step is known by its place, and may stand twice.
        <li key={index} className="flex flex-wrap items-end gap-3">
          <Select
            className="min-w-64 flex-1"
            label={`Step ${index + 1}`}
            value={keyOfStep(step)}
            choices={choices}
            onValue={(value) => onChange(steps.map((one, n) => (n === index ? stepOf(value) : one)))}
          />
          <Button
            kind="quiet"
            disabled={index === 0}
            label={`Step ${index + 1} earlier`}
            onClick={() => onChange(swapped(index))}
          >
            Earlier
          </Button>
          <Button
            kind="quiet"
            disabled={steps.length === 1}
            label={`Remove step ${index + 1}`}
            onClick={() => onChange(steps.filter((_, n) => n !== index))}
          >
            Remove
          </Button>
        </li>
      ))}
      <li>
        <Button
          mark="add"
          onClick={() => {
            const last = steps.at(-1)
            if (!last) return
            onChange([...steps, last.kind === 'skill' && last.level < 4 ? { ...last, level: last.level + 1 } : last])
          }}
        >
          Add a step
        </Button>
      </li>
    </ol>
  )
}

type StepsProps = {
  readonly lab: LabInHand['lab']
  readonly path: LearningPath
  readonly onChange: (steps: readonly PathStep[]) => void
}
