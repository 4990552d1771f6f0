/**
 * What each piece would do with the day at given prices: one job at one place in a shift, with as many people as the
 * job wants, those who stay on and a move that serves two shifts counted in. With one or two shifts a piece's best day
 * is found exactly (but for a person counted twice in a crew of several that stays on); with more, staying on and
 * moves are shared out evenly between the shifts, which never makes a day look worse than it is.
 */
import { at, atDouble } from '#lib/base'
import { CREW_MAX, cellsOf } from './cells.ts'
import type { Field } from './field.ts'
import type { Rows } from './rows.ts'
import { spendingOf } from './spending.ts'

/** Bounds on the line-ups that have one crew entry, or one site. */
export interface Forced {
  readonly crew: Float64Array
  readonly site: Float64Array
}

export interface Pieces {
  /** The sum of the best days of all pieces; sets `used` to what they use, row by row. */
  readonly price: (price: Float64Array, used: Float64Array) => number
  /** After `price`: what each of the field's crew entries earns when everything it uses is paid. */
  readonly worthOfCrew: () => Float64Array
  /**
   * After `price`, whose total with the priced room is `whole`: by crew entry and by site, no line-up with it is worth
   * more. Exact at these prices: its piece's day is counted again with it in.
   */
  readonly forced: (whole: number) => Forced
}

/** Marks that make sure a piece's best day has what they are given for. */
const SURELY = 1e8

