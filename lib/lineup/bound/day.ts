/**
 * How much better a line-up could be at most. Everything that people compete for (seats, lines, exclusive use, air,
 * a piece's helpers, mentors, a person's own limits) gets a price; at given prices each person's best day is found
 * exactly, shift by shift with staying on; the sum of those days and of the priced room is a bound for every
 * line-up. The prices follow a smoothed subgradient.
 *
 * What is given up: a group has one place and enough helpers, a learner's mentor is near, a move is paid by the whole
 * group. Each of these only ever lowers the true optimum, so the bound stays valid.
 */
import { at, atDouble } from '#lib/base'
import type { Problem } from '../problem.ts'
import { compile } from '../solve/compile.ts'
import { exposure, type Model, NO_CAP } from '../solve/model.ts'

export interface BoundOptions {
  /** Score of a known line-up: steers the step length; the closer to the optimum the better. */
  readonly target: number
  readonly rounds?: number
  readonly isCancelled?: () => boolean
}

/** No line-up of this day scores more marks than this. */
export function boundOf(problem: Problem, options: BoundOptions): number {
  return priceDay(compile(problem), options).bound
}

export interface Priced {
  /** No line-up scores more. */
  readonly bound: number
  /** What each option of the model earns when everything it uses is paid at the best prices met. */
  readonly reduced: Float64Array
}

/** The same on tables that are already there, with the worth of each option at the prices found. */
export function priceDay(model: Model, options: BoundOptions): Priced {
  const rows = rowsOf(model)
  const price = new Float64Array(rows.count)
  const used = new Float64Array(rows.count)
  const direction = new Float64Array(rows.count)
  const bestPrice = new Float64Array(rows.count)
  const days = daysOf(model, rows)
  let best = days.solve(price, used)
  let pace = 1
  let stale = 0
  const rounds = options.rounds ?? ROUNDS
  for (let round = 0; round < rounds && best >= options.target + 1 && pace > SLOWEST; round++) {
    if (options.isCancelled?.() === true) break
    let norm = 0
    for (let r = 0; r < rows.count; r++) {
      const over = atDouble(used, r) - atDouble(rows.room, r)
      const smooth = round === 0 ? over : 0.3 * over + 0.7 * atDouble(direction, r)
      // A row with room left whose price is nothing already cannot be made cheaper.
      direction[r] = smooth < 0 && atDouble(price, r) === 0 ? 0 : smooth
      norm += (atDouble(direction, r) / atDouble(rows.unit, r)) ** 2
    }
    if (norm < 1e-9) break
    const stride = (pace * Math.max(best - options.target, best * 1e-5)) / norm
    for (let r = 0; r < rows.count; r++) {
      const change = (stride * atDouble(direction, r)) / atDouble(rows.unit, r) ** 2
      price[r] = Math.max(0, atDouble(price, r) + change)
    }
    const value = days.solve(price, used)
    if (value < best - 1e-6) {
      best = value
      bestPrice.set(price)
      stale = 0
      pace = Math.min(1.5, pace * 1.05)
    } else if (++stale >= PATIENCE) {
      pace *= 0.7
      stale = 0
    }
  }
  return { bound: Math.floor(best + 1e-6), reduced: days.reduced(bestPrice) }
}

/** Rounds after which the prices have settled at every size measured. */
const ROUNDS = 1500
/** Rounds without gain before the steps are shortened, and the pace at which it is over. */
const PATIENCE = 15
const SLOWEST = 0.0005

/** Numbers of the priced rows, by kind, and how much room each has. */
interface Rows {
  readonly count: number
  readonly room: Float64Array
  /** The scale of each row's amounts: litres and minutes would otherwise drown seats. */
  readonly unit: Float64Array
  readonly group: number
  readonly turns: number
  readonly seats: number
  readonly lines: number
  readonly exclusive: number
  readonly load: number
  readonly air: number
  readonly mentor: number
  readonly mentorAll: number
  readonly vibration: number
  readonly noise: number
  readonly kind: number
}

