/**
 * What the season tells a single day: the chance of each date, and which pieces the next days belong to. Plain maps, so
 * that whoever draws up the day need not know the season.
 */
import { at } from '#lib/base'
import type { Records } from '#lib/words'
import { keyOf } from './chance.ts'
import { type AskedOptions, planSeason, SEASON_SEED } from './planned.ts'
import { runFuture } from './run.ts'
import { createRunner } from './runner.ts'
import { chanceBy, count, emptyTally } from './tally.ts'

export interface Leads {
  /** Chance of being ready, 0 to 1, by the id of the due. */
  readonly chances: ReadonlyMap<string, number>
  /** Share of futures in which the piece has a turn within the first days, 0 to 1, by the id of the piece. */
  readonly pulls: ReadonlyMap<string, number>
}

/** Futures looked at: enough for a sense of urgency, which knows five steps or so. */
const FUTURES = 60
/** Days that count as the next ones, weekends and closed days among them. */
const NEXT_DAYS = 4

/** The leads of a day's records. No order is searched: the day has to be drawn up within moments. */
export function leadsOf(records: Records, options: AskedOptions): Leads {
  const { season, aims, order } = planSeason(records, { ...options, candidates: 0 })
  const { model } = season
  const runner = createRunner(model, order)
  const tally = emptyTally(model)
  const early = new Int32Array(model.pieceIds.length)
  const seenIn = new Int32Array(model.pieceIds.length).fill(-1)
  for (let future = 0; future < FUTURES && options.isCancelled?.() !== true; future++) {
    const witness = {
      turns: (slot: number, step: number) => {
        const piece = at(model.stepPiece, step)
        if (at(model.slotDay, slot) >= NEXT_DAYS || at(seenIn, piece) === future) return
        seenIn[piece] = future
        early[piece] = at(early, piece) + 1
      },
      slotEnds: () => {},
    }
    runFuture(model, order, runner, { key: keyOf(options.seed ?? SEASON_SEED, future) }, witness)
    count(tally, runner)
  }
  // Whoever is in such a hurry makes do with the dates alone.
  if (tally.futures === 0) return { chances: new Map(), pulls: new Map() }
  return {
    chances: new Map(aims.dates.map(({ dueId, piece, day }) => [dueId, chanceBy(tally, piece, day)])),
    pulls: new Map(model.pieceIds.map((id, piece) => [id, at(early, piece) / tally.futures])),
  }
}
