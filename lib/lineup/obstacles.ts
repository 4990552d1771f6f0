/**
 * What stands between one turn and a line-up as it is: each rule the turn would break if it were simply added, as
 * the change that would remove it. An empty list means it fits; null means that no change of the day helps (the piece
 * is worked on elsewhere in that shift) or that the changes are larger than was asked for.
 */
import { type Lookup, lookupOf, minutesIn } from './appraise.ts'
import { applyChanges, type Change, isForbiddenBy, sizeOf, twinOf } from './change.ts'
import type { AirKind, Assignment, Problem, ProblemPiece, ProblemPlace, ProblemStep } from './problem.ts'

/** A line-up tabled for many such questions. */
export interface Room {
  readonly problem: Problem
  readonly lookup: Lookup
  readonly lineUp: readonly Assignment[]
  readonly atPlace: ReadonlyMap<string, readonly Assignment[]>
  readonly atPiece: ReadonlyMap<string, readonly Assignment[]>
  readonly byPerson: ReadonlyMap<string, readonly Assignment[]>
  readonly turnsOfStep: ReadonlyMap<string, number>
  readonly airUsed: ReadonlyMap<string, number>
}

/** A turn somebody might have, with what would have to change first. */
export interface Way {
  readonly turn: Assignment
  readonly changes: readonly Change[]
}

/** Tables a line-up. */
export function roomOf(problem: Problem, lineUp: readonly Assignment[], lookup: Lookup = lookupOf(problem)): Room {
  const turnsOfStep = new Map<string, number>()
  const airUsed = new Map<string, number>()
  for (const turn of lineUp) {
    const key = `${turn.piece}\n${turn.step}`
    turnsOfStep.set(key, (turnsOfStep.get(key) ?? 0) + 1)
    const air = stepOf(lookup, turn)?.airLpm ?? 0
    airUsed.set(turn.shift, (airUsed.get(turn.shift) ?? 0) + air)
  }
  return {
    problem,
    lookup,
    lineUp,
    atPlace: tableBy(lineUp, (turn) => `${turn.place}\n${turn.shift}`),
    atPiece: tableBy(lineUp, (turn) => `${turn.piece}\n${turn.shift}`),
    byPerson: tableBy(lineUp, (turn) => turn.person),
    turnsOfStep,
    airUsed,
  }
}

/** The same line-up with changes made and turns added; tabled anew only where something is new. */
export const widened = (room: Room, changes: readonly Change[], turns: readonly Assignment[]): Room =>
  changes.length === 0
    ? roomOf(room.problem, [...room.lineUp, ...turns], room.lookup)
    : roomOf(applyChanges(room.problem, changes), [...room.lineUp, ...turns])

/**
 * The obstacles to adding a turn for a person who is free in that shift. `most` is the largest size of changes of
 * interest; `isAlone` false leaves the fewest people of the step to whoever adds the others.
 */
