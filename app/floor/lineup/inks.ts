// Which ink everything has under a proposal: chalk for what changes and only that, full ink for what is held, the
// faint present for all else.
import type { Floor, TurnChange } from '#lib/views'
import type { Inks } from '../floor-plan.tsx'

/** The inks of a proposal over the present, for one shift. */
export function inksOf(present: Floor, proposed: Floor, here: readonly TurnChange[]): Inks {
  const changed = new Map(here.map((change) => [change.personId as string, change.n]))
  const held = new Set<string>()
  const heldPieces = new Set<string>()
  for (const { sitters } of proposed.places) {
    for (const sitter of sitters) {
      if (sitter.how !== 'held' || changed.has(sitter.personId)) continue
      held.add(sitter.personId)
      heldPieces.add(sitter.pieceId)
    }
  }
  const lay = new Set(
    present.places.flatMap(({ place, pieces }) => pieces.map((piece) => `${piece.pieceId} ${place.id}`)),
  )
  return {
    ofPerson: (id) => (changed.has(id) ? 'chalk' : held.has(id) ? 'ink' : 'faint'),
    ofPiece: (pieceId, placeId) =>
      !lay.has(`${pieceId} ${placeId}`) ? 'chalk' : heldPieces.has(pieceId) ? 'ink' : 'faint',
    changeOf: (id) => changed.get(id),
  }
}
