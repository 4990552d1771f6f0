// What a rack bears: all that stands on it by the board's word, with the housings, against its rating. A mass is a range
// until somebody weighs; over by the lower figure is over, over by the upper one alone is asked about.
import { type Finding, finding, type Rack, type Records } from '#lib/words'
import { massRange, type Piece } from './find.ts'

/** Lower and upper mass of a piece as it stands on a rack, with its housing, in kg. */
export function standingKg(piece: Piece): { readonly lowKg: number; readonly highKg: number } {
  const housedKg = 'fieldNumber' in piece ? undefined : piece.housedKg
  if (housedKg !== undefined) return { lowKg: housedKg, highKg: housedKg }
  return massRange(piece)
}

/** Racks that a shelf is part of: `rack 2, shelf b` stands on `rack 2` and on `rack 2, shelf b`. */
function racksOf(records: Records, shelf: string): readonly Readonly<Rack>[] {
  const wanted = plain(shelf)
  if (wanted === '') return []
  return [...records.rack.values()].filter(({ name }) => {
    const own = plain(name)
    return wanted === own || (wanted.startsWith(own) && /[\s,;/·-]/.test(wanted.charAt(own.length)))
  })
}

export type RackLoad = {
  readonly rack: Readonly<Rack>
  /** What stands there without the piece asked about, kg. */
  readonly standsLowKg: number
  readonly standsHighKg: number
  readonly pieces: number
}

/** What has been taken out of each jacket, in kg: it weighs so much less. `piece` counts as it is asked about. */
function takenOut(records: Records, piece: Piece | null): ReadonlyMap<string, { lowKg: number; highKg: number }> {
  const taken = new Map<string, { lowKg: number; highKg: number }>()
  const asked = piece && !('fieldNumber' in piece) ? [piece] : []
  for (const one of [...[...records.specimen.values()].filter(({ id }) => id !== piece?.id), ...asked]) {
    if (one.jacketId === null) continue
    const { lowKg, highKg } = massRange(one)
    const sum = taken.get(one.jacketId) ?? { lowKg: 0, highKg: 0 }
    sum.lowKg += lowKg
    sum.highKg += highKg
    taken.set(one.jacketId, sum)
  }
  return taken
}

/** The loads of the racks a shelf is part of, as the board knows them, without the piece asked about. */
export function rackLoads(records: Records, shelf: string, asked: Piece | null): readonly RackLoad[] {
  const racks = racksOf(records, shelf)
  if (racks.length === 0) return []
  const taken = takenOut(records, asked)
  const sums = new Map(racks.map((rack) => [rack.id, { standsLowKg: 0, standsHighKg: 0, pieces: 0 }]))
  for (const table of [records.jacket, records.specimen] as const)
    for (const piece of table.values()) {
      const isGone = 'fieldNumber' in piece ? piece.state === 'empty' : piece.stage === 'released'
      if (piece.id === asked?.id || piece.placeId !== null || isGone) continue
      for (const { id } of racksOf(records, piece.shelf)) {
        const sum = sums.get(id)
        if (!sum) continue
        const { lowKg, highKg } = standingKg(piece)
        const out = taken.get(piece.id)
        sum.standsLowKg += Math.max(0, lowKg - (out?.lowKg ?? 0))
        sum.standsHighKg += Math.max(0, highKg - (out?.highKg ?? 0))
        sum.pieces += 1
      }
    }
  return racks.map((rack) => ({ rack, ...(sums.get(rack.id) ?? { standsLowKg: 0, standsHighKg: 0, pieces: 0 }) }))
}

/** What stands against a piece standing there: over the rating for sure, or perhaps and nobody gave a reason. */
export function judgeRack(records: Records, piece: Piece): readonly Finding[] {
  if (piece.placeId !== null) return []
  const { lowKg, highKg } = standingKg(piece)
  const isAnswered = (piece.standsDespite ?? '').trim() !== ''
  return rackLoads(records, piece.shelf, piece).flatMap(({ rack, standsLowKg, standsHighKg }) => {
    const ids = { piece: piece.id, rack: rack.name }
    const [lowest, highest] = [standsLowKg + lowKg, standsHighKg + highKg]
    const numbers = { lowKg: lowest, highKg: highest, ratedKg: rack.ratedKg, pieceKg: highKg, standsKg: standsHighKg }
    if (lowest > rack.ratedKg + 1e-6) return [finding('O', 'rack-over', ids, numbers)]
    return highest > rack.ratedKg + 1e-6 && !isAnswered ? [finding('O', 'rack-perhaps-over', ids, numbers)] : []
  })
}

const plain = (text: string): string => text.trim().toLocaleLowerCase('en').replace(/\s+/g, ' ')
