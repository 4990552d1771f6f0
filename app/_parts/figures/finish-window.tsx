// When it will be ready, as far as one can know: a lens from the 10 % to the 90 % day, thickest at the
// median, which is a heavy bar. The date is a plumb line; what lies past it is hatched.
import type { Point } from '../stone/outline.ts'
import { straightPath } from '../stone/outline.ts'
import { hatch } from './hatch.ts'
import { DuePlumb, tallness } from './plumbs.tsx'
import { along, type Scale, wordWidth } from './scale.ts'
import { AxisRules } from './time-axis.tsx'

export type FinishWindowProps = {
  readonly scale: Scale
  readonly width: number
  readonly height?: number
  readonly todayDay: number
  /** The forecast's own 10 %, 50 % and 90 % days. */
  readonly lowDay: number
  readonly medianDay: number
  readonly highDay: number
  readonly lowWord: string
  readonly highWord: string
  readonly dueDay?: number | undefined
  /** Such as "due 2 May". */
  readonly dueWord?: string | undefined
  /** The whole window in a sentence, for readers. */
  readonly label: string
  /** Another date that is only thought of, with its word. */
  readonly tried?: { readonly day: number; readonly word: string } | undefined
}

/** One row's finish window on the common axis. */
export function FinishWindow(props: FinishWindowProps) {
  const {
    scale,
    width,
    height = 84,
    todayDay,
    lowDay,
    medianDay,
    highDay,
    lowWord,
    highWord,
    dueDay,
    dueWord,
    label,
    tried,
  } = props
  const middle = height / 2
  const tall = tallness(height)
  const shape = lens(along(scale, lowDay), along(scale, medianDay), along(scale, highDay), middle, tall)
  const due = dueDay === undefined ? undefined : along(scale, dueDay)
  const late = due === undefined ? [] : beyond(shape, due)
  const [low, median, high] = [along(scale, lowDay), along(scale, medianDay), along(scale, highDay)]
  // At the right edge the last day goes up beside the lens's shoulder, never over it.
  const isHighAbove = high + 6 + wordWidth(highWord, 14) > width
  return (
    <svg
      className="block"
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={label}
    >
      <title>{label}</title>
      <AxisRules scale={scale} height={height} todayDay={todayDay} />
      <path className="window" d={straightPath(shape)} />
      {late.length === 0 ? null : (
        <>
          <path className="window-late" d={straightPath(late)} />
          <path className="stroke-ink" d={hatch(late, 4.4)} strokeWidth={1} />
        </>
      )}
      <path className="stroke-ink" fill="none" d={straightPath(shape)} strokeWidth={1.2} strokeLinejoin="round" />
      <path className="stroke-ink" d={`M${median} ${middle - tall - 4}V${middle + tall + 4}`} strokeWidth={3} />
      {dueDay === undefined ? null : (
        <DuePlumb day={dueDay} word={dueWord ?? ''} tried={tried} {...{ scale, width, height }} />
      )}
      <text
        className="fill-umber halo"
        x={Math.max(0, low - 4)}
        y={middle - tall}
        fontSize={13.5}
        textAnchor={low < 50 ? 'start' : 'end'}
      >
        {lowWord}
      </text>
      <text
        className="fill-umber halo"
        x={isHighAbove ? width - 2 : high + 6}
        y={isHighAbove ? middle - tall - (median > width - 8 - wordWidth(highWord, 14) ? 7 : 0) : middle + 4.5}
        fontSize={13.5}
        textAnchor={isHighAbove ? 'end' : 'start'}
      >
        {highWord}
      </text>
    </svg>
  )
}

/** The lens as a fine polygon: thin at both ends, thickest at the median, whatever the skew. */
export function lens(low: number, median: number, high: number, middle: number, tall: number): readonly Point[] {
  const steps = 24
  // A day's window is still a shape one can see.
  const [left, right] = [Math.min(low, median - 6), Math.max(high, median + 6)]
  const upper: Point[] = []
  for (let step = 0; step <= steps; step++) {
    const share = (1 - Math.cos((step / steps) * Math.PI)) / 2
    const x = left + share * (right - left)
    const side = x < median ? (x - left) / (median - left) : (right - x) / (right - median)
    // A raised cosine meets both ends flat and the median round.
    upper.push([x, middle - (tall * (1 - Math.cos(Math.PI * side))) / 2])
  }
  return [...upper, ...upper.map(([x, y]): Point => [x, 2 * middle - y]).reverse()]
}

/** The part of a lens right of an upright line. */
export function beyond(shape: readonly Point[], x: number): readonly Point[] {
  const cut: Point[] = []
  shape.forEach((from, index) => {
    const to = shape[(index + 1) % shape.length] ?? from
    if (from[0] >= x) cut.push(from)
    if (from[0] >= x !== to[0] >= x) {
      cut.push([x, from[1] + ((to[1] - from[1]) * (x - from[0])) / (to[0] - from[0])])
    }
  })
  return cut
}
