/** What differs between two line-ups, person by person and shift by shift, as data for a list of changes in words. */
import { lookupOf, minutesIn } from './appraise.ts'
import type { Assignment, Problem } from './problem.ts'

export interface Difference {
  readonly person: string
  readonly shift: string
  readonly before: Assignment | null
  readonly after: Assignment | null
  /** False when the person is no longer in for that shift: not a change that somebody chose. */
  readonly isPresent: boolean
  readonly code: 'work' | 'place' | 'mentor' | 'added' | 'dropped'
}

/** Every turn that is not the same in both, in the order of the day, then by person. */
export function diff(
  problem: Problem,
  before: readonly Assignment[],
  after: readonly Assignment[],
): readonly Difference[] {
  const lookup = lookupOf(problem)
  const key = (turn: Assignment): string => `${turn.shift}\n${turn.person}`
  const old = new Map(before.map((turn) => [key(turn), turn]))
  const now = new Map(after.map((turn) => [key(turn), turn]))
  const differences: Difference[] = []
  for (const shift of lookup.order) {
    const people = new Set([...before, ...after].filter((turn) => turn.shift === shift).map((turn) => turn.person))
    for (const person of [...people].sort()) {
      const [was, is] = [old.get(`${shift}\n${person}`) ?? null, now.get(`${shift}\n${person}`) ?? null]
      const code = codeOf(was, is)
      if (code === null) continue
      const isPresent = minutesIn(lookup, person, shift) >= 15
      differences.push({ person, shift, before: was, after: is, isPresent, code })
    }
  }
  return differences
}

function codeOf(was: Assignment | null, is: Assignment | null): Difference['code'] | null {
  if (was === null) return is === null ? null : 'added'
  if (is === null) return 'dropped'
  if (was.piece !== is.piece || was.step !== is.step) return 'work'
  if (was.place !== is.place) return 'place'
  return was.mentor === is.mentor ? null : 'mentor'
}
