/**
 * From the lab's records to the tables of its season (model.ts). What the rules forbid for good is impossible in the
 * tables: a technique above the force ceiling, a place without the features, a piece too heavy or too long for it.
 */
import { addDays, atDouble, daysBetween } from '#lib/base'
import { type HoursOutlook, hoursOutlook, type Spread } from '#lib/forecast'
import { noiseLevel, vibrationPoints } from '#lib/limits'
import {
  airLimitLpm,
  backgroundFor,
  labOf,
  levelOf,
  loudnessIn,
  massKgOf,
  type Piece,
  pieceOf,
  techniqueOf,
} from '#lib/rules'
import type { RecordOf, Records, Technique } from '#lib/words'
import type { Assumed } from '../words.ts'
import { ALONE, calendarOf, crewOf, DELICATE, presenceMasks, renewalsOf } from './build-people.ts'
import { type PieceWork, tablesOfSteps } from './build-steps.ts'
import { saltOf } from './chance.ts'
import { givenOf } from './given.ts'
import { addBit, wordsFor } from './masks.ts'
import type { LabModel, Sort } from './model.ts'
import { cureDaysOf, soakDaysOf } from './waits.ts'

type Step = RecordOf<'step'>
type Place = RecordOf<'place'>

export interface SeasonOptions {
  /** First day of the season, the lab's local date. */
  readonly from: string
  /** Minute of that day now; half-days that are over are gone. 0 for the whole day. */
  readonly minute?: number
  readonly weeks: number
  /** Hours left on a step; the forecast's own when not given. Null: nothing was ever planned for it. */
  readonly hoursOf?: (step: Step) => Spread | null
  /** Share of a step's misjudgement that its piece's other steps have too, 0 to 1. */
  readonly linkage?: number
}

export interface LabSeason {
  readonly model: LabModel
  readonly assumed: Assumed
}

/** Beyond the last day of any season. */
const NEVER = 1_000_000

/** The season's tables. */
export function buildSeason(records: Records, { from, weeks, minute = 0, ...options }: SeasonOptions): LabSeason {
  const days = weeks * 7
  const calendar = calendarOf(records, from, days, minute)
  const crew = crewOf(records, from)
  const peopleWords = wordsFor(crew.length)
  const present = presenceMasks(records, crew, from, calendar, peopleWords)
  const given = givenOf(records, crew, from)
  const places = placesOf(records)
  const works = worksOf(records)
  const sorts = sortsOf(records, works)
  const outlook = hoursOutlook(records)
  const linkage = options.linkage ?? usualLinkage(works, outlook)
  const ofSorts = tablesOfSorts(records, sorts, crew, from)
  const keys = new Map(sorts.map(({ techniqueId, level }, index) => [`${techniqueId} ${level}`, index]))
  const model: LabModel = {
    from,
    days,
    slotCount: calendar.slotDay.length,
    ...calendar,
    slotMinutes: calendar.slotLength.map((length) => Math.round(length * given.workShare)),
    personIds: crew.map(({ id }) => id),
    peopleWords,
    present,
    personSalt: Int32Array.from(crew, ({ id }) => saltOf(id)),
    personAway: given.away.map((share) => Math.round(share * 2 ** 32)),
    ...ofSorts,
    ...tablesOfPlaces(places, works, from, resting(records, works)),
    ...tablesOfPieces(works, places),
    shared: Math.sqrt(linkage),
    own: Math.sqrt(1 - linkage),
    ...tablesOfSteps(records, {
      works,
      sorts,
      sortOf: (piece, { techniqueId }) => keys.get(`${techniqueId} ${levelFor(piece)}`) ?? 0,
      can: ofSorts.can,
      crew,
      places,
      airLimit: ofSorts.airLimit,
      hoursOf: options.hoursOf ?? outlook.leftOf,
    }),
  }
  const renewals = renewalsOf(crew, from, addDays(from, days))
  return { model, assumed: { renewals, awayShare: meanOf(given.away), workShare: given.workShare } }
}

