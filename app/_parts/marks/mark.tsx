// A mark drawn in the current ink. A mark beside its word is silent for readers; one that stands
// for something nobody else says carries a label and is then an image with a name.
import { careMarks } from './care-marks.ts'
import { roomMarks } from './room-marks.ts'
import type { Pen, Stroke } from './strokes.ts'
import { workMarks } from './work-marks.ts'

const marks = { ...workMarks, ...roomMarks, ...careMarks }

/** Every mark Talus draws. */
export type MarkName = keyof typeof marks

const penClass: Record<Pen, string> = {
  line: '',
  thin: 'pen-thin',
  heavy: 'pen-heavy',
  broken: 'pen-broken',
  full: 'pen-full',
}

/** The strokes alone, for drawings that set a mark inside their own SVG. */
function MarkStrokes({ name }: { readonly name: MarkName }) {
  const strokes: readonly Stroke[] = marks[name]
  return strokes.map(([pen, path]) => <path key={path} className={penClass[pen]} d={path} />)
}

/** A mark placed by its centre inside another drawing. */
export function MarkAt({ name, x, y, size = 16, className = '' }: MarkAtProps) {
  const scale = size / 24
  return (
    <g className={`pen ${className}`} transform={`translate(${x - size / 2} ${y - size / 2}) scale(${scale})`}>
      <MarkStrokes name={name} />
    </g>
  )
}

/** A mark as an image of its own, 18 to 32 px. */
export function Mark({ name, size = 24, label, className = '' }: MarkProps) {
  const strokes = <MarkStrokes name={name} />
  if (label === undefined)
    return (
      <svg className={`pen ${className}`} width={size} height={size} viewBox="0 0 24 24" aria-hidden="true">
        {strokes}
      </svg>
    )
  return (
    <svg className={`pen ${className}`} width={size} height={size} viewBox="0 0 24 24" role="img" aria-label={label}>
      <title>{label}</title>
      {strokes}
    </svg>
  )
}

export type MarkProps = {
  readonly name: MarkName
  readonly size?: number
  readonly label?: string
  readonly className?: string
}

export type MarkAtProps = {
  readonly name: MarkName
  readonly x: number
  readonly y: number
  readonly size?: number
  readonly className?: string
}
