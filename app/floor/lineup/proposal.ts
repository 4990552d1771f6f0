// A proposal as it comes over the wire: the turns of the whole day, why each is as it is, who and what is left out. It
// comes in better and better versions while the solver works; the last one carries the reasons.
import type { Proposal, ProposedTurn, Reason, TurnLimit } from '#lib/lineup'
import type { Turn } from '#lib/views'

/** What the server answers to `drawUp`. */
export type DrawUpAnswer = Proposal | { readonly refused: string }

/** The question; `from` is the proposal on the table, so that a redraw changes as little of it as it can. */
export type DrawUpQuestion = {
  readonly date: string
  readonly redraw: boolean
  readonly from?: readonly Omit<Turn, 'how'>[]
  /** Turns that other days of the week need. */
  readonly limits?: readonly TurnLimit[]
}

/** The reason of a turn, by its person and shift. */
export function reasonOf(proposal: Proposal, turn: Pick<Turn, 'shiftId' | 'personId'>): Reason | undefined {
  return proposal.reasons.find((reason) => reason.person === turn.personId && reason.shift === turn.shiftId)
}

/** The proposed turn of a person in a shift. */
export function proposedOf(proposal: Proposal, turn: Pick<Turn, 'shiftId' | 'personId'>): ProposedTurn | undefined {
  return proposal.assignments.find((one) => one.personId === turn.personId && one.shiftId === turn.shiftId)
}

/** The fields of a turn that a post or a question carries. */
export function bareTurn({ shiftId, personId, pieceId, stepId, placeId }: Omit<Turn, 'how'>): Omit<Turn, 'how'> {
  return { shiftId, personId, pieceId, stepId, placeId }
}
