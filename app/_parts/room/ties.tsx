// The double line from a learner to the mentor beside whom they work. In a tight room it bends around stools, benches
// and names as well as it can, because a line across somebody else would tie the wrong people.
import { memo } from 'react'
import type { Box } from '#lib/views'
import { short } from '../stone/outline.ts'
import type { Seated } from './crew.tsx'
import type { Px } from './threads.ts'

export type TieProps = {
  readonly learner: Seated
  readonly mentor: Seated
  readonly around: readonly InWay[]
  readonly frame: Box
}

/** Something a tie had better not cross, and how much it costs. */
export type InWay = { readonly box: Box; readonly cost: number }

/** Under a bench a tie is hidden, not misleading; over another's stool or name it would tie the wrong people. */
export const benchCost = 3
export const wordCost = 10

/** The tie, drawn under the stools. */
export const MentorTie = memo(function MentorTie({ learner, mentor, around, frame }: TieProps) {
  const tones = [learner.sitter.tone, mentor.sitter.tone]
  const tone = tones.includes('chalk') ? 'stroke-chalk' : tones.includes('faint') ? 'stroke-faint' : 'stroke-ink'
  const isLarge = learner.seat.radius > 20
  const d = curve(tieBetween(learner.seat, mentor.seat, around, frame))
  return (
    <g fill="none" strokeLinecap="round">
      <path className={tone} strokeWidth={isLarge ? 8 : 4.6} d={d} />
      <path className="tie-gap" strokeWidth={isLarge ? 4 : 2} d={d} />
    </g>
  )
})

/** Two ends and the two points that bend the line between them. */
export type Tie = readonly [from: Px, bend: Px, bend: Px, to: Px]

/** How far it may bow out to either side, the straightest first. */
const bows: readonly number[] = [0, 24, -24, 42, -42, 64, -64, 92, -92]
const samples = 28

/** The way that crosses least; of equals the straightest. */
export function tieBetween(
  from: Px & { readonly radius: number },
  to: Px & { readonly radius: number },
  around: readonly InWay[],
  frame: Box,
): Tie {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1
  const [alongX, alongY] = [(to.x - from.x) / length, (to.y - from.y) / length]
  const inWay = around.filter(({ box }) => !isIn(box, from) && !isIn(box, to))
  let best: { readonly tie: Tie; readonly cost: number } | undefined
  for (const bow of bows) {
    const bent = (share: number): Px => ({
      x: from.x + alongX * length * share - alongY * bow,
      y: from.y + alongY * length * share + alongX * bow,
    })
    const tie: Tie = [{ x: from.x, y: from.y }, bent(0.2), bent(0.8), { x: to.x, y: to.y }]
    const cost = crossings(tie, inWay, frame) + Math.abs(bow) * 0.12
    if (best === undefined || cost < best.cost) best = { tie, cost }
  }
  return best?.tie ?? [from, from, to, to]
}

/** What the points of a tie lie on, or outside the room, added up. */
export function crossings(tie: Tie, inWay: readonly InWay[], frame: Box): number {
  let sum = 0
  for (let part = 1; part < samples; part++) {
    const at = pointOf(tie, part / samples)
    if (!isIn(frame, at)) sum += wordCost * 2
    else for (const { box, cost } of inWay) if (isIn(box, at)) sum += cost
  }
  return sum
}

function pointOf([a, b, c, d]: Tie, share: number): Px {
  const rest = 1 - share
  const [p, q, r, s] = [rest ** 3, 3 * rest * rest * share, 3 * rest * share * share, share ** 3]
  return { x: a.x * p + b.x * q + c.x * r + d.x * s, y: a.y * p + b.y * q + c.y * r + d.y * s }
}

const isIn = (box: Box, at: Px): boolean =>
  at.x >= box.x - 2 && at.x <= box.x + box.w + 2 && at.y >= box.y - 2 && at.y <= box.y + box.h + 2

function curve([a, b, c, d]: Tie): string {
  return `M${short(a.x)} ${short(a.y)}C${short(b.x)} ${short(b.y)} ${short(c.x)} ${short(c.y)} ${short(d.x)} ${short(d.y)}`
}
