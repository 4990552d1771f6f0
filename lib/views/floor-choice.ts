// What can be chosen when somebody is seated by hand: the pieces with a step that may be done next, those that lie at
// the place first, then the dated ones; and the steps themselves, in the order of the Sheet.
import { stepsBefore } from '#lib/rules'
import type { PieceId, RecordOf, Records } from '#lib/words'

/** Steps of a piece that may be done next: neither done nor waiting for another. */
export function openSteps(records: Records, pieceId: string): readonly RecordOf<'step'>[] {
  return [...records.step.values()]
    .filter((step) => step.pieceId === pieceId && isOpen(step) && stepsBefore(records, step).length === 0)
    .toSorted((a, b) => a.rank - b.rank)
}

const isOpen = (step: RecordOf<'step'>): boolean => step.state === 'waiting' || step.state === 'begun'

/** A piece that can be sat down to. */
export type PieceChoice = {
  readonly pieceId: PieceId
  readonly number: string
  readonly name: string
  readonly isHere: boolean
}

/** Pieces with a next step: lying at the place, dated by date, then by number. */
export function pieceChoices(records: Records, placeId: string, date: string): readonly PieceChoice[] {
  const due = new Map<string, string>()
  for (const one of records.due.values()) {
    const first = due.get(one.pieceId)
    if (one.state === 'accepted' && one.date >= date && (!first || one.date < first)) due.set(one.pieceId, one.date)
  }
  const withStep = new Set<string>()
  for (const step of records.step.values()) {
    if (isOpen(step) && stepsBefore(records, step).length === 0) withStep.add(step.pieceId)
  }
  const choices: PieceChoice[] = []
  for (const id of withStep) {
    const specimen = records.specimen.get(id)
    const piece = specimen ?? records.jacket.get(id)
    if (!piece) continue
    choices.push({
      pieceId: piece.id,
      number: specimen ? specimen.number : 'fieldNumber' in piece ? piece.fieldNumber : '',
      name: specimen ? specimen.name : 'contents' in piece ? piece.contents : '',
      isHere: piece.placeId === placeId,
    })
  }
  const rank = (one: PieceChoice) => (one.isHere ? '' : (due.get(one.pieceId) ?? '~'))
  return choices.toSorted((a, b) => {
    const [p, q] = [rank(a), rank(b)]
    return p < q ? -1 : p > q ? 1 : a.number < b.number ? -1 : 1
  })
}

/** How many pieces wait: a step may be done next, and nobody is assigned to them on the date. */
export function waitingOf(records: Records, date: string): number {
  const assigned = new Set<string>()
  for (const turn of records.assignment.values()) if (turn.date === date) assigned.add(turn.pieceId)
  return pieceChoices(records, '', date).filter((one) => !assigned.has(one.pieceId)).length
}
