/**
 * From the lab's records to the plain problem of one day. Whatever the rules of the records forbid must be impossible
 * in the problem too, so amounts are rounded to the careful side. A hold or claim that cannot be is left out and told
 * as findings; what is begun stays.
 */
import { minuteOf } from '#lib/base'
import {
  airLimitLpm,
  areNeighbours,
  assignmentsOn,
  type CheckNow,
  clocksRunning,
  isClosedOn,
  isHeldOn,
  judgeDay,
  keptInAt,
  labOf,
  overdueAir,
  overdueAt,
  type Turn,
  techniqueOfStep,
  turnId,
} from '#lib/rules'
import { type Finding, finding, type RecordOf, type Records } from '#lib/words'
import { buildPeople } from './build-people.ts'
import { buildPieces } from './build-pieces.ts'
import { type DayFrame, OPEN_PLACE } from './day-frame.ts'
import { boundsOf, excusedTurns, keptTurns } from './kept-turns.ts'
import { type Problem, type ProblemInput, problemSchema } from './problem.ts'
import { sortsByPlace } from './special-places.ts'
import { underClocks } from './under-clocks.ts'
import { capTurns } from './week/cap-turns.ts'

export interface BuildOptions {
  /** The lab's date and minute now; shifts of that day that are over keep what was posted. Null: before the day. */
  readonly now?: { readonly date: string; readonly minute: number } | null
  /** Chance of being ready, 0 to 1, by the id of the due. */
  readonly chances?: ReadonlyMap<string, number>
  /** Most turns on a step today, by stepKey: other days of the week need the rest. */
  readonly turnsMax?: ReadonlyMap<string, number>
  /** How much the season's plan wants each piece worked on in these days, 0 to 1, by the id of the piece. */
  readonly pulls?: ReadonlyMap<string, number>
  /** The line-up to stay close to; the posted one when not given. */
  readonly from?: readonly Turn[]
}

/** Two people who shall not sit at one place, perhaps only with that piece. */
export interface Apart {
  readonly personId: string
  readonly withPersonId: string
  readonly pieceId: string | null
  readonly placeId: string | null
}

export interface Built {
  readonly problem: Problem
  /** Holds and claims that cannot be, each with `ids.hold` or `ids.claim`, and why. */
  readonly findings: readonly Finding[]
  /** Turns that stay whatever the solver says: begun, done, or of a shift that is over. */
  readonly kept: readonly Turn[]
  /** Pairs that the problem's forbids cannot say; whoever solves keeps them apart. */
  readonly apart: readonly Apart[]
}

/** The day's problem, checked by its schema. */
export function buildProblem(records: Records, date: string, options: BuildOptions = {}): Built {
  const lab = labOf(records)
  const shifts = (lab?.shifts ?? []).filter((shift) => isHeldOn(records, shift, date))
  const minute = options.now?.date === date ? options.now.minute : -1
  // Before the day it is not known yet which checks will have been done: those of now are what counts.
  const checkedAt = options.now ?? { date, minute: 0 }
  const day = { records, date, shifts, minute }
  const kept = keptTurns(day)
  const wishes = fixedTurns(day, kept, checkedAt)
  const frame: DayFrame = { ...day, kept, fixed: [...wishes.holds, ...wishes.claims] }
  const reserved = reservedPlaces(records)
  const excused = excusedTurns(frame)
  const people = buildPeople(frame, excused)
  const pieces = buildPieces(frame, reserved, options.chances ?? new Map(), options.pulls ?? new Map())
  const places = buildPlaces(frame, reserved, checkedAt)
  const isAirOff = overdueAir(records, checkedAt) !== null
  const known = {
    person: new Set(people.map(({ id }) => id)),
    piece: new Set(pieces.map(({ id }) => id)),
    place: new Set(places.map(({ id }) => id)),
    shift: new Set<string>(shifts.map(({ id }) => id)),
  }
  const isKnown = (turn: Turn) =>
    known.person.has(turn.personId) &&
    known.piece.has(turn.pieceId) &&
    known.place.has(turn.placeId) &&
    known.shift.has(turn.shiftId)
  const weights = lab?.weights
  const input: ProblemInput = {
    people,
    places,
    pieces,
    shifts: shifts.map((shift) => ({
      id: shift.id,
      start: minuteOf(shift.start),
      end: minuteOf(shift.end),
      airLpm: isAirOff ? airOfKept(frame, shift.id) : Math.floor(airLimitLpm(records) + 1e-6),
    })),
    holds: wishes.holds.filter(isKnown).map(fixedOf),
    claims: wishes.claims.filter(isKnown).map(fixedOf),
    begun: kept.filter(isKnown).map(fixedOf),
    forbids: [
      ...boundsOf(excused, pieces, [...known.shift]),
      ...underClocks(frame, pieces),
      ...forbidsOn(records, date)
        .filter((wish) => wish.withPersonId === null)
        .filter((wish) => known.person.has(wish.personId))
        .filter((wish) => wish.pieceId === null || known.piece.has(wish.pieceId))
        .filter((wish) => wish.placeId === null || known.place.has(wish.placeId))
        .map((wish) => ({ person: wish.personId, piece: wish.pieceId, place: wish.placeId })),
    ],
    clocks: clocksOf(frame, pieces),
    learnersPerMentorMax: lab?.limits.learnersPerMentor ?? 0,
    // The lab's sliders and the problem's weights are the same scale, in other words for two of them.
    weights: weights && {
      urgency: weights.urgency,
      useful: weights.everybody,
      gentleness: weights.gentleness,
      sameHands: weights.sameHands,
      learning: weights.learning,
      loves: weights.loves,
      fairness: weights.fairness,
      notLast: weights.variety,
      fewMoves: weights.fewMoves,
    },
    posted: startingFrom(frame, options.from)
      .filter(isKnown)
      .map((turn) => ({ ...fixedOf(turn), mentor: null })),
  }
  const problem = problemSchema.parse(input)
  return {
    problem: options.turnsMax ? capTurns(problem, options.turnsMax) : problem,
    findings: wishes.findings,
    kept,
    apart: forbidsOn(records, date).flatMap(({ personId, withPersonId, pieceId, placeId }) =>
      withPersonId === null ? [] : [{ personId, withPersonId, pieceId, placeId }],
    ),
  }
}

