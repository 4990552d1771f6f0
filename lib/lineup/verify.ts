/**
 * The checker: goes over a line-up with nothing but the plain problem and says every rule that is broken, every
 * must that is missing without being named, every mark that is wrong. It imports nothing of the search, and a
 * line-up that it faults is never shown.
 */
import { appraise, type Lookup, lookupOf, minutesIn, scoreOf, unmetMusts } from './appraise.ts'
import { type Assignment, PARTS, type Problem, type ProblemPiece, type ProblemStep, type Solution } from './problem.ts'

export type RuleCode =
  | 'unknown'
  | 'onePlace'
  | 'presence'
  | 'seats'
  | 'exclusive'
  | 'mixing'
  | 'onePieceOnePlace'
  | 'level'
  | 'mentor'
  | 'mentorLimit'
  | 'force'
  | 'air'
  | 'airLines'
  | 'vibration'
  | 'noise'
  | 'classMinutes'
  | 'load'
  | 'length'
  | 'tied'
  | 'closed'
  | 'features'
  | 'helpers'
  | 'turns'
  | 'forbidden'
  | 'unmet'
  | 'score'
  | 'bound'

/** One fault: the rule, whom and what it concerns, what was found and what is allowed. */
export interface Fault {
  readonly rule: RuleCode
  readonly ids: readonly string[]
  readonly found: number
  readonly allowed: number
}

interface Seen {
  readonly turn: Assignment
  readonly piece: ProblemPiece
  readonly step: ProblemStep
}

/** Every fault of a solution; empty when it may be shown. */
export function verify(problem: Problem, solution: Solution): readonly Fault[] {
  const faults: Fault[] = [...verifyRules(problem, solution.lineUp)]
  const parts = appraise(problem, solution.lineUp)
  for (const part of PARTS) {
    if (parts[part] !== solution.parts[part]) {
      faults.push({ rule: 'score', ids: [part], found: solution.parts[part], allowed: parts[part] })
    }
  }
  const score = scoreOf(parts)
  if (score !== solution.score) faults.push({ rule: 'score', ids: [], found: solution.score, allowed: score })
  if (solution.bound !== null && score > solution.bound) {
    faults.push({ rule: 'bound', ids: [], found: score, allowed: solution.bound })
  }
  if (solution.isProven && score !== solution.bound) {
    faults.push({ rule: 'bound', ids: ['proven'], found: score, allowed: solution.bound ?? 0 })
  }
  const named = new Set(solution.unmet.map((must) => `${must.kind} ${must.index}`))
  const unmet = unmetMusts(problem, solution.lineUp)
  for (const must of unmet) {
    if (!named.has(`${must.kind} ${must.index}`)) {
      faults.push({ rule: 'unmet', ids: [must.kind, String(must.index)], found: 0, allowed: 1 })
    }
  }
  if (named.size !== unmet.length) faults.push({ rule: 'unmet', ids: [], found: named.size, allowed: unmet.length })
  return faults
}

/** The hard rules alone, for a line-up that has no score yet; who asks often hands in the problem's table. */
export function verifyRules(
  problem: Problem,
  lineUp: readonly Assignment[],
  lookup: Lookup = lookupOf(problem),
): readonly Fault[] {
  const faults: Fault[] = []
  const seen: Seen[] = []
  for (const turn of lineUp) {
    const piece = lookup.piece.get(turn.piece)
    const step = piece?.steps.find((entry) => entry.id === turn.step)
    const isKnown = lookup.person.has(turn.person) && lookup.shift.has(turn.shift) && lookup.place.has(turn.place)
    if (piece === undefined || step === undefined || !isKnown) {
      faults.push({
        rule: 'unknown',
        ids: [turn.person, turn.shift, turn.piece, turn.step, turn.place],
        found: 0,
        allowed: 0,
      })
    } else seen.push({ turn, piece, step })
  }
  for (const entry of seen) faults.push(...faultsOfTurn(problem, lookup, entry))
  faults.push(...faultsOfMentors(problem, lookup, seen))
  faults.push(...faultsOfPlaces(lookup, seen))
  faults.push(...faultsOfPieces(seen))
  faults.push(...faultsOfPeople(problem, lookup, seen))
  for (const shift of problem.shifts) {
    const air = sum(seen, (entry) => (entry.turn.shift === shift.id ? entry.step.airLpm : 0))
    if (air > shift.airLpm) faults.push({ rule: 'air', ids: [shift.id], found: air, allowed: shift.airLpm })
  }
  return faults
}

