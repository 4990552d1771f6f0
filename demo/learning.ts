// What newcomers to the invented lab go through, and the ways in which its people learn.
import { addDays } from '#lib/base'
import type { Draft } from './dice.ts'

type Lab = Draft<'lab'>
type Person = Draft<'person'>

const items = [
  ['exits', 'Fire exits and assembly point', true],
  ['firstaid', 'Eyewash, first aid, whom to call', true],
  ['lifting', 'How heavy things are lifted here', true],
  ['records', 'What is written down, and when', false],
] as const

/** The induction, asked for since long before today. */
export const demoInduction = (today: string): NonNullable<Lab['induction']> =>
  items.map(([id, name, isRequired]) => ({ id, name, isRequired, from: addDays(today, -300) }))

const skill = (techniqueId: string, level: number) => ({ kind: 'skill' as const, techniqueId, level })

/** Two ways to learn. */
export const demoPaths: NonNullable<Lab['paths']> = [
  {
    id: 'fine-work',
    name: 'Fine work',
    steps: [
      { kind: 'item', itemId: 'records' },
      ...[skill('brush', 2), skill('needle', 1), skill('needle', 2), skill('scalpel', 1), skill('scalpel', 2)],
      ...[skill('needle', 3), skill('fine-scribe', 1), skill('fine-scribe', 2)],
    ],
  },
  {
    id: 'putting-together',
    name: 'Putting together',
    steps: [
      skill('consolidating', 1),
      skill('joining', 1),
      skill('consolidating', 2),
      skill('joining', 2),
      skill('filling', 2),
    ],
  },
]

const followers: Readonly<Record<string, string>> = {
  amara: 'fine-work',
  hamish: 'fine-work',
  farid: 'putting-together',
}

/** What one of the crew has been through, and the path they follow. Whoever came last has yet to hear of the records. */
export function demoLearning({ id, since }: Person, today: string): Pick<Person, 'inducted' | 'pathId' | 'crafts'> {
  const isNew = since > addDays(today, -250)
  const been = items.filter(([, , isRequired]) => isRequired || !isNew)
  const on = since > addDays(today, -300) ? addDays(since, 1) : addDays(today, -299)
  return {
    inducted: been.map(([itemId]) => ({ itemId, by: 'thea', on })),
    pathId: followers[id] ?? null,
    crafts: { amara: ['microscope work', 'drawing'], hamish: ['carpentry'] }[id] ?? [],
  }
}
