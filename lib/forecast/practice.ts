// What is believed before a lab has work of its own to learn from: common practice, no source. A tiny piece in good
// condition takes about 16 h, one the size of a walnut in hard rock about 100 h, a very large skull two years and more;
// harder rock, poorer contrast and broken bone take longer. `usualLogH` is that belief; the columns say in which ways a
// lab may differ from it, and by how much each belief may be wrong.
import type { Facts, Group } from './facts.ts'

/** Surfaces are looked at relative to this: a bone as long as a hand, cm². */
const USUAL_CM2 = 120
/** Bends are looked at relative to this: the mean square of ratings, and about that of the logarithm of surfaces. */
const USUAL_BEND = 2
/** Ratings are looked at relative to the middle of their scale. */
const USUAL_RATING = 3

interface GroupBelief {
  /** Hours of the group's work on a piece of USUAL_CM2 with all ratings in the middle. */
  readonly usualH: number
  /** Hours grow with surface to this power. */
  readonly sizePower: number
  readonly hardness: number
  readonly contrast: number
  readonly soundness: number
  readonly breakage: number
}

/** Effects are in log hours a point: 0.3 is a third longer. */
const beliefs: Readonly<Record<Group, GroupBelief>> = {
  opening: { usualH: 3, sizePower: 0.5, hardness: 0.12, contrast: 0, soundness: -0.05, breakage: 0 },
  exposing: { usualH: 80, sizePower: 0.51, hardness: 0.3, contrast: -0.15, soundness: -0.12, breakage: 0.1 },
  consolidating: { usualH: 3, sizePower: 0.45, hardness: 0, contrast: 0, soundness: -0.2, breakage: 0.15 },
  joining: { usualH: 8, sizePower: 0.45, hardness: 0, contrast: 0, soundness: -0.05, breakage: 0.4 },
  housing: { usualH: 6, sizePower: 0.4, hardness: 0, contrast: 0, soundness: -0.05, breakage: 0.05 },
  other: { usualH: 8, sizePower: 0.35, hardness: 0.05, contrast: 0, soundness: 0, breakage: 0 },
}

/** Steps that share a group's work take so much less each: with 1 the work is only divided, with 0 each is a whole. */
const SHARE_POWER = 0.85
/** Delicate and priority pieces are worked on more slowly. */
const PRIORITY = 0.12

const sizeOf = ({ sizeCm2 }: Facts): number => (sizeCm2 === null ? 0 : Math.log(sizeCm2 / USUAL_CM2))
const above = (rating: number | null): number => (rating === null ? 0 : rating - USUAL_RATING)

/** Log hours of a step by common practice alone. */
export function usualLogH(facts: Facts): number {
  const belief = beliefs[facts.group]
  return (
    Math.log(belief.usualH) +
    belief.sizePower * sizeOf(facts) +
    belief.hardness * above(facts.rockHardness) +
    belief.contrast * above(facts.contrast) +
    belief.soundness * above(facts.soundness) +
    belief.breakage * above(facts.breakage) -
    SHARE_POWER * Math.log(facts.sharedBy) +
    (facts.isPriority ? PRIORITY : 0)
  )
}

/** One way in which a lab differs from common practice: how far it applies to a step, and how large it may be. */
export interface Column {
  readonly key: string
  readonly value: number
}

/** Deviations from common practice, each with the standard deviation it has before anything is seen. */
export const priorSd: Readonly<Record<string, number>> = {
  level: 0.6,
  opening: 0.4,
  exposing: 0.4,
  consolidating: 0.4,
  joining: 0.4,
  housing: 0.4,
  other: 0.5,
  size: 0.15,
  'size exposing': 0.1,
  'size joining': 0.12,
  'size housing': 0.12,
  'size bend': 0.03,
  hardness: 0.15,
  'hardness bend': 0.06,
  contrast: 0.1,
  soundness: 0.08,
  breakage: 0.08,
  'breakage joining': 0.12,
  'soundness consolidating': 0.1,
  shared: 0.2,
  priority: 0.12,
}

/** What of a step's facts each deviation multiplies; those that are nothing are left out. */
export function columnsOf(facts: Facts): readonly Column[] {
  const { group } = facts
  const isRock = group === 'exposing'
  const cells: Column[] = [
    { key: 'level', value: 1 },
    { key: group, value: 1 },
  ]
  const put = (key: string, value: number) => {
    if (value !== 0) cells.push({ key, value })
  }
  const size = sizeOf(facts)
  put('size', size)
  // Neither is a straight line everywhere: a threshold, a surface of which only the edges matter.
  put('size bend', size ** 2 - USUAL_BEND)
  if (isRock || group === 'joining' || group === 'housing') put(`size ${group}`, size)
  if (isRock || group === 'opening') put('hardness', above(facts.rockHardness))
  if (isRock) {
    if (facts.rockHardness !== null) put('hardness bend', above(facts.rockHardness) ** 2 - USUAL_BEND)
    put('contrast', above(facts.contrast))
    put('soundness', above(facts.soundness))
    put('breakage', above(facts.breakage))
  }
  if (group === 'joining') put('breakage joining', above(facts.breakage))
  if (group === 'consolidating') put('soundness consolidating', above(facts.soundness))
  put('shared', -Math.log(facts.sharedBy))
  put('priority', facts.isPriority ? 1 : 0)
  return cells
}
