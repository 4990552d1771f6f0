'use client'
// The people in the drawing: stools, names beside them, and the double line between learner and mentor. Someone
// who changes seat walks there along the aisles; whoever asked for stillness sees the old seat and the way.
import { type ReactNode, useEffect, useRef, useState } from 'react'
import { StoolAt } from '../figures/index.ts'
import { wordWidth } from '../figures/scale.ts'
import { MarkAt } from '../marks/index.ts'
import { short } from '../stone/outline.ts'
import type { Spot, Want } from './labels.ts'
import type { Box, Plan, Seat } from './measure.ts'
import type { SitterShape } from './shapes.ts'
import { type Px, threadPath } from './threads.ts'
import { toneClass } from './tone-class.ts'

export type Seated = { readonly sitter: SitterShape; readonly seat: Seat }

/** How long a changed seat stays marked, and how long the way stays drawn where nothing moves. */
const freshMs = 4000
const stillMs = 6000

/** What one label wants, in px, for the placing rule. */
export function wantOf({ sitter, seat }: Seated, plan: Plan): Want {
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
    // The ringed number is taller than a line of words.
    nameHeight: sitter.change === undefined ? letters.name * 1.16 : 24,
    noteWidth: isNoted ? wordWidth(sitter.note ?? '', letters.note) * 0.93 : 0,
    noteHeight: isNoted ? letters.note * 1.12 : 0,
  }
}

/** A name with its technique where it found room, and a leader where it stands apart. */
export function NameAt({
  sitter,
  spot,
  plan,
}: {
  readonly sitter: SitterShape
  readonly spot: Spot
  readonly plan: Plan
}) {
  const { letters } = plan
  const extras = extrasWidth(sitter, plan)
  const { box, anchor } = spot
  const nameBase = box.y + (sitter.change === undefined ? letters.name * 0.9 : 12 + letters.name * 0.34)
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
      {sitter.change === undefined ? null : (
        <ChangeNumber change={sitter.change} x={at + 11} y={nameBase - letters.name * 0.3} />
      )}
      {spot.hasNote ? (
        <text
          className={sitter.tone === undefined || sitter.tone === 'ink' ? 'fill-umber' : ''}
          x={noteX}
          y={Math.max(
            nameBase + letters.note * 1.08,
            sitter.change === undefined ? 0 : box.y + 24 + letters.note * 0.86,
          )}
          fontSize={letters.note}
          textAnchor={anchor}
        >
          {sitter.note}
        </text>
      ) : null}
    </g>
  )
}

/** The ringed number of a change, the same in plan and margin. */
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
export function WalkingStool({
  seated,
  wayTo,
}: {
  readonly seated: Seated
  readonly wayTo: (from: Px, to: Px) => readonly Px[]
}) {
  const { sitter, seat } = seated
  const group = useRef<SVGGElement>(null)
  const last = useRef({ x: seat.x, y: seat.y, key: `${sitter.placeId} ${sitter.seat}` })
  const [left, setLeft] = useState<readonly Px[]>()
  const here = `${sitter.placeId} ${sitter.seat}`
  useEffect(() => {
    const before = last.current
    last.current = { x: seat.x, y: seat.y, key: here }
    const element = group.current
    // A new width of the drawing moves everybody; only a new seat is a walk.
    if (before.key === here || element === null) return
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
          tone={sitter.tone}
          isHeld={sitter.isHeld}
        />
      </g>
    </>
  )
}

/** The double line from a learner to the mentor beside whom they work. */
export function MentorTie({ learner, mentor }: { readonly learner: Seated; readonly mentor: Seated }) {
  const [a, b] = [learner.seat, mentor.seat]
  const tone =
    learner.sitter.tone === 'chalk' || mentor.sitter.tone === 'chalk'
      ? 'stroke-chalk'
      : learner.sitter.tone === 'faint'
        ? 'stroke-faint'
        : 'stroke-ink'
  const isRow = Math.abs(a.y - b.y) < 8 && a.facing === b.facing && a.facing !== 'left' && a.facing !== 'right'
  // Along one row the line hangs below the names; elsewhere it goes straight.
  const dip = (a.facing === 'above' ? -1 : 1) * Math.min(38, 16 + Math.abs(a.x - b.x) * 0.2)
  const rim = a.facing === 'above' ? -a.radius : a.radius
  const d = isRow
    ? `M${short(a.x)} ${short(a.y + rim)}C${short(a.x)} ${short(a.y + rim + dip)} ${short(b.x)} ${short(b.y + rim + dip)} ${short(b.x)} ${short(b.y + rim)}`
    : `M${short(a.x)} ${short(a.y)}L${short(b.x)} ${short(b.y)}`
  return (
    <g fill="none">
      <path className={tone} strokeWidth={a.radius > 20 ? 8 : 4.6} d={d} />
      <path className="stroke-paper" strokeWidth={a.radius > 20 ? 4 : 2} d={d} />
    </g>
  )
}

/** Boxes of the stools, as obstacles for words. */
export function seatBox(seat: Seat): Box {
  return { x: seat.x - seat.radius, y: seat.y - seat.radius, w: seat.radius * 2, h: seat.radius * 2 }
}

function extrasWidth(sitter: SitterShape, plan: Plan): number {
  const marks = sitter.isHeld === true || sitter.isClaimed === true ? plan.letters.mark + 8 : 0
  return marks + (sitter.change === undefined ? 0 : 30)
}