/** Processes that end on this day in a shift that is still to come. */
function clocksOf({ records, date, shifts, minute }: DayFrame, pieces: ProblemInput['pieces']): ProblemInput['clocks'] {
  const steps = new Set(pieces.flatMap(({ id, steps }) => steps.map((step) => `${id} ${step.id}`)))
  return clocksRunning(records).flatMap(({ id, pieceId, stepId, ends: { date: endsOn, time } }) => {
    // What wants no step of somebody's hands is seen to by whoever is in.
    if (endsOn !== date || stepId === null || !steps.has(`${pieceId} ${stepId}`)) return []
    const ends = minuteOf(time)
    const shift = shifts.find(({ start, end }) => minuteOf(start) <= ends && ends <= minuteOf(end))
    return shift && ends >= minute ? [{ id, shift: shift.id, minute: ends, piece: pieceId, step: stepId }] : []
  })
}

const fixedOf = (turn: Turn) => ({
  person: turn.personId,
  shift: turn.shiftId,
  piece: turn.pieceId,
  step: turn.stepId,
  place: turn.placeId,
})

/** The line-up to stay close to: what must stay first, so that nothing else has its seat; finished steps not at all. */
function startingFrom({ records, date, kept, fixed }: DayFrame, from: readonly Turn[] | undefined): readonly Turn[] {
  const firm = new Map([...kept, ...fixed].map((turn) => [turnId(date, turn.shiftId, turn.personId), turn]))
  const others = (from ?? assignmentsOn(records, date)).filter((turn) => {
    const state = records.step.get(turn.stepId)?.state
    return !firm.has(turnId(date, turn.shiftId, turn.personId)) && (state === 'waiting' || state === 'begun')
  })
  return [...firm.values(), ...others]
}

const forbidsOn = (records: Records, date: string): readonly RecordOf<'forbid'>[] =>
  [...records.forbid.values()].filter((wish) => wish.date === null || wish.date === date)

type Day = Omit<DayFrame, 'kept' | 'fixed'>