/** Pieces with something left to do: specimens not released, jackets opened or chosen for the season. */
function worksOf(records: Records): readonly PieceWork[] {
  const open = new Map<string, Step[]>()
  for (const step of records.step.values()) {
    if (step.state !== 'waiting' && step.state !== 'begun') continue
    const list = open.get(step.pieceId)
    if (list) list.push(step)
    else open.set(step.pieceId, [step])
  }
  const works: PieceWork[] = []
  for (const [pieceId, steps] of open) {
    const piece = pieceOf(records, pieceId)
    if (!piece || !isToBeWorked(piece)) continue
    works.push({
      piece,
      steps: steps.toSorted((a, b) => a.rank - b.rank || (a.id < b.id ? -1 : 1)),
      isUnseen: isSealed(piece),
    })
  }
  return works.sort((a, b) => (a.piece.id < b.piece.id ? -1 : 1))
}

const isToBeWorked = (piece: Piece): boolean =>
  'stage' in piece
    ? piece.stage !== 'released'
    : piece.state === 'opened' || (piece.state === 'sealed' && piece.isInSeason)

/** Places somebody can sit at, the plainest first. */
function placesOf(records: Records): readonly Place[] {
  return [...records.place.values()]
    .filter(({ seats }) => seats > 0)
    .sort((a, b) => a.features.length - b.features.length || (a.id < b.id ? -1 : 1))
}

/** What the forecast says of linkage, over all steps to be worked. */
function usualLinkage(works: readonly PieceWork[], { leftOf }: HoursOutlook): number {
  const shares = works.flatMap(({ steps }) => steps.flatMap((step) => leftOf(step)?.linkage ?? []))
  return shares.length === 0 ? 0 : shares.reduce((sum, share) => sum + share, 0) / shares.length
}

const isSealed = (piece: Piece): boolean => ('stage' in piece ? piece.stage : piece.state) === 'sealed'

const levelFor = (piece: Piece): number => ('isPriority' in piece && piece.isPriority ? DELICATE : ALONE)

function sortsOf(records: Records, works: readonly PieceWork[]): readonly Sort[] {
  const sorts = new Map<string, Sort>()
  for (const { piece, steps } of works) {
    const level = levelFor(piece)
    for (const { techniqueId } of steps) sorts.set(`${techniqueId} ${level}`, { techniqueId, level })
  }
  const order = (labOf(records)?.techniques ?? []).map(({ id }) => id as string)
  const rank = ({ techniqueId, level }: Sort) => order.indexOf(techniqueId) * 10 + level
  return [...sorts.values()].sort((a, b) => rank(a) - rank(b) || (a.techniqueId < b.techniqueId ? -1 : 1))
}

function tablesOfSorts(records: Records, sorts: readonly Sort[], crew: readonly RecordOf<'person'>[], from: string) {
  const words = wordsFor(crew.length)
  const can = new Int32Array(sorts.length * words)
  for (const [s, { techniqueId, level }] of sorts.entries()) {
    for (const [p, person] of crew.entries()) {
      if (levelOf(person, techniqueId, from) >= level) addBit(can, s * words, p)
    }
  }
  const limits = labOf(records)?.limits
  const techniques = sorts.map(({ techniqueId }) => techniqueOf(records, techniqueId))
  const whole = (of: (technique: Readonly<Technique>) => number) =>
    Int32Array.from(techniques, (technique) => (technique ? of(technique) : 0))
  const sortVibration = Float64Array.from(techniques, (technique) => vibrationAnHour(technique))
  const sortNoise = Float64Array.from(techniques, (technique) => noiseAnHour(records, technique))
  return {
    sorts,
    can,
    canLater: can,
    canLaterDay: NEVER,
    sortAir: whole(({ airLpm }) => Math.ceil(airLpm)),
    airLimit: Math.floor(airLimitLpm(records) + 1e-6),
    sortVibration,
    sortNoise,
    sortExposes: Int32Array.from(sortVibration, (points, sort) => (points + atDouble(sortNoise, sort) > 0 ? 1 : 0)),
    vibrationLimit: limits?.vibrationPoints ?? 0,
    noiseLimit: 100,
    sortCure: whole(cureDaysOf),
    sortSoak: whole(soakDaysOf),
  }
}