function rowsOf(model: Model): Rows {
  const { persons: P, shifts: S, places: L, pieces: K, jobs: J, techniques: T, classes: C } = model
  const group = 0
  const turns = group + K * S
  const seats = turns + J
  const lines = seats + L * S
  const exclusive = lines + L * S
  const load = exclusive + L * S
  const air = load + L * S
  const mentor = air + S
  const mentorAll = mentor + T * S
  const vibration = mentorAll + S
  const noise = vibration + P
  const kind = noise + P
  const count = kind + P * C
  const room = new Float64Array(count)
  room.fill(1, group, turns)
  room.set(model.jobTurns, turns)
  for (let where = 0; where < L * S; where++) {
    const place = Math.floor(where / S)
    room[seats + where] = at(model.seats, place)
    room[lines + where] = at(model.airLines, place)
    room[exclusive + where] = 1
    room[load + where] = at(model.loadCap, place)
  }
  room.set(model.airCap, air)
  room.set(model.vibrationLeft, vibration)
  room.set(model.noiseLeft, noise)
  room.set(model.classLeft, kind)
  const unit = new Float64Array(count).fill(1)
  const most = (amounts: Int32Array): number => amounts.reduce((widest, amount) => Math.max(widest, amount), 1)
  const longest = most(model.minutes)
  unit.fill(most(model.mass), load, air)
  unit.fill(most(model.jobAir), air, mentor)
  unit.fill(exposure(most(model.jobVibration), longest), vibration, noise)
  unit.fill(exposure(most(model.jobNoise), longest), noise, kind)
  unit.fill(longest, kind, count)
  return {
    count,
    room,
    unit,
    group,
    turns,
    seats,
    lines,
    exclusive,
    load,
    air,
    mentor,
    mentorAll,
    vibration,
    noise,
    kind,
  }
}

interface Days {
  readonly solve: (price: Float64Array, used: Float64Array) => number
  readonly reduced: (price: Float64Array) => Float64Array
}