export function piecesOf(field: Field, rows: Rows, chosen: Float64Array): Pieces {
  const { model, cells, crewStart, crewTurn, siteStart, sitePlace } = field
  const S = model.shifts
  const isSplit = S > 2
  const desk = cellsOf(field, rows)
  const { crewWorth, seatCost, siteCost, topOf, cheapest } = desk
  const [cellWorth, cellLoose, cellMost] = [desk.worth, desk.loose, desk.most]
  const { spendCrew, spendSites } = spendingOf(field, rows, desk, chosen)
  const [topA, topB, topBoth] = [new Int32Array(CREW_MAX), new Int32Array(CREW_MAX), new Int32Array(CREW_MAX)]
  const bothWorth = new Float64Array(CREW_MAX)
  const worthOfPiece = new Float64Array(model.pieces)
  const mate = new Int32Array(crewTurn.length)
  /** The best plan of the piece at hand: its cells, sites, crew sizes and how many stay on. */
  const plan = { a: -1, b: -1, siteA: -1, siteB: -1, countA: 0, countB: 0, staying: 0, stayer: -1, isShared: false }

  return { price, worthOfCrew, forced }

  function price(prices: Float64Array, used: Float64Array): number {
    desk.priceLeads(prices)
    used.fill(0)
    let total = 0
    for (let piece = 0; piece < model.pieces; piece++) {
      const [start, end] = [at(field.pieceStart, piece), at(field.pieceStart, piece + 1)]
      if (start === end) continue
      for (let c = start; c < end; c++) desk.priceCell(c, prices)
      const best = isSplit ? splitDay(start, end, used) : wholeDay(start, end, used)
      worthOfPiece[piece] = best
      total += best
    }
    return total
  }

  function worthOfCrew(): Float64Array {
    const worth = new Float64Array(crewTurn.length)
    for (let c = 0; c < cells.length; c++) {
      const cost = atDouble(crewWorth, at(desk.top, c)) - atDouble(cellWorth, c)
      const share = at(cellMost, c) === 1 ? cost : siteShare(c)
      for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) worth[i] = atDouble(crewWorth, i) - share
    }
    return worth
  }

  function forced(whole: number): Forced {
    const crew = new Float64Array(crewTurn.length)
    const site = new Float64Array(sitePlace.length)
    const none = new Float64Array(rows.count)
    for (let piece = 0; piece < model.pieces; piece++) {
      const [start, end] = [at(field.pieceStart, piece), at(field.pieceStart, piece + 1)]
      const day = (c: number, top: number, cheapestSite: number): number => {
        desk.conclude(c, top, cheapestSite)
        const its = isSplit ? splitDay(start, end, none) : wholeDay(start, end, none)
        return whole - atDouble(worthOfPiece, piece) + its - SURELY
      }
      for (let c = start; c < end; c++) {
        const [top, best] = [at(desk.top, c), at(desk.site, c)]
        for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) {
          const kept = atDouble(crewWorth, i)
          crewWorth[i] = kept + SURELY
          crew[i] = day(c, i, best)
          crewWorth[i] = kept
        }
        for (let i = at(siteStart, c); i < at(siteStart, c + 1); i++) {
          const kept = atDouble(siteCost, i)
          siteCost[i] = kept - SURELY
          site[i] = day(c, top, i)
          siteCost[i] = kept
        }
        desk.conclude(c, top, best)
      }
    }
    return { crew, site }
  }

  /** What one of a crew of several pays for the site. */
  function siteShare(c: number): number {
    const most = Math.max(1, at(desk.count, c))
    const site = cheapest(c, most)
    return site < 0 ? 0 : atDouble(seatCost, site) + atDouble(siteCost, site) / most
  }

  /** Each shift for itself. */
  function splitDay(start: number, end: number, used: Float64Array): number {
    let total = 0
    for (let s = 0; s < S; s++) {
      let best = Number.NEGATIVE_INFINITY
      let bestCell = -1
      for (let c = start; c < end; c++) {
        if (at(cells, c) % S !== s || atDouble(cellWorth, c) <= best) continue
        best = atDouble(cellWorth, c)
        bestCell = c
      }
      if (best > 0) {
        total += best
        spendCell(bestCell, used)
      }
    }
    return total
  }

  /** One or two shifts: the best of one alone and of two together. */
  function wholeDay(start: number, end: number, used: Float64Array): number {
    let best = Number.NEGATIVE_INFINITY
    plan.a = -1
    plan.b = -1
    for (let c = start; c < end; c++) {
      if (atDouble(cellWorth, c) <= best) continue
      best = atDouble(cellWorth, c)
      plan.a = c
      plan.siteA = at(desk.site, c)
      plan.countA = at(desk.count, c)
    }
    if (S === 2) {
      const moves = at(model.moveCost, at(model.jobPiece, Math.floor(at(cells, start) / S)))
      for (let a = start; a < end; a++) {
        if (at(cells, a) % S !== 0) continue
        for (let b = start; b < end; b++) {
          if (at(cells, b) % S !== 1) continue
          const shared = Math.min(at(cellMost, a), at(cellMost, b)) * model.stayValue + moves
          if (atDouble(cellLoose, a) + atDouble(cellLoose, b) + shared <= Math.max(0, best)) continue
          best = twoShifts(a, b, best)
        }
      }
    }
    if (best <= 0) return 0
    spendPlan(used)
    return best
  }

  /** The best day with these two cells; noted in `plan` when it is worth more than `above`. */
  function twoShifts(a: number, b: number, above: number): number {
    const [jobA, jobB] = [Math.floor(at(cells, a) / S), Math.floor(at(cells, b) / S)]
    const turns = jobA === jobB ? at(model.jobTurns, jobA) : Number.POSITIVE_INFINITY
    const foundA = topOf(a, at(cellMost, a), topA)
    const foundB = topOf(b, at(cellMost, b), topB)
    const both = topStaying(a, b, Math.min(foundA, foundB))
    for (let ka = at(model.jobMin, jobA); ka <= foundA; ka++) {
      for (let kb = at(model.jobMin, jobB); kb <= foundB && ka + kb <= turns; kb++) {
        const [alone, siteA, siteB, isShared] = sitesTogether(a, b, ka, kb)
        for (let staying = 0; staying <= Math.min(ka, kb, both); staying++) {
          if (staying === 1 && ka + kb > 2 && ka <= 2 && kb <= 2) {
            above = oneStays(a, b, { ka, kb, siteA, siteB, isShared }, alone, above)
            continue
          }
          let worth = -alone
          for (let k = 0; k < staying; k++) worth += atDouble(bothWorth, k)
          for (let k = 0; k < ka - staying; k++) worth += atDouble(crewWorth, at(topA, k))
          for (let k = 0; k < kb - staying; k++) worth += atDouble(crewWorth, at(topB, k))
          if (worth <= above) continue
          above = worth
          Object.assign(plan, { a, b, siteA, siteB, countA: ka, countB: kb, staying, stayer: -1, isShared })
        }
      }
    }
    return above
  }

  /** Crews of two of whom one stays on: each who could is tried, with the best others beside. */
  function oneStays(
    a: number,
    b: number,
    plans: {
      readonly ka: number
      readonly kb: number
      readonly siteA: number
      readonly siteB: number
      readonly isShared: boolean
    },
    alone: number,
    above: number,
  ): number {
    const { ka, kb, siteA, siteB, isShared } = plans
    for (let i = at(crewStart, a); i < at(crewStart, a + 1); i++) {
      const j = at(mate, i)
      if (j < at(crewStart, b) || j >= at(crewStart, b + 1) || at(crewTurn, j) !== at(crewTurn, i) + 1) continue
      let worth = atDouble(crewWorth, i) + atDouble(crewWorth, j) + model.stayValue - alone
      if (ka === 2) worth += atDouble(crewWorth, at(topA, at(topA, 0) === i ? 1 : 0))
      if (kb === 2) worth += atDouble(crewWorth, at(topB, at(topB, 0) === j ? 1 : 0))
      if (worth <= above) continue
      above = worth
      Object.assign(plan, { a, b, siteA, siteB, countA: ka, countB: kb, staying: 1, stayer: i, isShared })
    }
    return above
  }

  /** Those whom it pays most to keep on the piece; into topBoth, their worth with staying on into bothWorth. */
  function topStaying(a: number, b: number, most: number): number {
    let found = 0
    let j = at(crewStart, b)
    const end = at(crewStart, b + 1)
    for (let i = at(crewStart, a); i < at(crewStart, a + 1); i++) {
      const after = at(crewTurn, i) + 1
      while (j < end && at(crewTurn, j) < after) j++
      if (j === end) break
      if (at(crewTurn, j) !== after) continue
      mate[i] = j
      const worth = atDouble(crewWorth, i) + atDouble(crewWorth, j) + model.stayValue
      if (found === most && (found === 0 || worth <= atDouble(bothWorth, found - 1))) continue
      let place = found < most ? found++ : found - 1
      while (place > 0 && atDouble(bothWorth, place - 1) < worth) {
        topBoth[place] = at(topBoth, place - 1)
        bothWorth[place] = atDouble(bothWorth, place - 1)
        place--
      }
      topBoth[place] = i
      bothWorth[place] = worth
    }
    return found
  }

  /** The cheapest sites for two shifts: each its own, or one for both, to which the piece is brought once. */
  function sitesTogether(a: number, b: number, ka: number, kb: number): readonly [number, number, number, boolean] {
    let siteA = cheapest(a, ka)
    let siteB = cheapest(b, kb)
    if (siteA < 0 || siteB < 0) return [Number.POSITIVE_INFINITY, -1, -1, false]
    const cost = (site: number, crew: number): number => crew * atDouble(seatCost, site) + atDouble(siteCost, site)
    let least = cost(siteA, ka) + cost(siteB, kb)
    let isShared = false
    let j = at(siteStart, b)
    const end = at(siteStart, b + 1)
    for (let i = at(siteStart, a); i < at(siteStart, a + 1); i++) {
      while (j < end && at(sitePlace, j) < at(sitePlace, i)) j++
      if (j === end) break
      if (at(sitePlace, j) !== at(sitePlace, i) || at(field.siteMost, i) < ka || at(field.siteMost, j) < kb) continue
      const its = cost(i, ka) + cost(j, kb) - at(field.siteMove, i)
      if (its >= least) continue
      least = its
      siteA = i
      siteB = j
      isShared = true
    }
    return [least, siteA, siteB, isShared]
  }

  function spendPlan(used: Float64Array): void {
    const { a, b, siteA, siteB, countA, countB, staying, stayer, isShared } = plan
    if (b < 0) {
      spendCell(a, used)
      return
    }
    const foundA = topOf(a, at(cellMost, a), topA)
    const foundB = topOf(b, at(cellMost, b), topB)
    topStaying(a, b, Math.min(foundA, foundB))
    if (stayer >= 0) topBoth[0] = stayer
    for (let k = 0; k < staying; k++) {
      spendCrew(a, at(topBoth, k), used)
      spendCrew(b, at(mate, at(topBoth, k)), used)
    }
    const fill = (c: number, top: Int32Array, besides: number, count: number): void => {
      for (let k = 0, left = count; left > 0; k++) {
        if (at(top, k) === besides) continue
        spendCrew(c, at(top, k), used)
        left--
      }
    }
    fill(a, topA, stayer, countA - staying)
    fill(b, topB, stayer < 0 ? -1 : at(mate, stayer), countB - staying)
    spendSites(a, siteA, countA, isShared, used)
    spendSites(b, siteB, countB, isShared, used)
  }

  function spendCell(c: number, used: Float64Array): void {
    if (at(desk.count, c) === 1 && at(cellMost, c) === 1) spendCrew(c, at(desk.top, c), used)
    else {
      topOf(c, at(cellMost, c), topA)
      for (let k = 0; k < at(desk.count, c); k++) spendCrew(c, at(topA, k), used)
    }
    spendSites(c, at(desk.site, c), at(desk.count, c), false, used)
  }
}
