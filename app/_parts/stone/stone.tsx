// A stone on the screen: its own outline, the pattern of its stage, and whether it is as it is (ink),
// the present under a proposal (faint), proposed (chalk, broken) or held (heavy).
import { memo } from 'react'
import { type FigureLine, figure, type StoneStage } from './figure.ts'
import { short } from './outline.ts'

/** In which ink a thing is drawn: decided, proposed, or the present seen through a proposal. */
export type Tone = 'ink' | 'faint' | 'chalk'

export type StoneAtProps = {
  /** The id of the specimen or jacket: the outline comes from it alone. */
  readonly seed: string
  readonly stage: StoneStage
  /** The middle of the stone in the surrounding drawing. */
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
  readonly tone?: Tone
  readonly isHeld?: boolean
  /** A number inked on the stone. */
  readonly number?: string
  readonly numberSize?: number
}

/** A stone inside another drawing. */
export const StoneAt = memo(function StoneAt(props: StoneAtProps) {
  const { seed, stage, x, y, width, height, tone = 'ink', isHeld = false, number, numberSize = 20 } = props
  const pen = penFor(Math.max(width, height))
  return (
    <g
      className={`stone stone-${tone} ${width >= 90 ? 'stone-large' : ''}`}
      transform={`translate(${short(x)} ${short(y)})`}
    >
      {figure(seed, stage, width, height).map((line, index) => (
        <Line key={index} line={line} pen={pen} isHeld={isHeld} isProposed={tone === 'chalk'} />
      ))}
      {number === undefined ? null : <NumberOnStone number={number} size={numberSize} />}
    </g>
  )
})

export type StoneProps = Omit<StoneAtProps, 'x' | 'y' | 'width' | 'height'> & {
  /** The longest side of the drawing in px; the other follows the stone's own proportion. */
  readonly size: number
  readonly lengthM?: number | undefined
  readonly widthM?: number | undefined
  /** What a reader is told; without it the stone stands silently beside its words. */
  readonly label?: string
  readonly className?: string
}

/** A stone as an image of its own: 54 in rows, 104 big, 300 on a poster. */
export function Stone({ size, lengthM, widthM, label, className = '', ...stone }: StoneProps) {
  const ratio = proportion(lengthM, widthM)
  const pen = penFor(size)
  const width = size - pen * 2
  const height = width * ratio
  const boxHeight = Math.ceil(height + pen * 2)
  const drawing = <StoneAt {...stone} x={size / 2} y={boxHeight / 2} width={width} height={height} />
  const box = {
    width: size,
    height: boxHeight,
    viewBox: `0 0 ${size} ${boxHeight}`,
    className: `flex-none overflow-visible ${className}`,
  }
  if (label === undefined)
    return (
      <svg {...box} aria-hidden="true">
        {drawing}
      </svg>
    )
  return (
    <svg {...box} role="img" aria-label={label}>
      <title>{label}</title>
      {drawing}
    </svg>
  )
}

/** Width over length, kept between a bar and a square so that no stone becomes a thread in a list. */
export function proportion(lengthM: number | undefined, widthM: number | undefined): number {
  if (lengthM === undefined || widthM === undefined || lengthM <= 0 || widthM <= 0) return 0.76
  const [long, wide] = lengthM >= widthM ? [lengthM, widthM] : [widthM, lengthM]
  return Math.max(0.42, wide / long)
}

function Line({ line, pen, isHeld, isProposed }: LineProps) {
  if (line.path === '') return null
  const weight = weights[line.look] * pen
  const outer = outerLooks.has(line.look)
  return (
    <path
      className={`stone-${line.look}`}
      d={line.path}
      strokeWidth={outer && isHeld ? 2.6 : outer && isProposed ? 2 : short(weight * 10) / 10}
      strokeDasharray={dashes(line.look, outer && isProposed)}
    />
  )
}

function NumberOnStone({ number, size }: { readonly number: string; readonly size: number }) {
  // Recursive mono is 0.6 em wide; the plaster behind the digits keeps the pattern from crossing them.
  const width = number.length * size * 0.6 + size * 0.4
  return (
    <>
      <rect className="fill-plaster" x={-width / 2} y={-size * 0.68} width={width} height={size * 1.3} />
      <text className="inked" y={size * 0.33} fontSize={size} textAnchor="middle">
        {number}
      </text>
    </>
  )
}

function penFor(size: number): number {
  return Math.min(2.4, Math.max(0.9, 0.8 + size * 0.006))
}

function dashes(look: FigureLine['look'], isProposed: boolean): string | undefined {
  if (isProposed) return '5 3'
  return look === 'inner' ? '4 2.5' : look === 'gone' ? '2.5 2.5' : undefined
}

const outerLooks: ReadonlySet<FigureLine['look']> = new Set<FigureLine['look']>(['rim', 'rock', 'cradle', 'gone'])

const weights: Record<FigureLine['look'], number> = {
  body: 0,
  rim: 1,
  rock: 1.3,
  fine: 1,
  coarse: 1.4,
  weave: 0.62,
  bone: 1.5,
  line: 0.9,
  thin: 0.75,
  inner: 0.8,
  gone: 0.9,
  cradle: 1,
}

type LineProps = {
  readonly line: FigureLine
  readonly pen: number
  readonly isHeld: boolean
  readonly isProposed: boolean
}
