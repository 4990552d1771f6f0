'use client'
// The sign-offs of one technique as they were given, for staff; and the pieces that a new one may have been seen on.
import { pieceOf } from '#lib/rules'
import type { PersonId, PieceId, Records, TechniqueId } from '#lib/words'
import { Fold, Row, Rows } from '../_parts/controls/index.ts'
import { sayDate } from '../_text/index.ts'
import { type CrewAt, nameIn } from './use-crew-at.ts'
import { sayLevelLong } from './words.ts'

/** Number of a piece on the board; empty when there is none or it rests. */
export function numberOf(records: Records, pieceId: string | null | undefined): string {
  const piece = pieceId ? pieceOf(records, pieceId) : undefined
  return piece ? ('number' in piece ? piece.number : piece.fieldNumber) : ''
}

export type SeenPiece = { readonly id: PieceId; readonly number: string; readonly name: string }

/** Pieces that somebody has worked on, those with this technique first. */
export function seenPieces(records: Records, personId: PersonId, techniqueId: TechniqueId): readonly SeenPiece[] {
  const found = new Map<string, SeenPiece & { readonly isSame: boolean }>()
  for (const step of records.step.values()) {
    if (!step.by.some((one) => one.personId === personId)) continue
    const piece = pieceOf(records, step.pieceId)
    const isSame = step.techniqueId === techniqueId || found.get(step.pieceId)?.isSame === true
    const name = piece && ('number' in piece ? piece.name : piece.contents)
    if (piece) found.set(piece.id, { id: piece.id, number: numberOf(records, piece.id), name: name ?? '', isSame })
  }
  return [...found.values()].toSorted(
    (a, b) => Number(b.isSame) - Number(a.isSame) || (a.number < b.number ? -1 : a.number > b.number ? 1 : 0),
  )
}

type BeforeProps = { readonly at: CrewAt; readonly personId: PersonId; readonly techniqueId: TechniqueId }

/** What was signed before, newest first; each stays on record. */
export function SignOffsBefore({ at, personId, techniqueId }: BeforeProps) {
  const all = [...at.records.signing.values()]
    .filter((one) => one.personId === personId && one.techniqueId === techniqueId)
    .toSorted((a, b) => (a.at < b.at ? 1 : -1))
  if (all.length === 0) return null
  return (
    <Fold title={`Signed before, ${all.length}`}>
      <Rows label="Signed before">
        {all.map((one) => (
          <Row
            key={one.id}
            note={[
              one.by === null ? '' : `by ${nameIn(at.records, one.by)}`,
              one.pieceId === null ? '' : `on ${numberOf(at.records, one.pieceId)}`,
              one.expiresOn === null ? '' : `to ${sayDate(one.expiresOn, 'full')}`,
              one.note,
            ]
              .filter(Boolean)
              .join('; ')}
            end={sayDate(one.at.slice(0, 10), 'short')}
          >
            {sayLevelLong(one.level)}
          </Row>
        ))}
      </Rows>
    </Fold>
  )
}
