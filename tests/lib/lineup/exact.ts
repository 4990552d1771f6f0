/**
 * The best line-up of a tiny day, by trying all: a witness that has no heuristic in it. Turns are decided one after
 * the other; a branch is left when even the best that is still open could not beat what was found. Written from the
 * plain problem and the words of the rules; of the product it uses only what a turn is worth by PARTS.
 */
import type { Assignment, Forbid, Problem } from '#lib/lineup'
import { appraiseTurn, lookupOf, minutesIn, scoreOf } from '../../../lib/lineup/appraise.ts'

export interface Exact {
  readonly musts: number
  readonly score: number
  readonly lineUp: readonly Assignment[]
}

export interface ExactOptions {
  /** Somebody who must have a turn in that shift. */
  readonly person?: { readonly id: string; readonly shift: string }
  /** A piece on which somebody must have a turn. */
  readonly piece?: string
  /** More forbids than the problem has. */
  readonly forbids?: readonly Partial<Forbid>[]
  /** Ends with an error after so many branches. */
  readonly branchesMax?: number
}

/** Above every sum of marks of a tiny day: a kept must counts more than all of them. */
const MUST = 2 ** 40

interface Option {
  readonly turn: Assignment
  readonly worth: number
  readonly musts: number
  readonly learns: string | null
  readonly piece: Problem['pieces'][number]
  readonly step: Problem['pieces'][number]['steps'][number]
  readonly place: Problem['places'][number]
  readonly moves: number
  /** The piece in the shift. */
  readonly group: string
  readonly airCap: number
  /** What it takes of the person's own limits: which, how much, out of how much. */
  readonly spends: readonly (readonly [name: string, amount: number, cap: number])[]
}

interface Seat {
  readonly person: Problem['people'][number]
  readonly shift: string
  readonly options: readonly Option[]
  /** The turn of the same person in the shift before, by its index; -1 for none. */
  readonly before: number
}

/** The best line-up by musts kept, then marks; null when what is required cannot be. */
export function exactBest(problem: Problem, required: ExactOptions = {}): Exact | null {
  const seats = seatsOf(problem, required)
  const stay = problem.weights.sameHands * 200
  const open = seats.map((_, i) => openFrom(seats.slice(i), stay))
  const clockWorth = problem.clocks.length * MUST
  const used = new Used()
  const chosen: (Option | null)[] = seats.map(() => null)
  let best: { readonly worth: number; readonly lineUp: readonly Assignment[] } | null = null

  let branches = 0
  const go = (i: number, worth: number): void => {
    branches++
    if (branches > (required.branchesMax ?? Number.POSITIVE_INFINITY)) throw new Error('too many branches')
    if (best !== null && worth + (open[i] ?? 0) + clockWorth <= best.worth) return
    const seat = seats[i]
    if (seat?.shift !== seats[i - 1]?.shift && !isWhole(seats[i - 1]?.shift)) return
    if (seat === undefined) {
      finish(worth)
      return
    }
    const before = seat.before < 0 ? null : chosen[seat.before]
    for (const option of seat.options) {
      if (!used.has(option)) continue
      let more = option.worth + option.musts * MUST
      if (before?.turn.piece === option.turn.piece) more += stay
      if (option.moves > 0 && used.of(`${option.turn.piece} at ${option.turn.place}`) === 0) more -= option.moves
      chosen[i] = option
      used.add(option, 1)
      go(i + 1, worth + more)
      used.add(option, -1)
      chosen[i] = null
    }
    if (required.person?.id !== seat.person.id || required.person.shift !== seat.shift) go(i + 1, worth)
  }

  /** Whether all who sit in a shift have the helpers and mentors they need; no later turn changes that. */
  const isWhole = (shift: string | undefined): boolean => {
    const here = chosen.filter((one): one is Option => one !== null && one.turn.shift === shift)
    return here.every((one) => used.of(one.group) >= one.step.people.min) && mentorsFor(problem, here) !== null
  }

  const finish = (worth: number): void => {
    const picked = chosen.filter((one): one is Option => one !== null)
    if (required.piece !== undefined && !picked.some(({ turn }) => turn.piece === required.piece)) return
    const total = worth + clocksKept(problem, picked) * MUST
    if (best !== null && total <= best.worth) return
    const mentors = mentorsFor(problem, picked)
    if (mentors === null) return
    best = { worth: total, lineUp: picked.map((one) => ({ ...one.turn, mentor: mentors.get(one) ?? null })) }
  }

  go(0, 0)
  if (best === null) return null
  const { worth, lineUp } = best as { readonly worth: number; readonly lineUp: readonly Assignment[] }
  const musts = Math.round(worth / MUST)
  return { musts, score: worth - musts * MUST, lineUp }
}