function faultsOfTurn(problem: Problem, lookup: Lookup, { turn, piece, step }: Seen): readonly Fault[] {
  const faults: Fault[] = []
  const fault = (rule: RuleCode, ids: readonly string[], found: number, allowed: number): void => {
    faults.push({ rule, ids, found, allowed })
  }
  const place = lookup.place.get(turn.place)
  const level = lookup.person.get(turn.person)?.levels[step.technique] ?? 0
  const need = Math.max(step.level, piece.isDelicate ? 3 : 2)
  if (level < need && !(level === 1 && need === 2)) fault('level', [turn.person, turn.piece, turn.step], level, need)
  if (step.force !== null && step.force > piece.ceiling && !step.isEscalated) {
    fault('force', [turn.piece, turn.step], step.force, piece.ceiling)
  }
  const minutes = minutesIn(lookup, turn.person, turn.shift)
  if (minutes < 15) fault('presence', [turn.person, turn.shift], minutes, 15)
  if (piece.tiedTo !== null && piece.tiedTo !== turn.place) fault('tied', [turn.piece, turn.place], 0, 0)
  if (place !== undefined) {
    if (place.isCheckOverdue || place.closed.includes(turn.shift)) fault('closed', [turn.place, turn.shift], 0, 0)
    for (const feature of step.features) {
      if (!place.features.includes(feature)) fault('features', [turn.place, turn.step, feature], 0, 1)
    }
    if (place.lengthCmMax !== null && piece.lengthCm > place.lengthCmMax) {
      fault('length', [turn.piece, turn.place], piece.lengthCm, place.lengthCmMax)
    }
  }
  const matches = (want: string | null, is: string): boolean => want === null || want === is
  for (const forbid of problem.forbids) {
    const isForbidden =
      matches(forbid.person, turn.person) &&
      matches(forbid.shift, turn.shift) &&
      matches(forbid.piece, turn.piece) &&
      matches(forbid.step, turn.step) &&
      matches(forbid.place, turn.place)
    if (isForbidden) fault('forbidden', [turn.person, turn.shift, turn.piece, turn.step, turn.place], 1, 0)
  }
  return faults
}

function faultsOfMentors(problem: Problem, lookup: Lookup, seen: readonly Seen[]): readonly Fault[] {
  const faults: Fault[] = []
  const isLearner = ({ turn, step }: Seen): boolean => lookup.person.get(turn.person)?.levels[step.technique] === 1
  const learners = new Map<string, number>()
  for (const entry of seen) {
    const { turn, step } = entry
    if (!isLearner(entry)) continue
    const mentor = seen.find((other) => other.turn.person === turn.mentor && other.turn.shift === turn.shift)
    const isGood =
      mentor !== undefined &&
      mentor.turn.person !== turn.person &&
      !isLearner(mentor) &&
      mentor.step.people.min <= 1 &&
      (lookup.person.get(mentor.turn.person)?.levels[step.technique] ?? 0) >= 4 &&
      isNear(lookup, mentor.turn.place, turn.place)
    if (!isGood)
      faults.push({ rule: 'mentor', ids: [turn.person, turn.shift, turn.mentor ?? ''], found: 0, allowed: 1 })
    const key = `${turn.mentor}\n${turn.shift}`
    learners.set(key, (learners.get(key) ?? 0) + 1)
  }
  for (const [key, found] of learners) {
    if (found > problem.learnersPerMentorMax) {
      faults.push({ rule: 'mentorLimit', ids: key.split('\n'), found, allowed: problem.learnersPerMentorMax })
    }
  }
  return faults
}

function isNear(lookup: Lookup, a: string, b: string): boolean {
  const names = (from: string, to: string): boolean => lookup.place.get(from)?.neighbours.includes(to) ?? false
  return a === b || names(a, b) || names(b, a)
}

