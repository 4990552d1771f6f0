'use client'
// The day as an axis of hours with its shifts standing on it as rooms without a floor. The chosen one stands
// higher in heavy ink; a small weight hangs where the clock is. Arrows walk along, as in any row of choices.
import { type KeyboardEvent, useRef } from 'react'
import { useWidth } from '../controls/use-width.ts'
import { along, type Scale, wordWidth } from './scale.ts'

type RailShift = {
  readonly id: string
  readonly name: string
  readonly fromMinute: number
  readonly toMinute: number
  /** Such as "09:30–12:30". */
  readonly times: string
}

export type ShiftRailProps = {
  readonly shifts: readonly RailShift[]
  readonly chosenId: string
  readonly onChoose: (id: string) => void
  /** Minutes since midnight, only when the rail shows today. */
  readonly nowMinute?: number | undefined
  readonly label?: string
}

/** The rail; as wide as its frame. */
export function ShiftRail({ shifts, chosenId, onChoose, nowMinute, label = 'Shifts' }: ShiftRailProps) {
  const [frame, width] = useWidth<HTMLDivElement>(640)
  const rail = useRef<SVGSVGElement>(null)
  const scale = railScale(shifts, width)
  const base = 50
  const hourGap = (scale.right - scale.left) / ((scale.to - scale.from) / 60)
  const every = hourGap < 28 ? 2 : 1
  const walk = (event: KeyboardEvent, index: number) => {
    const by =
      event.key === 'ArrowRight' || event.key === 'ArrowDown'
        ? 1
        : event.key === 'ArrowLeft' || event.key === 'ArrowUp'
          ? -1
          : 0
    const next = shifts[(index + by + shifts.length) % shifts.length]
    if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault()
      onChoose(shifts[index]?.id ?? chosenId)
    } else if (by !== 0 && next !== undefined) {
      event.preventDefault()
      onChoose(next.id)
      rail.current?.querySelectorAll<SVGGElement>('[role=radio]')[shifts.indexOf(next)]?.focus()
    }
  }
  return (
    <div ref={frame} className="measured" role="radiogroup" aria-label={label}>
      <svg
        ref={rail}
        role="presentation"
        className="block overflow-visible"
        width={width}
        height={72}
        viewBox={`0 0 ${width} 72`}
      >
        {hoursOf(scale).map((hour) => {
          const x = along(scale, hour * 60)
          return (
            // biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of a drawing is not focusable
            <g key={hour} aria-hidden="true">
              <path className="stroke-edge" d={`M${x} ${base}v${hour % 3 === 0 ? 8 : 4}`} strokeWidth={1} />
              {hour % every !== 0 ? null : (
                <text className="fill-umber" x={x} y={70} fontSize={13} textAnchor="middle">
                  {hour}
                </text>
              )}
            </g>
          )
        })}
        <path className="stroke-edge" d={`M0 ${base}H${width}`} strokeWidth={1} />
        {shifts.map((shift, index) => {
          const isChosen = shift.id === chosenId
          const [left, right] = [along(scale, shift.fromMinute), along(scale, shift.toMinute)]
          const top = isChosen ? 8 : 25
          const room = right - left - 10
          const fits = wordWidth(`${shift.name} ${shift.times}`, 15) < room
          return (
            // biome-ignore lint/a11y/useSemanticElements: a radio of HTML cannot stand inside a drawing
            <g
              key={shift.id}
              className="hit"
              role="radio"
              aria-checked={isChosen}
              aria-label={`${shift.name} ${shift.times}`}
              tabIndex={isChosen ? 0 : -1}
              onClick={() => onChoose(shift.id)}
              onKeyDown={(event) => walk(event, index)}
            >
              <rect
                className={isChosen ? 'fill-plaster' : 'fill-transparent'}
                x={left}
                y={isChosen ? top : 2}
                width={right - left}
                height={base - (isChosen ? top : 2)}
              />
              <rect className="fill-transparent" x={left} y={0} width={right - left} height={64} />
              <path
                className="stroke-ink"
                fill="none"
                d={`M${left} ${base}V${top}H${right}V${base}`}
                strokeWidth={isChosen ? 3 : 1.2}
              />
              <text
                x={(left + right) / 2}
                y={isChosen ? 34 : 43}
                fontSize={15}
                textAnchor="middle"
                fontWeight={isChosen ? 700 : 560}
              >
                {fitting(shift.name, room)}
                {fits ? (
                  <tspan className="fill-umber" fontWeight={450}>
                    {` ${shift.times}`}
                  </tspan>
                ) : null}
              </text>
              <rect className="ring" x={left - 5} y={top - 5} width={right - left + 10} height={base - top + 8} />
            </g>
          )
        })}
        {nowMinute === undefined || nowMinute < scale.from || nowMinute > scale.to ? null : (
          <path className="fill-ink" d={`M${along(scale, nowMinute) - 6} ${base + 1}h12l-6 10z`} />
        )}
      </svg>
    </div>
  )
}

function railScale(shifts: readonly RailShift[], width: number): Scale {
  const from = Math.min(...shifts.map((shift) => shift.fromMinute))
  const to = Math.max(...shifts.map((shift) => shift.toMinute))
  if (!Number.isFinite(from)) return { from: 540, to: 1080, left: 8, right: width - 8 }
  return { from: Math.floor((from - 20) / 60) * 60, to: Math.ceil((to + 20) / 60) * 60, left: 8, right: width - 8 }
}

function hoursOf(scale: Scale): readonly number[] {
  const first = Math.ceil(scale.from / 60)
  return Array.from({ length: Math.floor(scale.to / 60) - first + 1 }, (_, index) => first + index)
}

function fitting(name: string, room: number): string {
  if (wordWidth(name, 15) <= room) return name
  const letters = Math.max(1, Math.floor(room / (15 * 0.6)) - 1)
  return letters < 3 ? name.slice(0, 1) : `${name.slice(0, letters)}.`
}