/** Every person's best day at given prices. */
function daysOf(model: Model, rows: Rows): Days {
  const { persons: P, shifts: S, pieces: K, jobs: J, techniques: T, classes: C } = model
  const jobCost = new Float64Array(J * S)
  /** Where in the model's list of places the cheapest one stands. */
  const jobPlace = new Int32Array(J * S)
  const shares = sharesOf(model)
  const widest = at(model.optionsStart, P * S)
  const came = new Int32Array(widest)
  const optionTurn = new Int32Array(widest)
  for (let turn = 0; turn < P * S; turn++) {
    optionTurn.fill(turn, at(model.optionsStart, turn), at(model.optionsStart, turn + 1))
  }
  const isMentor = new Int32Array(P)
  for (let cell = 0; cell < P * T; cell++) if (at(model.levels, cell) >= 4) isMentor[Math.floor(cell / T)] = 1
  const even = endsOf(K)
  const odd = endsOf(K)
  const leads = new Float64Array(P * S)
  let stamp = 0

  return { solve, reduced }

  function reduced(price: Float64Array): Float64Array {
    priceJobs(price)
    return Float64Array.from(model.options, (job, o) => {
      const turn = at(optionTurn, o)
      return worthAt(Math.floor(turn / S), turn, turn % S, job, price)
    })
  }

  function solve(price: Float64Array, used: Float64Array): number {
    priceJobs(price)
    used.fill(0)
    let total = 0
    for (let r = 0; r < rows.count; r++) {
      if (atDouble(price, r) !== 0) total += atDouble(price, r) * atDouble(rows.room, r)
    }
    for (let person = 0; person < P; person++) total += bestDay(person, price, used)
    return total
  }

  function costAt(price: Float64Array, job: number, i: number, shift: number): number {
    const place = at(model.jobPlaces, i)
    const where = place * S + shift
    let cost = atDouble(price, rows.seats + where) + atDouble(shares.move, i)
    if (at(model.jobAir, job) > 0) cost += atDouble(price, rows.lines + where)
    cost += atDouble(price, rows.exclusive + where) * atDouble(shares.exclusive, i)
    return cost + atDouble(price, rows.load + where) * atDouble(shares.load, i)
  }

  /** The cheapest open place for each job in each shift, with everything that does not depend on the person. */
  function priceJobs(price: Float64Array): void {
    for (let job = 0; job < J; job++) {
      const piece = at(model.jobPiece, job)
      for (let s = 0; s < S; s++) {
        let least = Number.POSITIVE_INFINITY
        let where = -1
        for (let i = at(model.jobPlacesStart, job); i < at(model.jobPlacesStart, job + 1); i++) {
          const place = at(model.jobPlaces, i)
          if (at(model.closed, place * S + s) === 1) continue
          const cost = costAt(price, job, i, s)
          if (cost < least) {
            least = cost
            where = i
          }
        }
        jobPlace[job * S + s] = where
        jobCost[job * S + s] =
          least +
          atDouble(price, rows.group + piece * S + s) / at(model.jobMax, job) +
          atDouble(price, rows.turns + job) +
          atDouble(price, rows.air + s) * at(model.jobAir, job)
      }
    }
    for (let person = 0; person < P; person++) {
      for (let s = 0; s < S; s++) {
        let lead = 0
        for (let t = 0; t < T; t++) {
          if (at(model.levels, person * T + t) >= 4) lead += atDouble(price, rows.mentor + t * S + s)
        }
        if (at(isMentor, person) === 1) lead += atDouble(price, rows.mentorAll + s)
        leads[person * S + s] = lead * model.mentorMax
      }
    }
  }

  /** The best day of one person: shift by shift, keeping the best end on each piece for those who stay on. */
  function bestDay(person: number, price: Float64Array, used: Float64Array): number {
    let before = 0
    let beforeOption = -1
    for (let s = 0; s < S; s++) {
      const turn = person * S + s
      const [now, last] = s % 2 === 0 ? [even, odd] : [odd, even]
      stamp++
      let best = before
      let bestOption = beforeOption
      for (let o = at(model.optionsStart, turn); o < at(model.optionsStart, turn + 1); o++) {
        const job = at(model.options, o)
        const piece = at(model.jobPiece, job)
        let from = before
        let fromOption = beforeOption
        if (s > 0 && at(last.stamp, piece) === stamp - 1 && atDouble(last.worth, piece) + model.stayValue > from) {
          from = atDouble(last.worth, piece) + model.stayValue
          fromOption = at(last.option, piece)
        }
        const worth = from + worthAt(person, turn, s, job, price)
        came[o] = fromOption
        if (at(now.stamp, piece) !== stamp || worth > atDouble(now.worth, piece)) {
          now.stamp[piece] = stamp
          now.worth[piece] = worth
          now.option[piece] = o
        }
        if (worth > best) {
          best = worth
          bestOption = o
        }
      }
      before = best
      beforeOption = bestOption
    }
    for (let o = beforeOption; o >= 0; o = at(came, o)) spend(person, at(optionTurn, o), at(model.options, o), used)
    return before
  }

  function worthAt(person: number, turn: number, s: number, job: number, price: Float64Array): number {
    let worth = at(model.value, turn * J + job) - atDouble(jobCost, job * S + s)
    const minutes = at(model.minutes, turn)
    const vibration = at(model.jobVibration, job)
    if (vibration > 0) worth -= atDouble(price, rows.vibration + person) * exposure(vibration, minutes)
    const noise = at(model.jobNoise, job)
    if (noise > 0) worth -= atDouble(price, rows.noise + person) * exposure(noise, minutes)
    const kind = at(model.jobClass, job)
    if (kind >= 0) worth -= atDouble(price, rows.kind + person * C + kind) * minutes
    if (at(model.learner, turn * J + job) === 1) {
      worth -= atDouble(price, rows.mentor + at(model.jobTechnique, job) * S + s) + atDouble(price, rows.mentorAll + s)
    } else if (at(model.jobMin, job) <= 1) worth += atDouble(leads, turn)
    return worth
  }

  function spend(person: number, turn: number, job: number, used: Float64Array): void {
    const s = turn % S
    const piece = at(model.jobPiece, job)
    const i = at(jobPlace, job * S + s)
    const where = at(model.jobPlaces, i) * S + s
    const raise = (row: number, amount: number): void => {
      used[row] = atDouble(used, row) + amount
    }
    raise(rows.group + piece * S + s, 1 / at(model.jobMax, job))
    raise(rows.turns + job, 1)
    raise(rows.seats + where, 1)
    if (at(model.jobAir, job) > 0) {
      raise(rows.lines + where, 1)
      raise(rows.air + s, at(model.jobAir, job))
    }
    raise(rows.exclusive + where, atDouble(shares.exclusive, i))
    raise(rows.load + where, atDouble(shares.load, i))
    const minutes = at(model.minutes, turn)
    raise(rows.vibration + person, exposure(at(model.jobVibration, job), minutes))
    raise(rows.noise + person, exposure(at(model.jobNoise, job), minutes))
    if (at(model.jobClass, job) >= 0) raise(rows.kind + person * C + at(model.jobClass, job), minutes)
    if (at(model.learner, turn * J + job) === 1) {
      raise(rows.mentor + at(model.jobTechnique, job) * S + s, 1)
      raise(rows.mentorAll + s, 1)
    } else if (at(model.jobMin, job) <= 1 && at(isMentor, person) === 1) {
      raise(rows.mentorAll + s, -model.mentorMax)
      for (let t = 0; t < T; t++) {
        if (at(model.levels, person * T + t) >= 4) raise(rows.mentor + t * S + s, -model.mentorMax)
      }
    }
  }
}