function faultsOfPlaces(lookup: Lookup, seen: readonly Seen[]): readonly Fault[] {
  const faults: Fault[] = []
  for (const [key, here] of groupBy(seen, ({ turn }) => `${turn.place}\n${turn.shift}`)) {
    const ids = key.split('\n')
    const place = lookup.place.get(ids[0] ?? '')
    if (place === undefined) continue
    const fault = (rule: RuleCode, found: number, allowed: number): void => {
      if (found > allowed) faults.push({ rule, ids, found, allowed })
    }
    fault('seats', here.length, place.seats)
    fault('airLines', here.filter(({ step }) => step.airLpm > 0).length, place.airLines)
    const pieces = new Map(here.map(({ piece }) => [piece.id, piece]))
    fault('exclusive', [...pieces.values()].filter((piece) => piece.isExclusive || place.isExclusive).length, 1)
    const air = new Set(here.flatMap(({ step }) => step.givesOff.filter((kind) => !place.keepsIn.includes(kind))))
    if (air.size > 0) fault('mixing', air.size + (place.isInView ? 1 : 0), 1)
    if (place.loadKgMax !== null)
      fault(
        'load',
        sum([...pieces.values()], (piece) => piece.massKg),
        place.loadKgMax,
      )
  }
  return faults
}

function faultsOfPieces(seen: readonly Seen[]): readonly Fault[] {
  const faults: Fault[] = []
  for (const [key, here] of groupBy(seen, ({ turn }) => `${turn.piece}\n${turn.shift}`)) {
    const ids = key.split('\n')
    const kinds = new Set(here.map(({ turn }) => `${turn.step}\n${turn.place}`)).size
    if (kinds > 1) faults.push({ rule: 'onePieceOnePlace', ids, found: kinds, allowed: 1 })
    for (const { step } of here) {
      const { min, max } = step.people
      if (here.length < min) faults.push({ rule: 'helpers', ids, found: here.length, allowed: min })
      if (here.length > max) faults.push({ rule: 'helpers', ids, found: here.length, allowed: max })
    }
  }
  for (const [key, here] of groupBy(seen, ({ turn }) => `${turn.piece}\n${turn.step}`)) {
    const allowed = here[0]?.step.turnsLeft ?? 0
    if (here.length > allowed) faults.push({ rule: 'turns', ids: key.split('\n'), found: here.length, allowed })
  }
  return faults
}

function faultsOfPeople(problem: Problem, lookup: Lookup, seen: readonly Seen[]): readonly Fault[] {
  const faults: Fault[] = []
  for (const [key, here] of groupBy(seen, ({ turn }) => `${turn.person}\n${turn.shift}`)) {
    if (here.length > 1) faults.push({ rule: 'onePlace', ids: key.split('\n'), found: here.length, allowed: 1 })
  }
  for (const person of problem.people) {
    const own = seen.filter(({ turn }) => turn.person === person.id)
    const minutes = (entry: Seen): number => minutesIn(lookup, person.id, entry.turn.shift)
    const cap = (rule: RuleCode, found: number, allowed: number | null | undefined): void => {
      if (allowed !== null && allowed !== undefined && found > allowed) {
        faults.push({ rule, ids: [person.id], found, allowed })
      }
    }
    const points = (perHour: number, trigger: number, length: number): number =>
      Math.ceil((perHour * trigger * length) / 6000)
    const vibration = sum(own, (entry) =>
      points(entry.step.vibrationPerHour, entry.step.triggerPercent, minutes(entry)),
    )
    const noise = sum(own, (entry) => points(entry.step.noisePerHour, entry.step.triggerPercent, minutes(entry)))
    cap('vibration', vibration, person.vibrationPointsLeft)
    cap('noise', noise, person.noisePointsLeft)
    for (const [name, left] of Object.entries(person.classMinutesLeft)) {
      cap(
        'classMinutes',
        sum(own, (entry) => (entry.step.techniqueClass === name ? minutes(entry) : 0)),
        left,
      )
    }
  }
  return faults
}

function sum<Entry>(entries: readonly Entry[], amount: (entry: Entry) => number): number {
  return entries.reduce((total, entry) => total + amount(entry), 0)
}

function groupBy<Entry>(entries: readonly Entry[], key: (entry: Entry) => string): ReadonlyMap<string, Entry[]> {
  const groups = new Map<string, Entry[]>()
  for (const entry of entries) {
    const group = groups.get(key(entry))
    if (group === undefined) groups.set(key(entry), [entry])
    else group.push(entry)
  }
  return groups
}
