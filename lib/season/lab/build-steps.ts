/**
 * The steps of the season's tables: what waits for what, who has had it in hand, where it may be done, how long it
 * takes. A step that nobody may do, or nowhere, is stuck, and so is all that waits for it.
 */
import { at } from '#lib/base'
import type { Spread } from '#lib/forecast'
import { ceilingOf, givenOff, massKgOf, type Piece, stepsBefore, techniqueOf } from '#lib/rules'
import type { RecordOf, Records } from '#lib/words'
import { saltOf } from './chance.ts'
import { addBit, membersOf, wordsFor } from './masks.ts'
import { HANDS, type Sort } from './model.ts'

type Step = RecordOf<'step'>
type Place = RecordOf<'place'>

/** A piece with its open steps, in the order of its Sheet. */
export interface PieceWork {
  readonly piece: Piece
  readonly steps: readonly Step[]
  /** Nobody has seen what is inside. */
  readonly isUnseen: boolean
}

export interface StepSources {
  readonly works: readonly PieceWork[]
  readonly sorts: readonly Sort[]
  readonly sortOf: (piece: Piece, step: Step) => number
  /** Who can each sort, as in the tables. */
  readonly can: Int32Array
  readonly crew: readonly RecordOf<'person'>[]
  readonly places: readonly Place[]
  readonly airLimit: number
  readonly hoursOf: (step: Step) => Spread | null
}

/** A piece may hang over the bench by this much of its length. */
const OVERHANG = 1.1

/** Every step's row of the tables, piece by piece. */
export function tablesOfSteps(records: Records, sources: StepSources) {
  const { works, crew, places, hoursOf } = sources
  const rows = works.flatMap((work, piece) => work.steps.map((step) => ({ ...work, index: piece, step })))
  const indexOf = new Map(rows.map(({ step }, index) => [step.id as string, index]))
  const placeWords = wordsFor(places.length)
  const stepPlaces = new Int32Array(rows.length * placeWords)
  const stepHands = new Int32Array(rows.length * HANDS).fill(-1)
  const stepStuck = new Int32Array(rows.length)
  const personIndex = new Map(crew.map(({ id }, index) => [id as string, index]))
  const before: number[][] = rows.map(() => [])
  for (const [s, row] of rows.entries()) {
    for (const place of placesFor(records, row.piece, row.step, places)) addBit(stepPlaces, s * placeWords, place)
    const hands = row.step.by.flatMap(({ personId }) => personIndex.get(personId) ?? [])
    stepHands.set(hands.slice(0, HANDS), s * HANDS)
    for (const id of waitsFor(records, row.piece, row.step)) {
      const index = indexOf.get(id)
      if (index === undefined) stepStuck[s] = 1
      else before[s]?.push(index)
    }
    if (isStuck(records, row.piece, row.step, sources, membersOf(stepPlaces, s * placeWords, placeWords).length)) {
      stepStuck[s] = 1
    }
  }
  const { afterStart, after } = turnedRound(before)
  const spreads = rows.map(({ step }) => hoursOf(step))
  const whole = (of: (row: (typeof rows)[number]) => number) => Int32Array.from(rows, of)
  return {
    stepIds: rows.map(({ step }) => step.id as string),
    stepSalt: whole(({ step }) => saltOf(`step ${step.id}`)),
    stepPiece: whole(({ index }) => index),
    stepSort: whole(({ piece, step }) => sources.sortOf(piece, step)),
    stepMin: whole(({ step }) => step.peopleMin),
    stepMax: whole(({ step }) => Math.max(step.peopleMin, step.peopleMax)),
    stepMedian: Float64Array.from(spreads, (spread) => (spread?.median ?? UNPLANNED_H) * 60),
    stepLogSd: Float64Array.from(spreads, (spread) => spread?.logSd ?? UNPLANNED_LOG_SD),
    stepWaits: Int32Array.from(before, ({ length }) => length),
    afterStart,
    after,
    stepPlaces,
    stepHands,
    stepStuck,
  }
}

/** A step for which nothing was ever planned: about a half-day, or half of one, or two (from memory; no source). */
const UNPLANNED_H = 3
const UNPLANNED_LOG_SD = 0.7

/** Open steps before this one; and what is still in its jacket waits for the jacket's opening. */
function waitsFor(records: Records, piece: Piece, step: Step): readonly string[] {
  const own = stepsBefore(records, step).map(({ id }) => id as string)
  const jacketId = 'jacketId' in piece ? piece.jacketId : null
  const jacket = jacketId === null ? undefined : records.jacket.get(jacketId)
  if (jacket?.state !== 'sealed') return own
  const opening = [...records.step.values()].filter(
    ({ pieceId, state, techniqueId }) =>
      pieceId === jacket.id &&
      (state === 'waiting' || state === 'begun') &&
      techniqueOf(records, techniqueId)?.group === 'opening',
  )
  return [...new Set([...own, ...opening.map(({ id }) => id as string)])]
}

/** Places that have what the technique needs and bear the piece; where a tied piece lies, that place alone. */
function placesFor(records: Records, piece: Piece, step: Step, places: readonly Place[]): readonly number[] {
  const technique = techniqueOf(records, step.techniqueId)
  if (!technique) return []
  const fits: number[] = []
  for (const [index, place] of places.entries()) {
    const isOwn = piece.isTied && piece.placeId === place.id
    if (piece.isTied && piece.placeId !== null && !isOwn) continue
    if (!technique.needs.every((feature) => place.features.includes(feature))) continue
    if (place.isInView && givenOff(technique, place).length > 0) continue
    if (place.seats < step.peopleMin || (technique.airLpm > 0 && place.airLines < step.peopleMin)) continue
    const lengthM = Math.max(place.widthM, place.depthM) * OVERHANG
    if (massKgOf(piece) > place.loadKgMax || (!isOwn && piece.lengthM > lengthM)) continue
    fits.push(index)
  }
  return fits
}

function isStuck(records: Records, piece: Piece, step: Step, sources: StepSources, places: number): boolean {
  const technique = techniqueOf(records, step.techniqueId)
  if (!technique || places === 0) return true
  const ceiling = ceilingOf(records, piece.id)
  if (technique.force !== null && ceiling !== null && technique.force > ceiling) return true
  if (Math.ceil(technique.airLpm) * step.peopleMin > sources.airLimit) return true
  const words = wordsFor(sources.crew.length)
  return membersOf(sources.can, sources.sortOf(piece, step) * words, words).length < step.peopleMin
}

/** From "waits for" to "is waited for by", as one list with its starts. */
function turnedRound(before: readonly (readonly number[])[]) {
  const afterStart = new Int32Array(before.length + 1)
  for (const list of before) for (const b of list) afterStart[b + 1] = at(afterStart, b + 1) + 1
  for (let s = 0; s < before.length; s++) afterStart[s + 1] = at(afterStart, s + 1) + at(afterStart, s)
  const next = afterStart.slice()
  const after = new Int32Array(at(afterStart, before.length))
  for (const [s, list] of before.entries()) {
    for (const b of list) {
      after[at(next, b)] = s
      next[b] = at(next, b) + 1
    }
  }
  return { afterStart, after }
}
