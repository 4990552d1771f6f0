// The compressor's air in a shift, and what else of the room's plant is in use: the pipe on the Floor is drawn to
// scale from this. Used is drawn by people who are in, reserved is kept for those who are late.
import type { PlaceId, Records } from '#lib/words'
import type { Floor, Turn } from './floor-day.ts'

/** One length of the pipe. */
type AirPart = {
  readonly placeId: PlaceId
  readonly code: string
  readonly lpm: number
  readonly state: 'used' | 'reserved' | 'proposed'
}

export type Air = {
  readonly totalLpm: number
  readonly dutyPct: number
  readonly parts: readonly AirPart[]
  readonly freeLpm: number
}

/** The air pipe of a shift. A turn whose key is in `proposed` is drawn in chalk. */
export function airOf(records: Records, floor: Floor, proposed: ReadonlySet<string> = new Set()): Air {
  const lab = records.lab.get('lab')
  const totalLpm = lab ? Math.floor((lab.compressor.deliveryLpm * lab.compressor.dutyPct) / 100) : 0
  const parts: AirPart[] = []
  for (const { place, sitters } of floor.places) {
    const byState = new Map<AirPart['state'], number>()
    for (const sitter of sitters) {
      const lpm = lab?.techniques.find((technique) => technique.id === sitter.techniqueId)?.airLpm ?? 0
      if (lpm === 0 || sitter.look === 'away') continue
      const state = proposed.has(turnKey(sitter)) ? 'proposed' : sitter.look === 'late' ? 'reserved' : 'used'
      byState.set(state, (byState.get(state) ?? 0) + lpm)
    }
    for (const [state, lpm] of byState) parts.push({ placeId: place.id, code: place.code, lpm, state })
  }
  const order: readonly AirPart['state'][] = ['used', 'reserved', 'proposed']
  parts.sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state))
  const drawn = parts.reduce((sum, part) => sum + part.lpm, 0)
  return { totalLpm, dutyPct: lab?.compressor.dutyPct ?? 0, parts, freeLpm: Math.max(0, totalLpm - drawn) }
}

/** A turn named by its shift and person: rule R1 as a key. */
export const turnKey = (turn: Pick<Turn, 'shiftId' | 'personId'>): string => `${turn.shiftId}.${turn.personId}`

/** How many extraction arms and fume hoods there are, and how many are in use in the shift. */
export type Plant = {
  readonly extraction: { readonly used: number; readonly all: number }
  readonly hood: { readonly used: number; readonly all: number }
}

/** Extraction and hoods: a place's arm is in use when somebody there works with a technique that needs it. */
export function plantOf(records: Records, floor: Floor): Plant {
  const lab = records.lab.get('lab')
  const count = (feature: 'extraction' | 'fume hood') => {
    const places = floor.places.filter(({ place }) => place.features.includes(feature))
    const used = places.filter(({ sitters }) =>
      sitters.some((sitter) =>
        lab?.techniques.find((technique) => technique.id === sitter.techniqueId)?.needs.includes(feature),
      ),
    )
    return { used: used.length, all: places.length }
  }
  return { extraction: count('extraction'), hood: count('fume hood') }
}
