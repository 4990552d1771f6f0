/** A season with its aims and the order it is worked in: what the whole answer, helps and promises all start from. */
import type { Records } from '#lib/words'
import { type Aims, aimsOf } from './aims.ts'
import { buildSeason, type LabSeason, type SeasonOptions } from './build.ts'
import type { Order } from './order.ts'
import { planOrder } from './plan.ts'

export interface AskedOptions extends SeasonOptions {
  /** Durable position of the records, told with the answer. */
  readonly seq: number
  readonly seed?: number
  readonly futures?: number
  /** Orders of the dated pieces that are tried for the plan. */
  readonly candidates?: number
  /** Asked between futures; true ends with what is counted so far. */
  readonly isCancelled?: () => boolean
}

export interface Planned {
  readonly records: Records
  readonly season: LabSeason
  readonly aims: Aims
  readonly order: Order
}

export const SEASON_SEED = 1

/** The plan of a season; the same records, first day and seed give the same plan, unless it is cancelled. */
export function planSeason(records: Records, options: AskedOptions): Planned {
  const season = buildSeason(records, options)
  const aims = aimsOf(records, season.model)
  const order = planOrder(season.model, aims, { ...options, seed: options.seed ?? SEASON_SEED })
  return { records, season, aims, order }
}
