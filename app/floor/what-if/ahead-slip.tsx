'use client'
// The slip of paper beside the place one holds something over: what would follow, and what it costs the day. Chalk,
// since nothing of it is so yet. Placed by attributes of the drawing, never over the place itself.
import type { Box } from '#lib/views'
import { useWhatIf, type WhatIfQuestion } from './use-what-if.ts'

export type AheadSlipProps = {
  readonly plan: { readonly width: number; readonly height: number }
  /** The place, in px of the drawing. */
  readonly box: Box
  readonly question: WhatIfQuestion
}

const WIDTH = 264
const HEIGHT = 132
const GAP = 10

/** The place's broken outline, and the slip beside it. */
export function AheadSlip({ plan, box, question }: AheadSlipProps) {
  const answer = useWhatIf(question)
  if (answer === null) return null
  const width = Math.min(WIDTH, plan.width)
  const x = Math.max(0, Math.min(plan.width - width, box.x + box.w / 2 - width / 2))
  const isBelow = box.y < HEIGHT + GAP
  const y = isBelow ? Math.min(plan.height - HEIGHT, box.y + box.h + GAP) : box.y - GAP - HEIGHT
  return (
    <g className="pointer-events-none">
      <rect
        x={box.x - 4}
        y={box.y - 4}
        width={box.w + 8}
        height={box.h + 8}
        className="fill-none stroke-chalk"
        strokeWidth={answer.state === 'no' ? 1.2 : 2.6}
        strokeDasharray="5 3"
      />
      <foreignObject x={x} y={y} width={width} height={HEIGHT}>
        <div className={`flex h-full ${isBelow ? 'items-start' : 'items-end'}`}>
          <p
            className={`w-full border-2 border-dashed border-chalk bg-trace px-3 py-2 text-small ${answer.state === 'asking' ? 'text-faint' : 'text-ink'}`}
            data-ahead={answer.state}
          >
            {answer.words}
          </p>
        </div>
      </foreignObject>
    </g>
  )
}