const worthOf = (option: Option | undefined): number =>
  option === undefined ? 0 : Math.max(0, option.worth + option.musts * MUST)

/**
 * No more than this can come from these turns: each its best; but where more of them have their best on one piece in
 * one shift than can work on it, all but so many lose at least the step to their next best on another.
 */
function openFrom(seats: readonly Seat[], stay: number): number {
  let sum = 0
  const rivals = new Map<string, { readonly most: number; readonly losses: number[] }>()
  for (const { options, before } of seats) {
    const byWorth = options.toSorted((a, b) => worthOf(b) - worthOf(a))
    const top = byWorth[0]
    sum += worthOf(top) + (before >= 0 ? stay : 0)
    if (top === undefined) continue
    const next = byWorth.find((one) => one.group !== top.group)
    const loss = worthOf(top) - worthOf(next)
    const most = Math.max(...top.piece.steps.map(({ people }) => people.max))
    const group = rivals.get(top.group) ?? { most, losses: [] }
    group.losses.push(loss)
    rivals.set(top.group, group)
  }
  for (const { most, losses } of rivals.values()) {
    losses.sort((a, b) => a - b)
    for (const loss of losses.slice(0, Math.max(0, losses.length - most))) sum -= loss
  }
  return sum
}

/** What the chosen turns use so far, counted under plain names; every rule but mentors and helpers. */
class Used {
  readonly #amounts = new Map<string, number>()
  readonly #groups = new Map<string, Option[]>()
  readonly #places = new Map<string, Option[]>()

  of(name: string): number {
    return this.#amounts.get(name) ?? 0
  }

