// A proposal as the screen reads it: the turns of the whole day, why each is as it is, who and what is left out. It
// comes in parts while the solver works; the last one says done.
import type { LeftOut, Reason } from '#lib/lineup'
import { type Turn, turnKey } from '#lib/views'
import type { Records } from '#lib/words'

/** One turn as it is drawn up. */
export type DrawnTurn = Pick<Turn, 'shiftId' | 'personId' | 'pieceId' | 'stepId' | 'placeId'>

/** What the server answers to `drawUp`. */
export type DrawUpAnswer =
  | { readonly refused: string }
  | { readonly proposal: Proposal | null; readonly seconds?: number }

export type Proposal = {
  readonly date: string
  readonly assignments: readonly DrawnTurn[]
  readonly reasons: readonly Reason[]
  readonly leftOut: readonly LeftOut[]
}

/** The proposal's turns as the Floor shows them: held where a hold says so, claimed where somebody claimed. */
export function turnsOfProposal(records: Records, proposal: Proposal): readonly Turn[] {
  return proposal.assignments.map((turn) => ({ ...turn, how: howOf(records, proposal.date, turn) }))
}

function howOf(records: Records, date: string, turn: DrawnTurn): Turn['how'] {
  const id = `${date}.${turnKey(turn)}`
  const hold = records.hold.get(id)
  if (hold && hold.pieceId === turn.pieceId && hold.placeId === turn.placeId) return 'held'
  const posted = records.assignment.get(id)
  const isKept = posted?.pieceId === turn.pieceId && posted.placeId === turn.placeId
  return isKept && posted.how !== 'drawn' ? posted.how : 'drawn'
}

/** The reason of a turn, by its person and shift. */
export function reasonOf(proposal: Proposal, turn: Pick<Turn, 'shiftId' | 'personId'>): Reason | undefined {
  return proposal.reasons.find((reason) => reason.person === turn.personId && reason.shift === turn.shiftId)
}
