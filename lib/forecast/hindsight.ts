// What the kept forecasts were worth. Each was made before the work and is scored by what the work took, so this is a
// rolling origin by itself: nothing is fitted to what it is judged by. Shares below P10, P50 and P90 with the interval
// that chance alone explains, CRPS and pinball loss beside the plainer ways kept at the same moments. Nothing by person.
import type { RecordOf, Records } from '#lib/words'
import { keptByStep } from './keep.ts'
import { crpsLogNormal, pinballLoss } from './scores.ts'
import { quantileOf, type Spread } from './spread.ts'

type Kept = RecordOf<'forecast'>

/** How one way of forecasting did on the same steps. Losses in hours a step. */
export interface WayScore {
  readonly way: 'model' | 'lab' | 'like' | 'typed'
  readonly crpsH: number
  /** Pinball loss at 10, 50 and 90 %. */
  readonly pinballH: readonly [number, number, number]
  /** Share that ended within its own 10–90 % window. */
  readonly inside: number
}

/** The share of ends below one stated quantile, and where the true share likely is. */
export interface Calibration {
  readonly tau: 0.1 | 0.5 | 0.9
  readonly share: number
  readonly below: number
  /** Wilson's interval around the share seen, 95 %. */
  readonly from: number
  readonly to: number
}

/** One forecast and what became of it. */
export interface Looked {
  readonly stepId: string
  readonly pieceId: string
  readonly techniqueId: string
  readonly on: string
  readonly endedOn: string
  readonly p10H: number
  readonly p50H: number
  readonly p90H: number
  readonly tookH: number
  readonly typedH: number | null
}

export interface Hindsight {
  /** Forecasts made as a step was begun, and their ends. */
  readonly count: number
  /** Of them within the window from P10 to P90, and the interval of that share. */
  readonly inside: number
  readonly insideFrom: number
  readonly insideTo: number
  readonly calibration: readonly Calibration[]
  /** On the latest steps that all the ways forecast: the model first. Empty before there are any. */
  readonly ways: readonly WayScore[]
  readonly comparable: number
  /** Forecasts made anew while a step was in work. */
  readonly changed: { readonly count: number; readonly inside: number }
  /** Steps in work, whose end is not known yet. */
  readonly open: number
  /** The latest ends first. */
  readonly latest: readonly Looked[]
}

const LATEST = 30
/** Ways are compared on the latest so many: what a way is worth now, not what it was worth to a lab that had just begun. */
const RECENT = 60

/** Looks at all that was kept. A step taken up again after its end counts when it ends again. */
export function hindsight(records: Records): Hindsight {
  const pairs: { readonly made: Kept; readonly end: Kept }[] = []
  const anew: { readonly made: Kept; readonly end: Kept }[] = []
  let open = 0
  for (const list of keptByStep(records).values()) {
    const end = list.at(-1)
    if (end?.why !== 'finished') {
      if (end && end.why !== 'dropped') open++
      continue
    }
    const made = list.find(({ why, left }) => why === 'begun' && left !== null)
    if (made && end.doneMinutes > made.doneMinutes) pairs.push({ made, end })
    for (const one of list)
      if (one.why === 'changed' && one.left && end.doneMinutes > one.doneMinutes) anew.push({ made: one, end })
  }
  pairs.sort((a, b) => (a.end.at < b.end.at ? -1 : a.end.at > b.end.at ? 1 : 0))
  const inside = pairs.filter(isInside).length
  const within = wilson(inside, pairs.length)
  const compared = pairs.filter(({ made }) => made.beside?.typed).slice(-RECENT)
  return {
    count: pairs.length,
    inside,
    insideFrom: within.from,
    insideTo: within.to,
    calibration: ([0.1, 0.5, 0.9] as const).map((tau) => {
      const below = pairs.filter(({ made, end }) => tookH(made, end) <= quantileOf(leftOf(made), tau)).length
      return { tau, below, share: pairs.length === 0 ? 0 : below / pairs.length, ...wilson(below, pairs.length) }
    }),
    ways:
      compared.length === 0 ? [] : (['model', 'lab', 'like', 'typed'] as const).map((way) => scoreOf(way, compared)),
    comparable: compared.length,
    changed: { count: anew.length, inside: anew.filter(isInside).length },
    open,
    latest: pairs.slice(-LATEST).reverse().map(lookedAt),
  }
}

type Pair = { readonly made: Kept; readonly end: Kept }

const tookH = (made: Kept, end: Kept): number => (end.doneMinutes - made.doneMinutes) / 60
/** Pairs are made of forecasts that were made. */
const leftOf = ({ left }: Kept): Spread => left ?? { median: 1, logSd: 0 }

function isInside({ made, end }: Pair): boolean {
  const h = tookH(made, end)
  return h > quantileOf(leftOf(made), 0.1) && h <= quantileOf(leftOf(made), 0.9)
}

function scoreOf(way: WayScore['way'], pairs: readonly Pair[]): WayScore {
  let crps = 0
  let inside = 0
  const pinball: [number, number, number] = [0, 0, 0]
  for (const { made, end } of pairs) {
    const spread: Spread = (way === 'model' ? made.left : made.beside?.[way]) ?? leftOf(made)
    const h = tookH(made, end)
    crps += crpsLogNormal(spread, h)
    ;([0.1, 0.5, 0.9] as const).forEach((tau, i) => {
      pinball[i] = (pinball[i] ?? 0) + pinballLoss({ quantile: quantileOf(spread, tau), tau }, h)
    })
    if (h > quantileOf(spread, 0.1) && h <= quantileOf(spread, 0.9)) inside++
  }
  const n = pairs.length
  return { way, crpsH: crps / n, pinballH: [pinball[0] / n, pinball[1] / n, pinball[2] / n], inside: inside / n }
}

function lookedAt({ made, end }: Pair): Looked {
  const left = leftOf(made)
  return {
    stepId: made.stepId,
    pieceId: made.pieceId,
    techniqueId: made.facts.techniqueId,
    on: made.on,
    endedOn: end.on,
    p10H: quantileOf(left, 0.1),
    p50H: left.median,
    p90H: quantileOf(left, 0.9),
    tookH: tookH(made, end),
    typedH: made.facts.typedH,
  }
}

const Z95 = 1.959963984540054

/** Wilson's score interval of a share, 95 % (Wilson 1927, J. Am. Stat. Assoc. 22:209-212); all of 0 to 1 with nothing seen. */
export function wilson(hits: number, n: number): { readonly from: number; readonly to: number } {
  if (n === 0) return { from: 0, to: 1 }
  const share = hits / n
  const shrunk = 1 + Z95 ** 2 / n
  const middle = (share + Z95 ** 2 / (2 * n)) / shrunk
  const reach = (Z95 / shrunk) * Math.sqrt((share * (1 - share)) / n + Z95 ** 2 / (4 * n * n))
  return { from: Math.max(0, middle - reach), to: Math.min(1, middle + reach) }
}
