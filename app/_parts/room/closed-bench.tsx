// A bench out of use: hatching and words, where a piece and a number would be.
import { box as corners, hatch } from '../figures/hatch.ts'
import { wordWidth } from '../figures/scale.ts'
import type { Box } from './measure.ts'

/** Hatched, with words under the code, both on clear paper. */
export function ClosedBench({ box, words, size, codeSize }: ClosedProps) {
  const line = size * 1.2
  const head = codeSize * 1.35
  const isBesideCode = box.h - head < line + 4
  const lines = words.slice(0, isBesideCode ? 1 : Math.max(1, Math.floor((box.h - head - 2) / line)))
  const longest = Math.max(0, ...lines.map((words) => wordWidth(words, size)))
  const fits = longest < box.w - (isBesideCode ? codeSize * 2.4 : 4)
  const middle = isBesideCode ? box.x + codeSize * 1.2 + box.w / 2 : box.x + box.w / 2
  const top = isBesideCode ? box.y + box.h / 2 - line / 2 : box.y + head + (box.h - head - lines.length * line) / 2 - 2
  return (
    <>
      <path className="stroke-edge" strokeWidth={1} d={hatch(corners(box.x, box.y, box.w, box.h), 6)} />
      <rect className="fill-paper" x={box.x + 2} y={box.y + 2} width={codeSize * 2} height={codeSize * 1.25} />
      {fits ? (
        <>
          <rect
            className="fill-paper"
            x={middle - longest / 2 - 3}
            y={top}
            width={longest + 6}
            height={lines.length * line + 2}
          />
          {lines.map((words, index) => (
            <text
              key={words}
              className={index === 0 ? '' : 'fill-umber'}
              x={middle}
              y={top + index * line + size * 0.95}
              fontSize={size}
              fontWeight={index === 0 ? 620 : 450}
              textAnchor="middle"
            >
              {words}
            </text>
          ))}
        </>
      ) : null}
    </>
  )
}

type ClosedProps = {
  readonly box: Box
  readonly words: readonly string[]
  readonly size: number
  readonly codeSize: number
}