/** What one person of a group carries of its exclusive use, load and move, for each place of the model's list. */
interface Shares {
  readonly exclusive: Float64Array
  readonly load: Float64Array
  readonly move: Float64Array
}

function sharesOf(model: Model): Shares {
  const size = model.jobPlaces.length
  const shares = { exclusive: new Float64Array(size), load: new Float64Array(size), move: new Float64Array(size) }
  for (let piece = 0; piece < model.pieces; piece++) {
    const [start, end] = [at(model.firstJob, piece), at(model.firstJob, piece + 1)]
    let turns = 0
    let most = 1
    for (let job = start; job < end; job++) {
      turns += at(model.jobTurns, job)
      most = Math.max(most, at(model.jobMax, job))
    }
    // A move is paid once a day, by at most this many turns.
    const moved = at(model.moveCost, piece) / Math.max(1, Math.min(turns, most * model.shifts))
    const stands = at(model.standsAt, piece)
    for (let job = start; job < end; job++) {
      for (let i = at(model.jobPlacesStart, job); i < at(model.jobPlacesStart, job + 1); i++) {
        const place = at(model.jobPlaces, i)
        const lines = at(model.jobAir, job) > 0 ? at(model.airLines, place) : NO_CAP
        const people = Math.max(1, Math.min(at(model.jobMax, job), at(model.seats, place), lines))
        shares.exclusive[i] = at(model.exclusive, piece * model.places + place) / people
        shares.load[i] = at(model.mass, piece) / people
        shares.move[i] = stands >= 0 && stands !== place ? moved : 0
      }
    }
  }
  return shares
}

interface Ends {
  readonly stamp: Int32Array
  readonly worth: Float64Array
  readonly option: Int32Array
}

function endsOf(pieces: number): Ends {
  return {
    stamp: new Int32Array(pieces).fill(-1),
    worth: new Float64Array(pieces),
    option: new Int32Array(pieces),
  }
}