/** Points of an hour at the place, of which the tool runs its usual share. */
const vibrationAnHour = (technique: Readonly<Technique> | undefined): number =>
  technique?.vibrationMs2
    ? vibrationPoints([{ vibrationMs2: technique.vibrationMs2, minutes: runningMinutes(technique) }])
    : 0

/** Hundredths of the lab's daily noise limit for an hour at the place: equal energy, so hours add up. */
function noiseAnHour(records: Records, technique: Readonly<Technique> | undefined): number {
  if (!technique || technique.noiseDba === null) return 0
  const levelDba = loudnessIn(technique.noiseDba, backgroundFor(records, technique))
  const level = noiseLevel([{ levelDba, minutes: runningMinutes(technique) }])
  return level === null ? 0 : 100 * 10 ** ((level - (labOf(records)?.limits.noiseDba ?? 0)) / 10)
}

const runningMinutes = ({ runningPct }: Readonly<Technique>): number => (60 * runningPct) / 100

/**
 * Places taken for good: what is tied there has no work left and must be moved by somebody first, or two pieces are tied
 * to a place that takes one.
 */
function resting(records: Records, works: readonly PieceWork[]): ReadonlySet<string> {
  const worked = new Set<string>(works.map(({ piece }) => piece.id))
  const tiedAt = new Set<string>()
  const taken = new Set<string>()
  for (const pieces of [records.specimen, records.jacket]) {
    for (const { id, isTied, placeId } of pieces.values()) {
      if (!isTied || placeId === null) continue
      if (tiedAt.has(placeId) || !worked.has(id)) taken.add(placeId)
      tiedAt.add(placeId)
    }
  }
  return taken
}

function tablesOfPlaces(
  places: readonly Place[],
  works: readonly PieceWork[],
  from: string,
  taken: ReadonlySet<string>,
) {
  const tied = new Int32Array(places.length).fill(-1)
  for (const [index, { piece }] of works.entries()) {
    const place = piece.isTied ? places.findIndex(({ id }) => id === piece.placeId) : -1
    if (place >= 0 && places[place]?.isExclusive) tied[place] = index
  }
  const whole = (of: (place: Place) => number) => Int32Array.from(places, of)
  return {
    placeIds: places.map(({ id }) => id),
    placeKinds: places.map(({ kind }) => kind),
    placeWords: wordsFor(places.length),
    placeSeats: whole(({ seats }) => seats),
    placeAirLines: whole(({ airLines }) => airLines),
    placeExclusive: whole(({ isExclusive }) => (isExclusive ? 1 : 0)),
    placeLoad: whole(({ loadKgMax }) => Math.floor(loadKgMax)),
    placeOpenDay: whole(({ id, isExclusive, closedUntil }) => {
      if (isExclusive && taken.has(id)) return NEVER
      return closedUntil === null ? 0 : Math.max(0, daysBetween(from, closedUntil))
    }),
    placeTied: tied,
  }
}

function tablesOfPieces(works: readonly PieceWork[], places: readonly Place[]) {
  return {
    pieceIds: works.map(({ piece }) => piece.id),
    pieceSalt: Int32Array.from(works, ({ piece }) => saltOf(`piece ${piece.id}`)),
    pieceMass: Int32Array.from(works, ({ piece }) => Math.ceil(massKgOf(piece))),
    pieceSteps: Int32Array.from(works, ({ steps }) => steps.length),
    pieceAt: Int32Array.from(works, ({ piece }) => places.findIndex(({ id }) => id === piece.placeId)),
  }
}

const meanOf = (table: Float64Array): number => table.reduce((sum, one) => sum + one, 0) / Math.max(1, table.length)
