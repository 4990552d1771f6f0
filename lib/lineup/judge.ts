/**
 * What a schema cannot say about a day problem: ids that are named but not there, ids given twice, spans that end
 * before they begin. A problem with findings is not solved; its maker is told.
 */
import type { Problem, ProblemFinding } from './problem.ts'

/** All that is wrong with the references and spans of a problem; empty when it may be solved. */
export function judgeProblem(problem: Problem): readonly ProblemFinding[] {
  const findings: ProblemFinding[] = []
  const known = (list: string, ids: readonly string[]): ReadonlySet<string> => {
    const seen = new Set<string>()
    for (const id of ids) {
      if (seen.has(id)) findings.push({ code: 'doubleId', list, id })
      seen.add(id)
    }
    return seen
  }
  const names = {
    person: known('people', idsOf(problem.people)),
    shift: known('shifts', idsOf(problem.shifts)),
    place: known('places', idsOf(problem.places)),
    piece: known('pieces', idsOf(problem.pieces)),
  }
  known('clocks', idsOf(problem.clocks))
  const refer = (list: string, kind: keyof typeof names, id: string | null): void => {
    if (id !== null && !names[kind].has(id)) findings.push({ code: 'unknownId', list, id })
  }
  const span = (list: string, id: string, from: number, to: number): void => {
    if (to <= from) findings.push({ code: 'wrongSpan', list, id })
  }
  for (const shift of problem.shifts) span('shifts', shift.id, shift.start, shift.end)
  for (const person of problem.people) {
    known(
      'people.presence',
      person.presence.map((presence) => `${person.id} ${presence.shift}`),
    )
    for (const presence of person.presence) {
      refer('people.presence', 'shift', presence.shift)
      span('people.presence', person.id, presence.from, presence.to)
    }
  }
  for (const place of problem.places) {
    for (const neighbour of place.neighbours) refer('places.neighbours', 'place', neighbour)
    for (const shift of place.closed) refer('places.closed', 'shift', shift)
  }
  for (const piece of problem.pieces) {
    known(
      'pieces.steps',
      piece.steps.map((step) => `${piece.id} ${step.id}`),
    )
    refer('pieces.tiedTo', 'place', piece.tiedTo)
    refer('pieces.at', 'place', piece.at)
    for (const step of piece.steps) span('pieces.steps.people', step.id, step.people.min, step.people.max + 1)
  }
  for (const list of ['holds', 'claims', 'begun', 'forbids'] as const) {
    for (const turn of problem[list]) {
      refer(list, 'person', turn.person)
      refer(list, 'shift', turn.shift)
      refer(list, 'piece', turn.piece)
      refer(list, 'place', turn.place)
    }
  }
  for (const clock of problem.clocks) {
    refer('clocks', 'shift', clock.shift)
    refer('clocks', 'piece', clock.piece)
  }
  return findings
}

function idsOf(entries: readonly { readonly id: string }[]): readonly string[] {
  return entries.map((entry) => entry.id)
}
