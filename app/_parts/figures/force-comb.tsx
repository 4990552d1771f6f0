// How gently: one stroke per technique, gentlest first, each taller and thicker. A lintel with a post stands
// after the last allowed; beyond it the strokes are dotted. Below 90 px only the mark and the words.
import { Mark } from '../marks/index.ts'

export type ForceCombProps = {
  /** How many techniques the lab's ladder has. */
  readonly count?: number
  /** The strongest allowed, counted from 0. */
  readonly ceiling: number
  /** Today's technique, when there is one. */
  readonly now?: number | undefined
  /** Such as "no stronger than needle"; always said. */
  readonly words: string
  readonly width?: number
  /** The words are already said beside it: readers hear them, eyes do not see them twice. */
  readonly isWordsHidden?: boolean | undefined
}

/** The force comb with its words. */
export function ForceComb({ count = 9, ceiling, now, words, width = 118, isWordsHidden = false }: ForceCombProps) {
  const said = <span className={isWordsHidden ? 'sr-only' : 'text-small'}>{words}</span>
  if (width < 90)
    return (
      <span className="inline-flex items-center gap-2">
        <Mark name="ceiling" size={22} />
        {said}
      </span>
    )
  const gap = width / count
  const base = 33
  const at = (rung: number) => gap * (rung + 0.5)
  const rise = (rung: number) => 7 + (rung / Math.max(1, count - 1)) * 19
  const post = gap * (ceiling + 1)
  return (
    <span className="inline-flex flex-wrap items-center gap-x-2.5">
      <svg className="flex-none" width={width} height={44} viewBox={`0 0 ${width} 44`} aria-hidden="true">
        <path className="stroke-edge" d={`M0 ${base}H${width}`} strokeWidth={1} />
        {Array.from({ length: count }, (_, rung) =>
          rung <= ceiling ? (
            <path
              key={rung}
              className="stroke-ink"
              d={`M${at(rung)} ${base}v${-rise(rung)}`}
              strokeWidth={1.2 + rung * 0.42}
            />
          ) : (
            <path
              key={rung}
              className="stroke-edge"
              d={`M${at(rung)} ${base}v${-rise(rung)}`}
              strokeWidth={1.2}
              strokeDasharray="1.5 2.5"
            />
          ),
        )}
        <path className="stroke-ink" fill="none" d={`M0 3.500H${post}V${base}`} strokeWidth={2} />
        {now === undefined ? null : <path className="fill-ink" d={`M${at(now) - 5} 42h10l-5-7z`} />}
      </svg>
      {said}
    </span>
  )
}