/** Holds and claims that can be, and what stands against the others. */
function fixedTurns({ records, date, shifts, minute }: Day, kept: readonly Turn[], checkedAt: CheckNow) {
  const keptIds = new Set(kept.map((turn) => turnId(date, turn.shiftId, turn.personId)))
  const openShifts = new Set<string>(shifts.filter(({ end }) => minuteOf(end) > minute).map(({ id }) => id))
  const isOpen = (turn: Turn) => openShifts.has(turn.shiftId) && !keptIds.has(turnId(date, turn.shiftId, turn.personId))
  const held = new Map<string, Turn>()
  for (const turn of assignmentsOn(records, date)) if (turn.how === 'held') held.set(turn.id, turn)
  for (const turn of records.hold.values()) if (turn.date === date) held.set(turn.id, turn)
  const claimed = assignmentsOn(records, date).filter((turn) => turn.how === 'claimed' && !held.has(turn.id))
  const holds: Turn[] = []
  const claims: Turn[] = []
  const findings: Finding[] = []
  const sift = (turn: Turn, name: 'hold' | 'claim', into: Turn[]) => {
    // A mentor may still be found beside a learner; all else that stands against the turn alone cannot be helped.
    const against = [
      ...judgeDay(records, date, [turn]).filter(({ code }) => !code.startsWith('mentor-')),
      ...uncheckedFor(records, turn, checkedAt),
    ]
    const id = turnId(date, turn.shiftId, turn.personId)
    if (against.length === 0) into.push(turn)
    else findings.push(...against.map((one) => ({ ...one, ids: { ...one.ids, [name]: id } })))
  }
  for (const turn of held.values()) if (isOpen(turn)) sift(turn, 'hold', holds)
  for (const turn of claimed) if (isOpen(turn)) sift(turn, 'claim', claims)
  return { holds, claims, findings }
}

/** A check before use that is overdue where the turn would be, or at the compressor it would draw on. */
function uncheckedFor(records: Records, turn: Turn, at: CheckNow): readonly Finding[] {
  const technique = techniqueOfStep(records, turn.stepId)
  const check = overdueAt(records, turn.placeId, at) ?? ((technique?.airLpm ?? 0) > 0 ? overdueAir(records, at) : null)
  return check ? [finding('O', 'check-overdue', { place: turn.placeId, check: check.id })] : []
}

/** Air that begun and done turns of a shift draw: all there is when no new air tool may be put to work. */
function airOfKept({ records, kept }: DayFrame, shiftId: string): number {
  return kept
    .filter((turn) => turn.shiftId === shiftId)
    .reduce((sum, { stepId }) => {
      const technique = techniqueOfStep(records, stepId)
      return sum + Math.ceil(technique?.airLpm ?? 0)
    }, 0)
}

/** The tied piece of each place that takes one piece only. */
function reservedPlaces(records: Records): ReadonlyMap<string, string> {
  const reserved = new Map<string, string>()
  for (const pieces of [records.jacket, records.specimen]) {
    for (const piece of pieces.values()) {
      const place = piece.placeId === null ? undefined : records.place.get(piece.placeId)
      if (piece.isTied && place?.isExclusive) reserved.set(place.id, piece.id)
    }
  }
  return reserved
}

/** A piece may hang over the bench by this much of its length. */
const OVERHANG = 1.1

function buildPlaces(
  frame: DayFrame,
  reserved: ReadonlyMap<string, string>,
  checkedAt: CheckNow,
): ProblemInput['places'] {
  const { records, date, shifts, kept, fixed } = frame
  const neighbourM = labOf(records)?.limits.neighbourM ?? 0
  const places = [...records.place.values()].filter(({ seats }) => seats > 0)
  const firm = new Set<string>([...fixed, ...kept].map(({ placeId }) => placeId))
  const sortsAt = sortsByPlace(records, firm)
  return places.map((place, i) => {
    const keptHere = kept.filter((turn) => turn.placeId === place.id)
    const isUnchecked = overdueAt(records, place.id, checkedAt) !== null
    return {
      id: place.id,
      kind: place.kind,
      features: [...place.features, ...sortsAt(place), ...(reserved.has(place.id) ? [] : [OPEN_PLACE])],
      seats: place.seats,
      airLines: place.airLines,
      loadKgMax: Math.floor(place.loadKgMax),
      // Who held a long piece on a short bench knows why.
      lengthCmMax: firm.has(place.id) ? null : Math.round(Math.max(place.widthM, place.depthM) * 100 * OVERHANG),
      neighbours: places.slice(i + 1).flatMap((other) => (areNeighbours(place, other, neighbourM) ? [other.id] : [])),
      isExclusive: place.isExclusive,
      // Who is at work there already is told, not stopped: then it is closed for everybody else's shifts alone.
      isCheckOverdue: isUnchecked && keptHere.length === 0,
      closed:
        isClosedOn(place, date) || isUnchecked
          ? shifts.filter(({ id }) => !keptHere.some((turn) => turn.shiftId === id)).map(({ id }) => id)
          : [],
      keepsIn: [...keptInAt(place)],
      isInView: place.isInView ?? false,
    }
  })
}
