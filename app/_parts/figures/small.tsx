// Small figures that stand in a row: a level, a chance, hours left, a day's exposure.
import type { ReactNode } from 'react'
import { box, hatch } from './hatch.ts'

export type SkillLevel = 0 | 1 | 2 | 3 | 4

/** What each level of a technique means. */
export const levelWords = [
  'none',
  'learning, beside a mentor',
  'works alone',
  'delicate and priority',
  'mentors',
] as const satisfies readonly string[]

/** A level as a dot, broken ring, ring, full ring, ringed. */
export function SkillRing({
  level,
  label,
  size = 24,
}: {
  readonly level: SkillLevel
  readonly label?: string
  readonly size?: number
}) {
  const name = label ?? `level ${level}, ${levelWords[level]}`
  return (
    <svg className="pen" width={size} height={size} viewBox="0 0 24 24" role="img" aria-label={name}>
      <title>{name}</title>
      {level === 0 ? <circle className="pen-full text-edge" cx={12} cy={12} r={1.6} /> : null}
      {level === 1 ? <circle cx={12} cy={12} r={7.2} strokeDasharray="3 2.4" /> : null}
      {level === 2 ? <circle cx={12} cy={12} r={7.2} /> : null}
      {level === 3 ? <circle className="pen-full" cx={12} cy={12} r={8} /> : null}
      {level === 4 ? (
        <>
          <circle className="pen-full" cx={12} cy={12} r={5.6} />
          <circle cx={12} cy={12} r={9.2} />
        </>
      ) : null}
    </svg>
  )
}

/** "6 in 10"; the ends are words, because neither is certain. */
export function chanceWords(outOfTen: number): string {
  const tenths = Math.round(outOfTen)
  return tenths <= 0 ? 'hardly' : tenths >= 10 ? 'as good as sure' : `${tenths} in 10`
}

/** A chance in words over ten dots. */
export function ChanceDots({ outOfTen, size = 'row' }: { readonly outOfTen: number; readonly size?: 'row' | 'page' }) {
  const tenths = Math.min(10, Math.max(0, Math.round(outOfTen)))
  return (
    <span className="inline-block">
      <span className={`block ${size === 'page' ? 'named text-page' : 'font-strong'}`}>{chanceWords(tenths)}</span>
      <svg className="pen mt-1 block" width={104} height={10} viewBox="0 0 104 10" aria-hidden="true">
        {Array.from({ length: 10 }, (_, index) => (
          <circle
            key={index}
            cx={5 + index * 10.4}
            cy={5}
            r={3.8}
            strokeWidth={1.1}
            className={index < tenths ? 'fill-ink' : ''}
          />
        ))}
      </svg>
    </span>
  )
}

export type HoursBarProps = {
  readonly lowHours: number
  readonly highHours: number
  /** The end of the scale, one for the whole Sheet. */
  readonly scaleHours: number
  readonly width?: number
  readonly label: string
}

/** Hours left as a plain bar from low to high. */
export function HoursBar({ lowHours, highHours, scaleHours, width = 150, label }: HoursBarProps) {
  const at = (hours: number) => (Math.min(hours, scaleHours) / Math.max(scaleHours, 0.001)) * width
  return (
    <svg className="flex-none" width={width} height={16} viewBox={`0 0 ${width} 16`} role="img" aria-label={label}>
      <title>{label}</title>
      <path className="stroke-line" d={`M0 8H${width}`} strokeWidth={1.5} />
      <rect
        className="fill-rock stroke-ink"
        x={at(lowHours)}
        y={3}
        width={Math.max(5, at(highHours) - at(lowHours))}
        height={10}
        strokeWidth={1}
      />
    </svg>
  )
}

export type ExposureBarProps = {
  readonly done: number
  readonly planned: number
  /** Where the action value stands; the scale runs an eighth beyond it. */
  readonly action: number
  readonly width?: number
  readonly label: string
  /** Said over the line when there is nothing to draw. */
  readonly none?: string
}

/** A day's exposure: done full, planned hatched, the action value as a post. */
export function ExposureBar({ done, planned, action, width = 164, label, none }: ExposureBarProps) {
  const most = action * 1.125
  const at = (points: number) => (Math.min(points, most) / most) * width
  const [doneEnd, plannedEnd] = [at(done), at(done + planned)]
  return (
    <svg className="flex-none" width={width} height={26} viewBox={`0 0 ${width} 26`} role="img" aria-label={label}>
      <title>{label}</title>
      <path className="stroke-line" d={`M0 13H${width}`} strokeWidth={1.5} />
      {done + planned === 0 && none !== undefined ? (
        <text className="fill-umber" x={6} y={9} fontSize={13}>
          {none}
        </text>
      ) : null}
      <rect className="fill-ink" x={0} y={7.5} width={doneEnd} height={11} />
      {planned > 0 ? (
        <>
          <rect
            className="fill-paper stroke-ink"
            x={doneEnd}
            y={8}
            width={plannedEnd - doneEnd}
            height={10}
            strokeWidth={1}
          />
          <path className="stroke-ink" d={hatch(box(doneEnd, 8, plannedEnd - doneEnd, 10), 3.6)} strokeWidth={1} />
        </>
      ) : null}
      <path className="stroke-ink" d={`M${at(action)} 3V23`} strokeWidth={2} />
    </svg>
  )
}

/** A mark with its word, as in a key under a drawing. */
export function KeyItem({ figure, children }: { readonly figure: ReactNode; readonly children: ReactNode }) {
  return (
    <span className="inline-flex items-center gap-1.5 text-small">
      {figure}
      {children}
    </span>
  )
}
