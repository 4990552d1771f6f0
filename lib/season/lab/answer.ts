/** From tallies to the answer that screens draw: windows, chances, reasons, load and the first turns of the plan. */
import { addDays, at, atDouble } from '#lib/base'
import type { Band, DateOutlook, JacketOutlook, PieceOutlook, SeasonAnswer, SeasonWindow } from '../words.ts'
import type { Aims } from './aims.ts'
import type { LabSeason } from './build.ts'
import { keyOf } from './chance.ts'
import { minutesOf } from './hours.ts'
import { bandOf, bottlenecksOf, type Load, reasonsOf } from './load.ts'
import type { LabModel } from './model.ts'
import type { Order } from './order.ts'
import { MEDIAN } from './run.ts'
import type { Runner } from './runner.ts'
import { turnsOf } from './story.ts'
import { chanceBy, readyBy, readyDay, type Tally } from './tally.ts'

export interface Counted {
  readonly season: LabSeason
  readonly aims: Aims
  readonly order: Order
  readonly runner: Runner
  readonly tally: Tally
  readonly load: Load
  readonly hours: readonly Band[]
}

/** The whole answer. */
export function answerOf(
  counted: Counted,
  { seq, seed, isWhole }: { readonly seq: number; readonly seed: number; readonly isWhole: boolean },
): SeasonAnswer {
  const { season, aims, order, tally, load } = counted
  const { model, assumed } = season
  const place = new Int32Array(model.pieceIds.length)
  for (const [index, piece] of order.pieces.entries()) place[piece] = index + 1
  return {
    kind: 'season',
    seq,
    from: model.from,
    weeks: model.days / 7,
    futures: tally.futures,
    seed,
    isWhole,
    dates: aims.dates.map((_, index) => dateOutlook(counted, index)),
    pieces: Array.from(order.pieces, (piece) => pieceOutlook(counted, piece, at(place, piece))),
    jackets: Array.from(order.pieces)
      .filter((piece) => at(aims.isJacket, piece) === 1)
      .map((piece) => jacketOutlook(counted, piece))
      .sort((a, b) => b.value / (b.leftH.p50 + 1) - a.value / (a.leftH.p50 + 1) || (a.pieceId < b.pieceId ? -1 : 1)),
    load: bottlenecksOf(model, load),
    plan: turnsOf({ model, order, runner: counted.runner }, { key: MEDIAN, isMedian: true }, PLAN_DAYS),
    assumed,
  }
}

function jacketOutlook({ season, aims, tally, hours }: Counted, piece: number): JacketOutlook {
  const { model } = season
  const { begunShare, opensOn } = beginOf(tally, piece, model.from)
  const chance = readyBy(tally, piece, model.days) / Math.max(1, tally.futures)
  return {
    pieceId: idOf(model, piece),
    value: atDouble(aims.value, piece),
    leftH: hours[piece] ?? NO_HOURS,
    opensOn,
    chance,
    verdict: chance >= 0.5 ? 'open' : begunShare >= 0.5 ? 'later' : 'rest',
  }
}

const NO_HOURS: Band = { p10: 0, p50: 0, p90: 0 }
/** Days of the plan that are told turn by turn. */
const PLAN_DAYS = 14

const idOf = (model: LabModel, piece: number): string => model.pieceIds[piece] ?? ''

function dateOutlook(counted: Counted, index: number): DateOutlook {
  const { season, aims, tally, load, hours } = counted
  const { model } = season
  const aim = aims.dates[index]
  if (!aim) throw new Error('Believed: dates are asked for by their index')
  const chance = chanceBy(tally, aim.piece, aim.day)
  return {
    dueId: aim.dueId,
    pieceId: idOf(model, aim.piece),
    date: aim.date,
    isHard: aim.isHard,
    isAsked: aim.isAsked,
    chance,
    chanceError: errorOf(chance, tally.futures),
    ...whenOf(model.from, tally, aim.piece),
    leftH: hours[aim.piece] ?? NO_HOURS,
    isUnseen: at(aims.isUnseen, aim.piece) === 1,
    reasons: reasonsOf(model, load, aim.piece),
  }
}

/** Standard error of a share of so many futures; one future of doubt is kept, since no chance is known to be 0 or 1. */
export function errorOf(chance: number, futures: number): number {
  const kept = (chance * futures + 0.5) / (futures + 1)
  return Math.sqrt((kept * (1 - kept)) / Math.max(1, futures))
}

/** Window, curve and days of 80 and 95 in a hundred. */
export function whenOf(from: string, tally: Tally, piece: number) {
  const dateAt = (share: number) => {
    const day = readyDay(tally, piece, share)
    return day === null ? null : addDays(from, day)
  }
  const window: SeasonWindow = { p10: dateAt(0.1), p50: dateAt(0.5), p90: dateAt(0.9) }
  const weeks = tally.days / 7
  const curve = Array.from({ length: weeks }, (_, week) => chanceBy(tally, piece, week * 7 + 6))
  return { window, curve, at80: dateAt(0.8), at95: dateAt(0.95) }
}

function pieceOutlook({ season, tally, hours }: Counted, piece: number, order: number): PieceOutlook {
  const { model } = season
  return {
    pieceId: idOf(model, piece),
    window: whenOf(model.from, tally, piece).window,
    leftH: hours[piece] ?? NO_HOURS,
    chance: chanceBy(tally, piece, model.days),
    order,
  }
}

/** The week in which half of the futures have begun the piece, and how many begin it at all. */
function beginOf(tally: Tally, piece: number, from: string) {
  const weeks = tally.days / 7
  let sum = 0
  let opensOn: string | null = null
  for (let week = 0; week < weeks; week++) {
    sum += at(tally.begin, piece * (weeks + 1) + week)
    if (opensOn === null && sum >= tally.futures / 2 && sum > 0) opensOn = addDays(from, week * 7)
  }
  return { begunShare: sum / Math.max(1, tally.futures), opensOn }
}

/** Hours left on each piece, as a band over draws of the same chance as the futures. */
export function hoursOfPieces(model: LabModel, seed: number, draws: number): readonly Band[] {
  const pieces = model.pieceIds.length
  const sums = Array.from({ length: pieces }, () => new Float64Array(draws))
  for (let draw = 0; draw < draws; draw++) {
    const key = keyOf(seed, draw)
    for (let s = 0; s < model.stepPiece.length; s++) {
      const own = sums[at(model.stepPiece, s)]
      if (own) own[draw] = atDouble(own, draw) + minutesOf(model, key, s) / 60
    }
  }
  return sums.map((own) => bandOf([...own]))
}
