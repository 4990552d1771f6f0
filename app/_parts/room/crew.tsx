'use client'
// The people in the drawing: stools and the names beside them. Someone
// who changes seat walks there along the aisles; whoever asked for stillness sees the old seat and the way.
import { memo, type ReactNode, useEffect, useRef, useState } from 'react'
import { StoolAt } from '../figures/index.ts'
import { wordWidth } from '../figures/scale.ts'
import { MarkAt } from '../marks/index.ts'
import { short } from '../stone/outline.ts'
import type { Spot, Want } from './labels.ts'
import type { Box, Scale, Seat } from './measure.ts'
import type { SitterShape } from './shapes.ts'
import { type Px, threadPath } from './threads.ts'
import { toneClass } from './tone-class.ts'

export type Seated = { readonly sitter: SitterShape; readonly seat: Seat }

/** How long a changed seat stays marked, and how long the way stays drawn where nothing moves. */
const freshMs = 4000
const stillMs = 6000

/** What one label wants, in px, for the placing rule. */
export function wantOf({ sitter, seat }: Seated, plan: Scale): Want {
  const { letters, density } = plan
  const isNoted = density === 'full' && sitter.note !== undefined
  const ringed = sitter.state === 'mentor' ? seat.radius * 0.24 : 0
  return {
    key: sitter.key,
    x: seat.x,
    y: seat.y,
    radius: seat.radius + ringed,
    facing: seat.facing,
    nameWidth: wordWidth(sitter.name, letters.name) + extrasWidth(sitter, plan),
    nameHeight: letters.name * 1.16,
    noteWidth: isNoted ? wordWidth(sitter.note ?? '', letters.note) * 0.93 : 0,
    noteHeight: isNoted ? letters.note * 1.12 : 0,
  }
}

/** A name with its technique where it found room, and a leader where it stands apart. */
export const NameAt = memo(function NameAt({ sitter, spot, plan }: NameProps) {
  const { letters } = plan
  const extras = extrasWidth(sitter, plan)
  const { box, anchor } = spot
  const nameBase = box.y + letters.name * 0.9
  const textX = anchor === 'start' ? box.x : anchor === 'end' ? box.x + box.w - extras : box.x + (box.w - extras) / 2
  const words = wordWidth(sitter.name, letters.name) * 0.93
  const wordsEnd = anchor === 'start' ? textX + words : anchor === 'end' ? textX : textX + words / 2
  const tone = toneClass(sitter.tone)
  const noteX = anchor === 'middle' ? box.x + box.w / 2 : anchor === 'start' ? box.x : box.x + box.w
  const marks: ReactNode[] = []
  let at = wordsEnd + 5
  for (const name of sitter.isHeld === true
    ? (['hold'] as const)
    : sitter.isClaimed === true
      ? (['claim'] as const)
      : []) {
    marks.push(
      <MarkAt
        key={name}
        name={name}
        x={at + letters.mark / 2}
        y={nameBase - letters.name * 0.32}
        size={letters.mark}
      />,
    )
    at += letters.mark + 3
  }
  return (
    <g className={tone}>
      {spot.leader === null ? null : (
        <path
          className="stroke-edge"
          strokeWidth={1}
          d={`M${short(spot.leader[0])} ${short(spot.leader[1])}L${short(spot.leader[2])} ${short(spot.leader[3])}`}
        />
      )}
      <text className="halo" x={textX} y={nameBase} fontSize={letters.name} fontWeight={660} textAnchor={anchor}>
        {sitter.name}
      </text>
      {marks}
      {spot.hasNote ? (
        <text
          className={`halo ${sitter.tone === undefined || sitter.tone === 'ink' ? 'fill-umber' : ''}`}
          x={noteX}
          y={nameBase + letters.note * 1.08}
          fontSize={letters.note}
          textAnchor={anchor}
        >
          {sitter.note}
        </text>
      ) : null}
    </g>
  )
})

/** The ringed number of a change where no stool is large enough to carry it. */
export function ChangeNumber({ change, x, y }: { readonly change: number; readonly x: number; readonly y: number }) {
  return (
    <g className="text-chalk">
      <circle className="fill-trace stroke-current" cx={short(x)} cy={short(y)} r={11} strokeWidth={1.5} />
      <text x={short(x)} y={short(y) + 4.7} fontSize={13} fontWeight={680} textAnchor="middle">
        {change}
      </text>
    </g>
  )
}

/** A stool that walks when its person changes seat. */
export const WalkingStool = memo(function WalkingStool({ seated, wayTo }: WalkingProps) {
  const { sitter, seat } = seated
  const group = useRef<SVGGElement>(null)
  const last = useRef({ x: seat.x, y: seat.y, key: sitter.placeId })
  const [left, setLeft] = useState<readonly Px[]>()
  const here = sitter.placeId
  useEffect(() => {
    const before = last.current
    last.current = { x: seat.x, y: seat.y, key: here }
    const element = group.current
    // A new width of the drawing moves everybody, and a neighbour who comes shifts the row: only a new place is a walk.
    if (before.key === here || element === null || wayTo === undefined) return
    const way = wayTo(before, { x: seat.x, y: seat.y })
    element.classList.add('is-fresh')
    const fresh = setTimeout(() => element.classList.remove('is-fresh'), freshMs)
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
      setLeft(way)
      const still = setTimeout(() => setLeft(undefined), stillMs)
      return () => {
        clearTimeout(fresh)
        clearTimeout(still)
        setLeft(undefined)
      }
    }
    const walk = element.animate(
      way.map((point) => ({ transform: `translate(${point.x - seat.x}px, ${point.y - seat.y}px)` })),
      { duration: 320, easing: 'cubic-bezier(.2,.7,.2,1)' },
    )
    return () => {
      clearTimeout(fresh)
      walk.cancel()
    }
  }, [here, seat.x, seat.y, wayTo])
  const [old] = left ?? []
  return (
    <>
      {left === undefined || old === undefined ? null : (
        <g className="text-ink">
          <circle
            className="stroke-current"
            fill="none"
            cx={old.x}
            cy={old.y}
            r={seat.radius}
            strokeWidth={1.5}
            strokeDasharray="3 2.5"
          />
          <path className="stroke-current" fill="none" strokeWidth={1.5} d={threadPath(left, 0, seat.radius)} />
        </g>
      )}
      <g ref={group} className="walks">
        <StoolAt
          state={sitter.state}
          x={seat.x}
          y={seat.y}
          radius={seat.radius}
          initial={seat.radius < 9 ? undefined : sitter.initial}
          change={seat.radius < 9 ? undefined : sitter.change}
          tone={sitter.tone}
          isHeld={sitter.isHeld}
        />
      </g>
    </>
  )
})

/** Boxes of the stools, as obstacles for words. */
export function seatBox(seat: Seat): Box {
  return { x: seat.x - seat.radius, y: seat.y - seat.radius, w: seat.radius * 2, h: seat.radius * 2 }
}

type NameProps = { readonly sitter: SitterShape; readonly spot: Spot; readonly plan: Scale }
type WalkingProps = {
  readonly seated: Seated
  /** Left away while a proposal is laid over the room: lifting the sheet moves nobody. */
  readonly wayTo: ((from: Px, to: Px) => readonly Px[]) | undefined
}

function extrasWidth(sitter: SitterShape, plan: Scale): number {
  return sitter.isHeld === true || sitter.isClaimed === true ? plan.letters.mark + 8 : 0
}
