/**
 * The cells of a field at given prices: what each person would bring to a job, what each site costs, and the best crew
 * at the best site in each shift taken alone.
 */
import { at, atDouble } from '#lib/base'
import { type Extras, extrasOf } from './extras.ts'
import { type Field, LEADS, LEARNS } from './field.ts'
import type { Rows } from './rows.ts'

export interface Cells {
  readonly extras: Extras
  /** By crew entry: its marks less all that is the person's to pay. */
  readonly crewWorth: Float64Array
  /** By site: what each of a crew pays there, and what the piece pays. */
  readonly seatCost: Float64Array
  readonly siteCost: Float64Array
  /** By cell: the best worth, its site, the size of its crew and the best of the crew; the largest crew possible. */
  readonly worth: Float64Array
  readonly site: Int32Array
  readonly count: Int32Array
  readonly top: Int32Array
  readonly most: Int32Array
  /** The best worth with one person counted as often as the job likes: pairs of shifts are sorted out by it. */
  readonly loose: Float64Array
  /** To be called first at new prices: what mentors earn. */
  readonly priceLeads: (prices: Float64Array) => void
  readonly priceCell: (c: number, prices: Float64Array) => void
  /** After `priceCell`, when a worth or a cost was changed by hand: which of the crew and which site are best now. */
  readonly conclude: (c: number, top: number, site: number) => void
  /** The `most` best of a cell's crew, best first; how many there are. */
  readonly topOf: (c: number, most: number, into: Int32Array) => number
  /** The cheapest site for a crew of this size; -1 when none is large enough. */
  readonly cheapest: (c: number, crew: number) => number
}

/** The largest crew (problem.ts: people.max). */
export const CREW_MAX = 12

