'use client'
// A map as it is looked at: the photograph or the paper, and over it the strokes, each kind with a drawing of its own in
// ink on a pale halo, so that they stand on bone and on rock, without a colour.
import { STROKE_SPAN, type StrokeKind, type StrokePoint } from '#lib/words'
import { PhotoPicture } from '../photos/photo-picture.tsx'
import type { Drawable } from './grounds.ts'

/** The picture's own units: its height, whatever its width. */
const HIGH = 1000

type Pen = {
  readonly width: number
  readonly dash?: string
  readonly ticks?: { readonly width: number; readonly dash: string }
}

/** Widths in those units; the dashes of a followed line are long enough that its head is whole. Ticks across a line are a second, wide stroke of short dashes. */
const pens: Readonly<Record<StrokeKind, Pen>> = {
  'bone shows': { width: 9 },
  follow: { width: 8, dash: '44 20' },
  'keep off': { width: 4, ticks: { width: 34, dash: '4 16' } },
  worked: { width: 2, ticks: { width: 70, dash: '3 13' } },
  'stop line': { width: 10, ticks: { width: 40, dash: '10 60' } },
  outline: { width: 4 },
}

/** Points in the picture's own units. */
export const placesOf = (points: readonly StrokePoint[], ratio: number) =>
  points.map(([x, y]) => [(x / STROKE_SPAN) * HIGH * ratio, (y / STROKE_SPAN) * HIGH] as const)

/** The points of a stroke as a path in a picture of this ratio; a bend at each would shake, so they are rounded. */
function pathOf(points: readonly StrokePoint[], ratio: number): string {
  const [first, ...rest] = placesOf(points, ratio)
  if (!first) return ''
  const middle = rest.slice(0, -1).map(([x, y], n) => {
    const [nx, ny] = rest[n + 1] ?? [x, y]
    return `Q${round(x)} ${round(y)} ${round((x + nx) / 2)} ${round((y + ny) / 2)}`
  })
  const [lx, ly] = rest.at(-1) ?? first
  // A dot is a line as long as its round end.
  return `M${round(first[0])} ${round(first[1])}${middle.join('')}L${round(lx + 0.01)} ${round(ly)}`
}

/** How long the two sides of an arrow's head are, and how wide they open. */
const HEAD = { long: 44, open: 0.5 } as const

/** The head of an arrow at the end of a line, in the line's own direction there. */
function headOf(points: readonly StrokePoint[], ratio: number): string {
  const places = placesOf(points, ratio)
  const [x, y] = places.at(-1) ?? [0, 0]
  // The last turn of a hand is a hook: the direction is told from a little farther back.
  const [bx, by] = places.findLast(([px, py]) => Math.hypot(px - x, py - y) > HEAD.long) ?? places[0] ?? [x, y]
  if (bx === x && by === y) return ''
  const back = Math.atan2(by - y, bx - x)
  const side = (turn: number) =>
    `${round(x + HEAD.long * Math.cos(back + turn))} ${round(y + HEAD.long * Math.sin(back + turn))}`
  return `M${side(-HEAD.open)}L${round(x)} ${round(y)}L${side(HEAD.open)}`
}

const round = (value: number) => Math.round(value * 10) / 10

type StrokeMarkProps = {
  readonly what: StrokeKind
  readonly points: readonly StrokePoint[]
  readonly ratio: number
  readonly isChosen?: boolean
}

/** One stroke. */
export function StrokeMark({ what, points, ratio, isChosen = false }: StrokeMarkProps) {
  const { width, dash, ticks } = pens[what]
  const path = pathOf(points, ratio) + (what === 'follow' ? headOf(points, ratio) : '')
  return (
    <g fill="none" strokeLinecap={dash === undefined ? 'round' : 'butt'} strokeLinejoin="round">
      <path className="map-halo" d={path} strokeWidth={(ticks?.width ?? width) + (isChosen ? 26 : 9)} />
      {isChosen ? <path className="map-chosen" d={path} strokeWidth={(ticks?.width ?? width) + 16} /> : null}
      {ticks === undefined ? null : (
        <path
          className="map-ink"
          d={path}
          strokeWidth={ticks.width}
          strokeDasharray={ticks.dash}
          strokeLinecap="butt"
        />
      )}
      <path className="map-ink" d={path} strokeWidth={width} strokeDasharray={dash} />
    </g>
  )
}

/** A short piece of the line, for the key beside its word. */
export function StrokeSample({ what }: { readonly what: StrokeKind }) {
  const { width, dash, ticks } = pens[what]
  const path = 'M18 62L105 36L195 64L282 38'
  return (
    <svg className="map-sample flex-none" viewBox="0 0 300 100" width={66} height={22} aria-hidden="true">
      <g fill="none" strokeLinejoin="round">
        {ticks === undefined ? null : (
          <path className="map-ink" d={path} strokeWidth={ticks.width * 1.6} strokeDasharray={ticks.dash} />
        )}
        <path className="map-ink" d={path} strokeWidth={width * 1.6} strokeDasharray={dash} />
      </g>
    </svg>
  )
}

type GroundProps = {
  readonly on: Drawable
  /** What readers hear. */
  readonly label: string
}

/** What is drawn on, alone. */
export function GroundPicture({ on, label }: GroundProps) {
  if (on.photo) return <PhotoPicture photo={on.photo} side={1600} label={label} className="block h-full w-full" />
  return <div className="map-paper h-full w-full" role="img" aria-label={label} />
}

/** The whole map, to look at. */
export function MapPicture({ on, label }: GroundProps) {
  return (
    <div className="map-frame" style={{ aspectRatio: String(on.ratio), maxWidth: `calc(60vh * ${on.ratio})` }}>
      <GroundPicture on={on} label={label} />
      <svg className="map-strokes" viewBox={viewBoxOf(on.ratio)} aria-hidden="true">
        {on.strokes.map((stroke) => (
          <StrokeMark key={stroke.id} {...stroke} ratio={on.ratio} />
        ))}
      </svg>
    </div>
  )
}

export const viewBoxOf = (ratio: number): string => `0 0 ${HIGH * ratio} ${HIGH}`
