'use client'
// The compressor's air in a shift as one pipe to scale: hatched used, lightly hatched reserved, chalk hatched
// proposed, blank free, each with its figure. Labels that have no room are named in the line below.
import { memo } from 'react'
import { useWidth } from '../controls/use-width.ts'
import { box, hatch } from './hatch.ts'
import { along, type Scale, wordWidth } from './scale.ts'

type AirPart = {
  readonly id: string
  /** Such as "A1 110". */
  readonly label: string
  readonly flowLpm: number
  readonly kind: 'used' | 'reserved' | 'proposed'
}

export type AirPipeProps = {
  readonly caption: string
  readonly capacityLpm: number
  readonly parts: readonly AirPart[]
  readonly freeWord?: (flowLpm: number) => string
  /** The whole pipe in a sentence, for readers. */
  readonly label: string
}

/** The pipe with its scale. */
export const AirPipe = memo(function AirPipe(props: AirPipeProps) {
  const { caption, capacityLpm, parts, freeWord = (flow) => `${flow} free`, label } = props
  const [frame, width] = useWidth<HTMLDivElement>(500)
  const drawn = parts.reduce((sum, part) => sum + part.flowLpm, 0)
  const scale: Scale = { from: 0, to: Math.max(capacityLpm, drawn), left: 1, right: width - 1 }
  const placed = parts.map((part, index) => {
    const before = parts.slice(0, index).reduce((sum, earlier) => sum + earlier.flowLpm, 0)
    const [left, right] = [along(scale, before), along(scale, before + part.flowLpm)]
    return { part, left, right, isNamed: wordWidth(part.label, 14) < right - left - 4 }
  })
  const free = capacityLpm - drawn
  const step = tickStep(scale.to, width)
  const unnamed = placed.filter((piece) => !piece.isNamed).map((piece) => piece.part.label)
  return (
    <div ref={frame} className="measured">
      <p className="text-small font-firm text-umber">{caption}</p>
      <svg
        className="block overflow-visible"
        width={width}
        height={60}
        viewBox={`0 0 ${width} 60`}
        role="img"
        aria-label={label}
      >
        <title>{label}</title>
        {placed.map(({ part, left, right, isNamed }) => (
          <g key={part.id} className={part.kind === 'proposed' ? 'text-chalk' : ''}>
            {isNamed ? (
              <text x={(left + right) / 2} y={14} fontSize={14} fontWeight={620} textAnchor="middle">
                {part.label}
              </text>
            ) : null}
            <path
              className={`air-${part.kind}`}
              d={hatch(
                box(left, 20, right - left, 20),
                part.kind === 'reserved' ? 7 : 4.6,
                part.kind === 'proposed' ? 135 : 45,
              )}
            />
            <path className="stroke-ink" d={`M${right} 20V40`} strokeWidth={1.6} />
          </g>
        ))}
        {free > 0 && along(scale, free) - 1 > wordWidth(freeWord(free), 14) ? (
          <text x={(along(scale, drawn) + width) / 2} y={35} fontSize={14} fontWeight={680} textAnchor="middle">
            {freeWord(free)}
          </text>
        ) : null}
        <rect className="stroke-ink" fill="none" x={1} y={20} width={width - 2} height={20} strokeWidth={1.8} />
        {drawn > capacityLpm ? (
          <path className="stroke-ink" d={`M${along(scale, capacityLpm)} 14V46`} strokeWidth={3} />
        ) : null}
        {Array.from({ length: Math.floor(scale.to / step) + 1 }, (_, index) => index * step).map((flow) => (
          <g key={flow}>
            <path className="stroke-edge" d={`M${along(scale, flow)} 41V45`} strokeWidth={1} />
            <text
              className="fill-umber"
              x={along(scale, flow)}
              y={58}
              fontSize={13}
              textAnchor={flow === 0 ? 'start' : along(scale, flow) > width - 14 ? 'end' : 'middle'}
            >
              {flow}
            </text>
          </g>
        ))}
      </svg>
      {unnamed.length === 0 ? null : <p className="text-small text-umber">also {unnamed.join(', ')}</p>}
    </div>
  )
})

function tickStep(most: number, width: number): number {
  const wanted = most / Math.max(2, width / 70)
  return [10, 20, 25, 50, 100, 200, 250, 500, 1000].find((step) => step >= wanted) ?? 2000
}