export function cellsOf(field: Field, rows: Rows): Cells {
  const { model, cells, crewStart, crewTurn, siteStart, sitePlace } = field
  const { shifts: S, techniques: T, classes: C, persons: P } = model
  const isSplit = S > 2
  const N = cells.length
  const crewWorth = new Float64Array(crewTurn.length)
  const seatCost = new Float64Array(sitePlace.length)
  const siteCost = new Float64Array(sitePlace.length)
  const cellWorth = new Float64Array(N)
  const cellLoose = new Float64Array(N)
  const cellSite = new Int32Array(N)
  const cellCount = new Int32Array(N)
  const cellTop = new Int32Array(N)
  const cellMost = new Int32Array(N)
  for (let c = 0; c < N; c++) {
    let most = 0
    for (let i = at(siteStart, c); i < at(siteStart, c + 1); i++) most = Math.max(most, at(field.siteMost, i))
    cellMost[c] = Math.min(most, at(crewStart, c + 1) - at(crewStart, c))
  }
  const extras = extrasOf(field)
  const lead = new Float64Array(P * S)
  const learnerSum = new Float64Array(S * T)
  const topA = new Int32Array(CREW_MAX)
  return {
    extras,
    crewWorth,
    seatCost,
    siteCost,
    worth: cellWorth,
    site: cellSite,
    count: cellCount,
    top: cellTop,
    most: cellMost,
    loose: cellLoose,
    priceLeads,
    priceCell,
    conclude,
    topOf,
    cheapest,
  }

  function priceLeads(prices: Float64Array): void {
    learnerSum.fill(0)
    for (const row of extras.learnerRows) {
      const key = (Math.floor(row / T) % S) * T + (row % T)
      learnerSum[key] = atDouble(learnerSum, key) + atDouble(prices, rows.learner + row)
    }
    lead.fill(0)
    for (let person = 0; person < P; person++) {
      for (let s = 0; s < S; s++) {
        let reward = 0
        for (let t = 0; t < T; t++) {
          if (at(model.levels, person * T + t) < 4) continue
          reward += atDouble(learnerSum, s * T + t) + model.mentorMax * atDouble(prices, rows.mentor + t * S + s)
        }
        lead[person * S + s] = reward + model.mentorMax * atDouble(prices, rows.mentorAll + s)
      }
    }
  }

  /** Worth of each crew member and cost of each site; the best crew at the best site. */
  function priceCell(c: number, prices: Float64Array): void {
    const cell = at(cells, c)
    const s = cell % S
    const job = (cell - s) / S
    const t = at(model.jobTechnique, job)
    const kind = at(model.jobClass, job)
    const air = at(model.jobAir, job)
    const common = isSplit ? atDouble(prices, rows.jobTurns + job) : 0
    const learning = atDouble(prices, rows.mentor + t * S + s) + atDouble(prices, rows.mentorAll + s)
    let top = -1
    let most = Number.NEGATIVE_INFINITY
    for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) {
      const turn = at(crewTurn, i)
      const person = (turn - s) / S
      let worth = at(field.crewMarks, i) - atDouble(prices, rows.turn + turn) - common + atDouble(extras.stay, i)
      const role = at(field.crewKind, i)
      if (role === LEARNS) worth -= learning + atDouble(prices, rows.learner + turn * T + t)
      else if (role === LEADS) worth += atDouble(lead, turn)
      worth -= at(field.crewVibration, i) * atDouble(prices, rows.vibration + person)
      worth -= at(field.crewNoise, i) * atDouble(prices, rows.noise + person)
      if (kind >= 0) worth -= at(field.crewMinutes, i) * atDouble(prices, rows.kind + person * C + kind)
      crewWorth[i] = worth
      if (worth <= most) continue
      most = worth
      top = i
    }
    const mass = at(model.mass, at(model.jobPiece, job))
    const exclusive = at(model.jobPiece, job) * model.places
    let least = Number.POSITIVE_INFINITY
    let site = -1
    for (let i = at(siteStart, c); i < at(siteStart, c + 1); i++) {
      const place = at(sitePlace, i)
      const where = place * S + s
      let seat = atDouble(prices, rows.seats + where)
      if (air > 0) seat += atDouble(prices, rows.lines + where) + air * atDouble(prices, rows.air + s)
      let its = mass * atDouble(prices, rows.load + where) + atDouble(extras.move, i)
      if (at(model.exclusive, exclusive + place) === 1) its += atDouble(prices, rows.exclusive + where)
      seatCost[i] = seat
      siteCost[i] = its
      if (seat + its >= least) continue
      least = seat + its
      site = i
    }
    conclude(c, top, site)
  }

  /** What a cell is worth with this one of its crew at the top and this site the cheapest. */
  function conclude(c: number, top: number, site: number): void {
    cellTop[c] = top
    if (at(cellMost, c) > 1) {
      priceCrew(c, at(model.jobMin, Math.floor(at(cells, c) / S)))
      return
    }
    const worth = atDouble(crewWorth, top) - (atDouble(seatCost, site) + atDouble(siteCost, site))
    cellWorth[c] = worth
    cellSite[c] = site
    cellCount[c] = 1
    cellLoose[c] = worth
  }

  /** The best crew of a job for several. */
  function priceCrew(c: number, least: number): void {
    const most = at(cellMost, c)
    const found = topOf(c, most, topA)
    let best = Number.NEGATIVE_INFINITY
    let loose = Number.NEGATIVE_INFINITY
    let sum = 0
    for (let k = 1; k <= found; k++) {
      sum += atDouble(crewWorth, at(topA, k - 1))
      if (k < least) continue
      const site = cheapest(c, k)
      if (site < 0) break
      const cost = k * atDouble(seatCost, site) + atDouble(siteCost, site)
      const worth = sum - cost
      loose = Math.max(loose, k > 2 ? k * atDouble(crewWorth, at(topA, 0)) - cost : worth)
      if (worth > best) {
        best = worth
        cellSite[c] = site
        cellCount[c] = k
      }
    }
    cellWorth[c] = best
    cellLoose[c] = loose
  }

  function cheapest(c: number, crew: number): number {
    let least = Number.POSITIVE_INFINITY
    let site = -1
    for (let i = at(siteStart, c); i < at(siteStart, c + 1); i++) {
      if (at(field.siteMost, i) < crew) continue
      const cost = crew * atDouble(seatCost, i) + atDouble(siteCost, i)
      if (cost < least) {
        least = cost
        site = i
      }
    }
    return site
  }

  /** The `most` best of a cell's crew, best first; how many there are. */
  function topOf(c: number, most: number, into: Int32Array): number {
    let found = 0
    for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) {
      const worth = atDouble(crewWorth, i)
      if (found === most && worth <= atDouble(crewWorth, at(into, found - 1))) continue
      let place = found < most ? found++ : found - 1
      while (place > 0 && atDouble(crewWorth, at(into, place - 1)) < worth) {
        into[place] = at(into, place - 1)
        place--
      }
      into[place] = i
    }
    return found
  }
}
