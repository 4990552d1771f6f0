// Where somebody stands on the learning path they follow: the first step that is not reached is the next.
import type { LearningPath, PathStep, Person, Records } from '#lib/words'
import { labOf, levelOf } from './find.ts'
import { hasItem } from './induction.ts'

/** A path as one person has come along it. */
type OnPath = {
  readonly path: LearningPath
  /** Steps of it that are reached, wherever they stand. */
  readonly reached: readonly boolean[]
  /** The first that is not; null at the end of the path. */
  readonly next: PathStep | null
}

/** Where a person is on their path on a date; null for who follows none. */
export function pathOf(records: Records, person: Readonly<Person>, date: string): OnPath | null {
  const path = labOf(records)?.paths?.find(({ id }) => id === person.pathId)
  if (!path) return null
  const reached = path.steps.map((step) =>
    step.kind === 'skill' ? levelOf(person, step.techniqueId, date) >= step.level : hasItem(person, step.itemId),
  )
  return { path, reached, next: path.steps[reached.indexOf(false)] ?? null }
}