export function wayTo(
  room: Room,
  person: string,
  shift: string,
  piece: ProblemPiece,
  step: ProblemStep,
  place: ProblemPlace,
  most = Number.POSITIVE_INFINITY,
  isAlone = true,
): Way | null {
  const { problem, lookup } = room
  const group = room.atPiece.get(`${piece.id}\n${shift}`) ?? []
  if (group.some((turn) => turn.step !== step.id || turn.place !== place.id)) return null
  if (isAlone && group.length + 1 < step.people.min) return null
  const here = room.atPlace.get(`${place.id}\n${shift}`) ?? []
  const pieces = new Set(here.map((turn) => turn.piece))
  if (group.length === 0) {
    const isExclusive = (id: string): boolean => place.isExclusive || (lookup.piece.get(id)?.isExclusive ?? false)
    if (isExclusive(piece.id) && [...pieces].some(isExclusive))
      return wayToTwin(room, { person, shift, piece, step, place, most, isAlone })
  }
  const changes: Change[] = []
  const lacking = step.features.filter((feature) => !place.features.includes(feature))
  if (lacking.length > 0) changes.push({ code: 'fitting', place: place.id, features: lacking })
  const kinds = mixing(room, here, step, place)
  if (kinds.length > 0) changes.push({ code: 'keepIn', place: place.id, kinds })
  if (piece.tiedTo !== null && piece.tiedTo !== place.id) changes.push({ code: 'untie', piece: piece.id })
  if (place.lengthCmMax !== null && piece.lengthCm > place.lengthCmMax)
    changes.push({ code: 'length', place: place.id, amount: piece.lengthCm - place.lengthCmMax })
  if (step.force !== null && step.force > piece.ceiling && !step.isEscalated)
    changes.push({ code: 'escalate', piece: piece.id, step: step.id })
  if (sizeOfAll(changes) > most) return null
  const bare = { person, shift, piece: piece.id, step: step.id, place: place.id }
  if (problem.forbids.some((forbid) => isForbiddenBy(forbid, bare))) changes.push({ code: 'allow', turn: bare })
  if (place.isCheckOverdue || place.closed.includes(shift)) changes.push({ code: 'open', place: place.id, shift })
  if (here.length >= place.seats) changes.push({ code: 'seat', place: place.id, amount: here.length + 1 - place.seats })
  if (group.length >= step.people.max) {
    changes.push({ code: 'people', piece: piece.id, step: step.id, amount: group.length + 1 - step.people.max })
  }
  const turns = room.turnsOfStep.get(`${piece.id}\n${step.id}`) ?? 0
  if (turns >= step.turnsLeft) {
    changes.push({ code: 'turns', piece: piece.id, step: step.id, amount: turns + 1 - step.turnsLeft })
  }
  if (place.loadKgMax !== null && group.length === 0) {
    const load = [...pieces].reduce((sum, id) => sum + (lookup.piece.get(id)?.massKg ?? 0), piece.massKg)
    if (load > place.loadKgMax) changes.push({ code: 'load', place: place.id, amount: load - place.loadKgMax })
  }
  if (step.airLpm > 0) {
    const lines = here.filter((turn) => (stepOf(lookup, turn)?.airLpm ?? 0) > 0).length
    if (lines >= place.airLines) changes.push({ code: 'airLine', place: place.id, amount: lines + 1 - place.airLines })
    const air = (room.airUsed.get(shift) ?? 0) + step.airLpm - (lookup.shift.get(shift)?.airLpm ?? 0)
    if (air > 0) changes.push({ code: 'air', shift, amount: air })
  }
  if (sizeOfAll(changes) > most) return null
  changes.push(...limitChanges(room, person, shift, step))
  if (sizeOfAll(changes) > most) return null
  const skill = skillChange(room, person, shift, piece, step, place)
  if (skill.change !== null) changes.push(skill.change)
  if (sizeOfAll(changes) > most) return null
  return { turn: { ...bare, mentor: skill.mentor }, changes }
}

/** Ways of one size that are enough to look no further for larger ones. */
const ENOUGH = 8

/** For each step of each piece the way with the smallest changes, none larger than `most`, nor than the eighth smallest. */
export function waysOf(room: Room, person: string, shift: string, most = Number.POSITIVE_INFINITY): readonly Way[] {
  const ways: Way[] = []
  const sizes: number[] = []
  let limit = most
  for (const piece of room.problem.pieces) {
    for (const way of waysToPiece(room, person, shift, piece, limit)) {
      ways.push(way)
      sizes.push(sizeOfAll(way.changes))
    }
    if (most > 0 && sizes.length >= ENOUGH) {
      sizes.sort((a, b) => a - b).splice(ENOUGH)
      limit = Math.min(limit, sizes[ENOUGH - 1] ?? limit)
    }
  }
  return ways
}

/** For each step of a piece the way with the smallest changes, none larger than `most`. */
export function waysToPiece(
  room: Room,
  person: string,
  shift: string,
  piece: ProblemPiece,
  most = Number.POSITIVE_INFINITY,
): readonly Way[] {
  const ways: Way[] = []
  for (const step of piece.steps) {
    const level = room.lookup.person.get(person)?.levels[step.technique] ?? 0
    // By far the most common obstacle, and the only one that no place helps: a learner alone may find a mentor there.
    const to = needOf(piece, step)
    const isLearner = level === 1 && to === 2
    if (
      level < to &&
      !isLearner &&
      sizeOf({ code: 'level', person, technique: step.technique, from: level, to }) > most
    )
      continue
    let [least, size]: [Way | null, number] = [null, most + 1]
    for (const place of room.problem.places) {
      const way = size === 0 ? null : wayTo(room, person, shift, piece, step, place, size - 1)
      if (way !== null) [least, size] = [way, sizeOfAll(way.changes)]
    }
    if (least !== null) ways.push(least)
  }
  return ways
}

/** Where a place takes one piece at a time and has one, only one more such place would help. */
function wayToTwin(
  room: Room,
  of: {
    readonly person: string
    readonly shift: string
    readonly piece: ProblemPiece
    readonly step: ProblemStep
    readonly place: ProblemPlace
    readonly most: number
    readonly isAlone: boolean
  },
): Way | null {
  const change: Change = { code: 'place', like: of.place.id, id: `${of.place.id} once more` }
  const twin = twinOf(room.problem, change)
  const most = of.most - sizeOf(change)
  const way = twin && most >= 0 ? wayTo(room, of.person, of.shift, of.piece, of.step, twin, most, of.isAlone) : null
  return way && { turn: way.turn, changes: [change, ...way.changes] }
}

