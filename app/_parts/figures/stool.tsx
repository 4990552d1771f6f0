// A seat and who is on it: full when in, half when late, broken when away, open for a learner, ringed for a
// mentor, thin and empty when free. The first letter stands on it; the name stands beside, from the caller.

import type { Tone } from '../stone/index.ts'
import { short } from '../stone/outline.ts'

export type StoolState = 'in' | 'late' | 'away' | 'learner' | 'mentor' | 'free'

export type StoolAtProps = {
  readonly state: StoolState
  readonly x: number
  readonly y: number
  /** Half the width; 14 on the Floor, 5.5 as a dot. The mentor's ring goes 4 beyond. */
  readonly radius?: number
  /** One or two letters; left away on a dot. */
  readonly initial?: string | undefined
  /** Under a proposal the number of the change stands on the stool in place of the letter. */
  readonly change?: number | undefined
  readonly tone?: Tone | undefined
  readonly isHeld?: boolean | undefined
}

/** A stool inside another drawing. */
export function StoolAt(props: StoolAtProps) {
  const { state, x, y, radius = 14, initial, change, tone = 'ink', isHeld = false } = props
  const isFull = tone !== 'chalk' && (state === 'in' || state === 'mentor')
  const pen = isHeld ? 2.6 : tone === 'chalk' ? 2 : state === 'free' ? 1.2 : 1.6
  const inner = state === 'mentor' ? radius * 0.86 : radius
  return (
    <g
      className={`stool stone-${state === 'free' && tone === 'ink' ? 'edge' : tone}`}
      transform={`translate(${short(x)} ${short(y)})`}
    >
      {state === 'late' ? (
        <>
          <path
            d={`M0 ${-radius}A${radius} ${radius} 0 0 0 0 ${radius}`}
            className="stool-hollow"
            strokeWidth={pen}
            strokeDasharray="3 2.5"
          />
          <path d={`M0 ${-radius}A${radius} ${radius} 0 0 1 0 ${radius}z`} className="stool-full" strokeWidth={pen} />
        </>
      ) : (
        <circle
          r={inner}
          className={isFull ? 'stool-full' : 'stool-hollow'}
          strokeWidth={pen}
          strokeDasharray={state === 'away' ? '3 2.5' : tone === 'chalk' ? '5 3' : undefined}
        />
      )}
      {state === 'mentor' ? (
        <circle r={radius + Math.max(2, radius * 0.24)} className="stool-open" strokeWidth={Math.min(1.5, pen)} />
      ) : null}
      {state === 'away' && change === undefined ? (
        <path d={`M${-radius * 0.5} 0H${radius * 0.5}`} strokeWidth={1.6} />
      ) : null}
      {change === undefined ? null : (
        <text className="halo" y={radius * 0.36} textAnchor="middle" fontSize={15} fontWeight={720}>
          {change}
        </text>
      )}
      {change !== undefined ||
      initial === undefined ||
      state === 'free' ||
      state === 'away' ||
      state === 'late' ||
      radius < 9 ? null : (
        <text
          className={isFull ? 'stool-letter' : ''}
          y={radius * 0.36}
          textAnchor="middle"
          fontSize={Math.max(11, short(radius * (initial.length > 1 ? 0.82 : 1.02)))}
          fontWeight={720}
        >
          {initial}
        </text>
      )}
    </g>
  )
}

/** A stool as an image beside words; with a label it speaks for itself. */
export function Stool({ label, size = 24, ...stool }: StoolProps) {
  const ring = stool.state === 'mentor' ? 1.28 : 1
  const drawing = <StoolAt {...stool} x={size / 2} y={size / 2} radius={(size / 2 - 1.5) / ring} />
  if (label === undefined)
    return (
      <svg className="flex-none" width={size} height={size} viewBox={`0 0 ${size} ${size}`} aria-hidden="true">
        {drawing}
      </svg>
    )
  return (
    <svg className="flex-none" width={size} height={size} viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label}>
      <title>{label}</title>
      {drawing}
    </svg>
  )
}

type StoolProps = Omit<StoolAtProps, 'x' | 'y' | 'radius'> & {
  readonly size?: number
  readonly label?: string | undefined
}
