// The season for screens: what is scarce, fullest first, and the weeks in which nothing is to spare.
import { addDays } from '#lib/base'
import type { Bottleneck, HelpsAnswer, PlannedTurn, SeasonAnswer } from '#lib/season'

export type BottleneckRow = {
  readonly bottleneck: Bottleneck
  /** Weeks, by number from the season's first, in which the middle future uses nearly all there is. */
  readonly tight: readonly number[]
  /** Mean share of what there is that the middle future uses, over the weeks in which there is any. */
  readonly share: number
  /** The same at the upper end of the band: what nine in ten futures stay below. */
  readonly worstShare: number
  /** Dated pieces that stand still for it in a usual half-day, in the week in which most do. */
  readonly waits: number
}

/** From this share on, a week has nothing to spare: an illness or a late start is felt. */
const TIGHT = 0.9

/** What is scarce: what dated pieces wait for most first, then the fullest; what is never used is left out. */
export function bottlenecks(season: SeasonAnswer): readonly BottleneckRow[] {
  return season.load
    .map((bottleneck): BottleneckRow => {
      const shareOf = (end: 'p50' | 'p90') =>
        bottleneck.used.map((band, week) => {
          const there = bottleneck.there[week] ?? 0
          return there > 0 ? band[end] / there : null
        })
      const middle = shareOf('p50')
      return {
        bottleneck,
        tight: middle.flatMap((share, week) => (share !== null && share >= TIGHT ? [week] : [])),
        share: meanOf(middle),
        worstShare: meanOf(shareOf('p90')),
        waits: Math.max(0, ...bottleneck.waits),
      }
    })
    .filter(({ worstShare }) => worstShare > 0)
    .sort(
      (a, b) =>
        b.waits - a.waits ||
        b.tight.length - a.tight.length ||
        b.worstShare - a.worstShare ||
        (a.bottleneck.id < b.bottleneck.id ? -1 : 1),
    )
}

function meanOf(shares: readonly (number | null)[]): number {
  const known = shares.filter((share) => share !== null)
  return known.reduce((sum, share) => sum + share, 0) / Math.max(1, known.length)
}

/** The last day that was looked at. */
export const lastDayOf = (season: Pick<SeasonAnswer, 'from' | 'weeks'>): string =>
  addDays(season.from, season.weeks * 7 - 1)

/** The plan's turns by date, in order. */
export function planByDay(plan: readonly PlannedTurn[]): ReadonlyMap<string, readonly PlannedTurn[]> {
  const days = new Map<string, PlannedTurn[]>()
  for (const turn of plan) {
    const day = days.get(turn.date)
    if (day) day.push(turn)
    else days.set(turn.date, [turn])
  }
  return new Map([...days].sort(([a], [b]) => (a < b ? -1 : 1)))
}

/** The technique that the season is short of, and the date that waits for it. */
export type ShortOf = {
  readonly bottleneck: Bottleneck
  /** Dated pieces that stand still for it in a usual half-day, in the week in which most do. */
  readonly waits: number
  readonly dueId: string
  readonly pieceId: string
}

/** Fewer than one piece in twenty half-days is no shortage. */
const WAITS_LEAST = 0.05

/**
 * What hands are missing for most, with the date it puts most at risk: of those that wait for people at that technique, else
 * of all, the one with the least chance. Null when nothing waits for hands.
 */
export function shortOf(season: SeasonAnswer): ShortOf | null {
  const row = bottlenecks(season).find(({ bottleneck, waits }) => bottleneck.kind === 'people' && waits >= WAITS_LEAST)
  if (!row) return null
  const waiting = season.dates.filter(({ reasons }) =>
    reasons.some(({ cause, techniqueId }) => cause === 'people' && techniqueId === row.bottleneck.id),
  )
  const [worst] = (waiting.length > 0 ? waiting : season.dates).toSorted((a, b) => a.chance - b.chance)
  return worst ? { bottleneck: row.bottleneck, waits: row.waits, dueId: worst.dueId, pieceId: worst.pieceId } : null
}

/** Below twice its own error a gain is no more than chance. */
export const isTold = ({ gain, gainError }: HelpsAnswer['helps'][number]): boolean =>
  gain > 0.005 && gain > 2 * gainError