/** The size of several changes together. */
export const sizeOfAll = (changes: readonly Change[]): number =>
  changes.reduce((sum, change) => sum + sizeOf(change), 0)

/** The level that a step takes from whoever works alone. */
export const needOf = (piece: ProblemPiece, step: ProblemStep): number => Math.max(step.level, piece.isDelicate ? 3 : 2)

/** What a line-up's turn works on. */
export function stepOf(lookup: Lookup, turn: Assignment): ProblemStep | undefined {
  return lookup.piece.get(turn.piece)?.steps.find((step) => step.id === turn.step)
}

/** What a step would give off at a place where it meets open view or the other of dust and solvent. */
function mixing(
  { lookup }: Room,
  here: readonly Assignment[],
  step: ProblemStep,
  place: ProblemPlace,
): readonly AirKind[] {
  const escapes = (of: ProblemStep | undefined): readonly AirKind[] =>
    (of?.givesOff ?? []).filter((kind) => !place.keepsIn.includes(kind))
  const own = escapes(step)
  const there = new Set([...own, ...here.flatMap((turn) => escapes(stepOf(lookup, turn)))])
  return own.length > 0 && there.size + (place.isInView ? 1 : 0) > 1 ? own : []
}

function limitChanges(room: Room, person: string, shift: string, step: ProblemStep): readonly Change[] {
  const record = room.lookup.person.get(person)
  if (record === undefined) return []
  const changes: Change[] = []
  const own = room.byPerson.get(person) ?? []
  const minutes = minutesIn(room.lookup, person, shift)
  const points = (of: ProblemStep, field: 'vibrationPerHour' | 'noisePerHour', length: number): number =>
    Math.ceil((of[field] * of.triggerPercent * length) / 6000)
  const spent = (amount: (of: ProblemStep, length: number) => number): number =>
    own.reduce(
      (sum, turn) => {
        const of = stepOf(room.lookup, turn)
        return of === undefined ? sum : sum + amount(of, minutesIn(room.lookup, person, turn.shift))
      },
      amount(step, minutes),
    )
  for (const [code, field, cap] of [
    ['vibration', 'vibrationPerHour', record.vibrationPointsLeft],
    ['noise', 'noisePerHour', record.noisePointsLeft],
  ] as const) {
    const used = spent((of, length) => points(of, field, length))
    if (cap !== null && used > cap) changes.push({ code, person, amount: used - cap })
  }
  const name = step.techniqueClass
  const left = name === null ? undefined : record.classMinutesLeft[name]
  if (name !== null && left !== undefined) {
    const used = spent((of, length) => (of.techniqueClass === name ? length : 0))
    if (used > left) changes.push({ code: 'classMinutes', person, techniqueClass: name, amount: used - left })
  }
  return changes
}

function skillChange(
  room: Room,
  person: string,
  shift: string,
  piece: ProblemPiece,
  step: ProblemStep,
  place: ProblemPlace,
): { readonly change: Change | null; readonly mentor: string | null } {
  const { problem, lookup } = room
  const level = lookup.person.get(person)?.levels[step.technique] ?? 0
  const need = needOf(piece, step)
  if (level >= need) return { change: null, mentor: null }
  const train: Change = { code: 'level', person, technique: step.technique, from: level, to: need }
  if (level !== 1 || need !== 2) return { change: train, mentor: null }
  const reach = [
    place.id,
    ...place.neighbours,
    ...problem.places.filter((l) => l.neighbours.includes(place.id)).map((l) => l.id),
  ]
  const mentors = reach
    .flatMap((id) => room.atPlace.get(`${id}\n${shift}`) ?? [])
    .filter((turn) => {
      const record = lookup.person.get(turn.person)
      const work = stepOf(lookup, turn)
      if (record === undefined || work === undefined || turn.person === person) return false
      return (record.levels[step.technique] ?? 0) >= 4 && work.people.min <= 1 && record.levels[work.technique] !== 1
    })
  const load = (mentor: string): number =>
    room.lineUp.filter((turn) => turn.mentor === mentor && turn.shift === shift).length
  const least = [...mentors].sort((a, b) => load(a.person) - load(b.person))[0]
  if (least === undefined) return { change: train, mentor: null }
  if (load(least.person) < problem.learnersPerMentorMax) return { change: null, mentor: least.person }
  const amount = load(least.person) + 1 - problem.learnersPerMentorMax
  return { change: { code: 'learners', amount }, mentor: least.person }
}

function tableBy(
  lineUp: readonly Assignment[],
  key: (turn: Assignment) => string,
): ReadonlyMap<string, readonly Assignment[]> {
  const table = new Map<string, Assignment[]>()
  for (const turn of lineUp) table.set(key(turn), [...(table.get(key(turn)) ?? []), turn])
  return table
}
