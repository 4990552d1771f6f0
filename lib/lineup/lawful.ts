/**
 * A solver's line-up as turns of the records: its ids are the records' own again, what stays of the day is in it, and
 * the rules that the gate will ask have gone over it. And what differs between two such days.
 */
import { isFinished, judgeDay, judgeHandsOfDay, type Turn, turnId } from '#lib/rules'
import type { Finding, RecordOf, Records } from '#lib/words'
import type { Assignment, Solution } from './problem.ts'

/** The fields of a turn that a post carries. */
export type Ids = Pick<RecordOf<'assignment'>, 'shiftId' | 'personId' | 'pieceId' | 'stepId' | 'placeId'>

/** A difference from the posted day. */
export interface ProposedChange {
  readonly shiftId: string
  readonly personId: string
  readonly code: 'added' | 'dropped' | 'work' | 'place'
  readonly before: Ids | null
  readonly after: Ids | null
}

/** The turns of a solution with those that stay, and what had to be left out because a rule finds fault with it. */
export function lawfulTurns(
  records: Records,
  date: string,
  kept: readonly Turn[],
  solution: Pick<Solution, 'lineUp'>,
): { readonly lawful: readonly Ids[]; readonly findings: readonly Finding[] } {
  const keptIds = new Set(kept.map((turn) => idOf(date, turn)))
  const drawn = solution.lineUp
    .map((turn) => turnOf(records, turn))
    .filter((turn): turn is Ids => turn !== null && !keptIds.has(idOf(date, turn)))
  return dropUnlawful(records, date, [...kept.map(idsOf), ...drawn], keptIds)
}

/** The id of a turn on a day. */
export const idOf = (date: string, turn: Turn): string => turnId(date, turn.shiftId, turn.personId)

/** The fields of a turn that a post carries. */
const idsOf = ({ shiftId, personId, pieceId, stepId, placeId }: Turn): Ids => ({
  shiftId,
  personId,
  pieceId,
  stepId,
  placeId,
})

/** The solver's plain ids as the records' own. */
function turnOf(records: Records, turn: Assignment): Ids | null {
  const shift = records.lab.get('lab')?.shifts.find(({ id }) => id === turn.shift)
  const person = records.person.get(turn.person)
  const step = records.step.get(turn.step)
  const place = records.place.get(turn.place)
  if (!shift || !person || !step || !place) return null
  return { shiftId: shift.id, personId: person.id, pieceId: step.pieceId, stepId: step.id, placeId: place.id }
}

/** The rules have the last word: a turn that they find fault with is taken out and told, until none is. */
function dropUnlawful(records: Records, date: string, turns: readonly Ids[], keptIds: ReadonlySet<string>) {
  let lawful = turns
  const findings: Finding[] = []
  const isOpenKept = (id: string | undefined) => id !== undefined && keptIds.has(id) && !isFinished(records, id)
  for (;;) {
    const found = [...judgeDay(records, date, lawful), ...judgeHandsOfDay(records, date, lawful)]
    const against = found.filter((one) => one.ids.assignment !== undefined && !keptIds.has(one.ids.assignment))
    const out = new Set(against.map((one) => one.ids.assignment))
    // What stands against turns that stay is told, so that nobody is surprised when the day is posted.
    if (out.size === 0)
      return { lawful, findings: [...findings, ...found.filter((one) => isOpenKept(one.ids.assignment))] }
    findings.push(...against)
    lawful = lawful.filter((turn) => !out.has(idOf(date, turn)))
  }
}

/** What differs between the two, in the order of the day, then by person. */
export function changesFrom(
  records: Records,
  date: string,
  posted: readonly Turn[],
  assignments: readonly Ids[],
): ProposedChange[] {
  const before = new Map(posted.map((turn) => [idOf(date, turn), turn]))
  const after = new Map(assignments.map((turn) => [idOf(date, turn), turn]))
  const order = records.lab.get('lab')?.shifts.map(({ id }): string => id) ?? []
  const changes: ProposedChange[] = []
  for (const id of new Set([...before.keys(), ...after.keys()])) {
    const [was, is] = [before.get(id) ?? null, after.get(id) ?? null]
    const turn = is ?? was
    const code = codeOf(was, is)
    if (!turn || code === null) continue
    const { shiftId, personId } = turn
    changes.push({ shiftId, personId, code, before: was && idsOf(was), after: is && idsOf(is) })
  }
  const rank = (change: ProposedChange) => order.indexOf(change.shiftId)
  return changes.sort((a, b) => rank(a) - rank(b) || (a.personId < b.personId ? -1 : 1))
}

function codeOf(was: Turn | null, is: Turn | null): ProposedChange['code'] | null {
  if (was === null) return is === null ? null : 'added'
  if (is === null) return 'dropped'
  if (was.pieceId !== is.pieceId || was.stepId !== is.stepId) return 'work'
  return was.placeId === is.placeId ? null : 'place'
}
