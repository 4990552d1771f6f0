// What a place must offer: the features a technique needs, an air line for each air tool, furniture that bears the
// pieces, and being in use at all. And a piece that is tied is worked on where it is.
import { type Finding, finding, type Place } from '#lib/words'
import type { DayView } from './day.ts'
import { massKgOf, type Piece } from './find.ts'

/** True when the place is out of use on a date. */
export function isClosedOn(place: Readonly<Place>, date: string): boolean {
  return place.closedUntil !== null && date < place.closedUntil
}

/** Features, air lines and closures: what does not depend on the piece. */
export function judgeStations(day: DayView): readonly Finding[] {
  const findings: Finding[] = []
  const lines = new Map<string, number>()
  for (const one of day.turns) {
    const ids = { assignment: one.id, person: one.person.id, place: one.place.id, technique: one.technique.id }
    if (isClosedOn(one.place, day.date) && one.works.length === 0) {
      findings.push(finding('O', 'place-closed', { ...ids, until: one.place.closedUntil ?? '' }))
    }
    for (const feature of one.technique.needs) {
      if (!one.place.features.includes(feature)) findings.push(finding('O', 'place-lacks', { ...ids, feature }))
    }
    if (one.technique.airLpm === 0) continue
    const key = `${one.shift.id} ${one.place.id}`
    const used = (lines.get(key) ?? 0) + 1
    lines.set(key, used)
    if (used > one.place.airLines) {
      findings.push(finding('O', 'place-air-lines', ids, { airLines: one.place.airLines, wanted: used }))
    }
  }
  return findings
}

/** Load of the furniture and tied pieces: what depends on the piece. */
export function judgeLoads(day: DayView): readonly Finding[] {
  const findings: Finding[] = []
  const lying = new Map<string, Map<string, Piece>>()
  for (const one of day.turns) {
    const ids = { assignment: one.id, person: one.person.id, place: one.place.id, piece: one.piece.id }
    if (one.piece.isTied && one.piece.placeId && one.piece.placeId !== one.place.id) {
      findings.push(finding('O', 'piece-tied', { ...ids, at: one.piece.placeId }))
    }
    const key = `${one.shift.id} ${one.place.id}`
    const here = lying.get(key) ?? new Map<string, Piece>()
    lying.set(key, here)
    if (here.has(one.piece.id)) continue
    here.set(one.piece.id, one.piece)
    const massKg = [...here.values()].reduce((sum, piece) => sum + massKgOf(piece), 0)
    if (massKg > one.place.loadKgMax + 1e-6) {
      findings.push(finding('O', 'place-load', ids, { massKg, loadKgMax: one.place.loadKgMax }))
    }
  }
  return findings
}