  add(option: Option, sign: 1 | -1): void {
    const { turn, step } = option
    const count = (name: string, amount: number): void => {
      this.#amounts.set(name, this.of(name) + sign * amount)
    }
    count(option.group, 1)
    count(`${turn.piece} at ${turn.place}`, 1)
    count(`${turn.piece} ${turn.step}`, 1)
    if (step.airLpm > 0) count(`air ${turn.shift}`, step.airLpm)
    for (const [name, amount] of option.spends) count(name, amount)
    for (const [table, key] of [
      [this.#groups, option.group],
      [this.#places, `${turn.place} ${turn.shift}`],
    ] as const) {
      if (sign < 0) table.get(key)?.pop()
      else if (table.has(key)) table.get(key)?.push(option)
      else table.set(key, [option])
    }
  }

  /** Whether there is room for one more turn. */
  has(option: Option): boolean {
    const { turn, step, place } = option
    const group = this.#groups.get(option.group) ?? []
    if (group.some((one) => one.turn.step !== turn.step || one.turn.place !== turn.place)) return false
    if (group.length >= step.people.max) return false
    if (this.of(`${turn.piece} ${turn.step}`) >= step.turnsLeft) return false
    for (const [name, amount, cap] of option.spends) if (this.of(name) + amount > cap) return false
    if (step.airLpm > 0 && this.of(`air ${turn.shift}`) + step.airLpm > option.airCap) return false
    const here = this.#places.get(`${turn.place} ${turn.shift}`) ?? []
    if (here.length === 0) return true
    if (here.length >= place.seats) return false
    if (step.airLpm > 0 && here.filter((one) => one.step.airLpm > 0).length >= place.airLines) return false
    if (new Set([...here, option].flatMap((one) => escaping(one.step, place))).size > 1) return false
    const pieces = new Map([...here, option].map((one) => [one.piece.id, one.piece]))
    if ([...pieces.values()].filter((one) => one.isExclusive || place.isExclusive).length > 1) return false
    return place.loadKgMax === null || [...pieces.values()].reduce((sum, one) => sum + one.massKg, 0) <= place.loadKgMax
  }
}

function seatsOf(problem: Problem, required: ExactOptions): readonly Seat[] {
  const lookup = lookupOf(problem)
  const forbids = [...problem.forbids, ...(required.forbids ?? [])]
  const fixed = [...problem.begun, ...problem.holds, ...problem.claims]
  const seats: Seat[] = []
  const last = new Map<string, number>()
  for (const [index, shift] of lookup.order.entries()) {
    for (const person of problem.people) {
      const minutes = minutesIn(lookup, person.id, shift)
      if (minutes < 15) continue
      const before = last.get(`${person.id} ${index - 1}`) ?? -1
      const options: Option[] = []
      for (const piece of problem.pieces) {
        for (const step of piece.steps) {
          const level = person.levels[step.technique] ?? 0
          const need = Math.max(step.level, piece.isDelicate ? 3 : 2)
          const learns = level === 1 && need === 2
          if (level < need && !learns) continue
          if (step.force !== null && step.force > piece.ceiling && !step.isEscalated) continue
          for (const place of problem.places) {
            if (piece.tiedTo !== null && piece.tiedTo !== place.id) continue
            if (place.isCheckOverdue || place.closed.includes(shift)) continue
            if (!step.features.every((one) => place.features.includes(one))) continue
            const air = escaping(step, place)
            if (air.length > 1 || (air.length > 0 && place.isInView)) continue
            if (place.lengthCmMax !== null && piece.lengthCm > place.lengthCmMax) continue
            if (place.loadKgMax !== null && piece.massKg > place.loadKgMax) continue
            const turn = { person: person.id, shift, piece: piece.id, step: step.id, place: place.id, mentor: null }
            if (forbids.some((one) => matches(one, turn))) continue
            if (step.airLpm > 0 && place.airLines === 0) continue
            options.push({
              turn,
              piece,
              step,
              place,
              group: `${piece.id} in ${shift}`,
              airCap: lookup.shift.get(shift)?.airLpm ?? 0,
              spends: spendsOf(person, step, minutes),
              worth: scoreOf(appraiseTurn(problem, lookup, turn)),
              musts: fixed.filter((must) => matches(must, turn)).length,
              learns: learns ? step.technique : null,
              moves:
                piece.at !== null && piece.at !== place.id ? problem.weights.fewMoves * 4 * piece.moveCostPercent : 0,
            })
          }
        }
      }
      options.sort((a, b) => b.musts - a.musts || b.worth - a.worth)
      last.set(`${person.id} ${index}`, seats.length)
      seats.push({ person, shift, options, before })
    }
  }
  return seats.map((seat) => ({ ...seat, options: seat.options.filter((one) => isPossible(problem, seats, one)) }))
}

/** Whether a turn can have the helpers and the mentor that it needs at all. */
function isPossible(problem: Problem, seats: readonly Seat[], option: Option): boolean {
  const { turn, step, place, learns } = option
  const others = seats.filter(({ person, shift }) => shift === turn.shift && person.id !== turn.person)
  const { min } = step.people
  const joins = ({ options }: Seat): boolean =>
    options.some((one) => one.turn.piece === turn.piece && one.turn.step === turn.step && one.place === place)
  if (min > 1 && (place.seats < min || step.turnsLeft < min || others.filter(joins).length < min - 1)) return false
  if (learns === null) return true
  return (
    problem.learnersPerMentorMax > 0 &&
    others.some(({ options }) => options.some((one) => mayMentor(problem, one, option)))
  )
}

const escaping = (step: Problem['pieces'][number]['steps'][number], place: Problem['places'][number]) =>
  step.givesOff.filter((kind) => !place.keepsIn.includes(kind))

function spendsOf(
  person: Problem['people'][number],
  step: Problem['pieces'][number]['steps'][number],
  minutes: number,
): Option['spends'] {
  const points = (perHour: number): number => Math.ceil((perHour * step.triggerPercent * minutes) / 6000)
  const caps: [string, number, number | null | undefined][] = [
    [`${person.id} vibration`, points(step.vibrationPerHour), person.vibrationPointsLeft],
    [`${person.id} noise`, points(step.noisePerHour), person.noisePointsLeft],
  ]
  if (step.techniqueClass !== null)
    caps.push([`${person.id} ${step.techniqueClass}`, minutes, person.classMinutesLeft[step.techniqueClass]])
  return caps.flatMap(([name, amount, cap]) =>
    amount > 0 && cap !== null && cap !== undefined ? [[name, amount, cap] as const] : [],
  )
}

function matches(wish: Partial<Forbid>, turn: Assignment): boolean {
  return (['person', 'shift', 'piece', 'step', 'place'] as const).every(
    (name) => wish[name] === null || wish[name] === undefined || wish[name] === turn[name],
  )
}

function clocksKept(problem: Problem, picked: readonly Option[]): number {
  return problem.clocks.filter((clock) =>
    picked.some(({ turn }) => {
      if (turn.shift !== clock.shift || turn.piece !== clock.piece) return false
      if (clock.step !== null && clock.step !== turn.step) return false
      const shift = problem.shifts.find(({ id }) => id === turn.shift)
      const person = problem.people.find(({ id }) => id === turn.person)
      const presence = person?.presence.find((one) => one.shift === turn.shift)
      const step = problem.pieces.find(({ id }) => id === turn.piece)?.steps.find(({ id }) => id === turn.step)
      if (step !== undefined && person?.levels[step.technique] === 1) return false
      if (shift === undefined || presence === undefined) return false
      return Math.max(presence.from, shift.start) <= clock.minute && clock.minute <= Math.min(presence.to, shift.end)
    }),
  ).length
}

/** A mentor for each learner within the mentors' limit, or null; every way of sharing them out is tried. */
function mentorsFor(problem: Problem, picked: readonly Option[]): ReadonlyMap<Option, string> | null {
  const learners = picked.filter((one) => one.learns !== null)
  const given = new Map<Option, string>()
  const share = (i: number): boolean => {
    const learner = learners[i]
    if (learner === undefined) return true
    for (const mentor of picked) {
      if (!mayMentor(problem, mentor, learner)) continue
      const load = [...given].filter(
        ([one, id]) => id === mentor.turn.person && one.turn.shift === learner.turn.shift,
      ).length
      if (load >= problem.learnersPerMentorMax) continue
      given.set(learner, mentor.turn.person)
      if (share(i + 1)) return true
      given.delete(learner)
    }
    return false
  }
  return share(0) ? given : null
}

function mayMentor(problem: Problem, mentor: Option, learner: Option): boolean {
  const [a, b] = [mentor.place, learner.place]
  if (mentor.turn.shift !== learner.turn.shift || mentor.learns !== null || mentor.step.people.min > 1) return false
  if (a.id !== b.id && !a.neighbours.includes(b.id) && !b.neighbours.includes(a.id)) return false
  return (problem.people.find(({ id }) => id === mentor.turn.person)?.levels[learner.learns ?? ''] ?? 0) >= 4
}
