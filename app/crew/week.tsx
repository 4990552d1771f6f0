'use client'
// One week as seven small squares, each cut into its day's shifts: filled where one comes, broken where one is away.
// Today stands in a frame.
import type { WeekCell, WeekDay } from '#lib/views'
import { KeyItem } from '../_parts/figures/index.ts'
import { sayWeek } from './words.ts'

const STEP = 26
const SIDE = 20
/** On a phone, beside the rings. */
const SMALL = 0.8

/** The squares, with the week in words for readers. */
export function WeekSquares({
  week,
  isSmall = false,
}: {
  readonly week: readonly WeekDay[]
  readonly isSmall?: boolean
}) {
  const width = week.length * STEP
  const label = sayWeek(week)
  return (
    <svg
      className="pen flex-none"
      width={isSmall ? width * SMALL : width}
      height={isSmall ? 28 * SMALL : 28}
      viewBox={`0 0 ${width} 28`}
      role="img"
      aria-label={label}
    >
      <title>{label}</title>
      {week.map((day, index) => (
        <g key={day.date} transform={`translate(${index * STEP + (STEP - SIDE) / 2} 4)`}>
          {day.isToday ? <rect x={-3} y={-3.5} width={SIDE + 6} height={SIDE + 7} strokeWidth={1.5} /> : null}
          <Square day={day} />
        </g>
      ))}
    </svg>
  )
}

function Square({ day }: { readonly day: WeekDay }) {
  const high = SIDE / Math.max(1, day.shifts.length)
  if (day.shifts.every((one) => one.cell === 'free'))
    return <path className="stroke-edge" d={`M${SIDE / 2 - 3} ${SIDE / 2}h6`} strokeWidth={1} />
  return (
    <>
      <rect className="stroke-edge" width={SIDE} height={SIDE} strokeWidth={1} />
      {day.shifts.map((one, index) => (
        <Slice key={one.shift.id} cell={one.cell} y={index * high} height={high} />
      ))}
    </>
  )
}

function Slice({ cell, y, height }: { readonly cell: WeekCell; readonly y: number; readonly height: number }) {
  if (cell === 'free') return null
  if (cell === 'away')
    return (
      <rect
        className="fill-paper stroke-ink"
        x={0.5}
        y={y + 0.5}
        width={SIDE - 1}
        height={height - 1}
        strokeWidth={1}
        strokeDasharray="2.500 2"
      />
    )
  return (
    <>
      <rect className="fill-wash" y={y} width={SIDE} height={height} stroke="none" />
      {cell === 'extra' ? (
        <path className="stroke-paper" d={`M${SIDE / 2 - 3} ${y + height / 2}h6M${SIDE / 2} ${y + height / 2 - 3}v6`} />
      ) : null}
    </>
  )
}

/** What the squares mean. */
export function WeekKey() {
  const box = (cell: WeekCell) => (
    <svg className="pen" width={22} height={22} viewBox="-1 -1 22 22" aria-hidden="true">
      <rect className="stroke-edge" width={SIDE} height={SIDE} strokeWidth={1} />
      <Slice cell={cell} y={0} height={SIDE / 2} />
    </svg>
  )
  return (
    <>
      <KeyItem figure={box('in')}>comes, first shift on top</KeyItem>
      <KeyItem figure={box('extra')}>extra</KeyItem>
      <KeyItem figure={box('away')}>away</KeyItem>
    </>
  )
}
