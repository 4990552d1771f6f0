// The number of a piece for a sentence, whichever kind it is.
import type { Records } from '#lib/words'

/** The number inked on it; a plain word for a piece the board does not have. */
export function numberOf(records: Records, pieceId: string): string {
  return records.specimen.get(pieceId)?.number ?? records.jacket.get(pieceId)?.fieldNumber ?? 'a piece'
}
