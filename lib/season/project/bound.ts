/**
 * What no schedule can beat. A length T is refuted when the least work that must fall between two times exceeds what is
 * there (energetic reasoning, Erschler, Lopez & Thuriot 1991; destructive bounds, Klein & Scholl 1999); the bound is the
 * first length from the critical path on that is not refuted.
 */
import { at } from '#lib/base'
import { longest } from './pass.ts'
import { inOrder, type Project, reversed } from './project.ts'

/** A project with one least mode each: shortest duration, and work by resource that no mode goes below. */
export interface Relaxed {
  readonly followers: Project['followers']
  readonly duration: Int32Array
  readonly capacity: Int32Array
  /** By activity × resources + resource: units in use all the while. */
  readonly use: Int32Array
}

/** A bound of a project with one or several modes, given those that fit at all. */
export function boundOfProject(project: Project, usable: readonly (readonly number[])[]): number {
  const { activities, capacity } = project
  const width = capacity.length
  const duration = new Int32Array(activities)
  const use = new Int32Array(activities * width)
  usable.forEach((modes, a) => {
    duration[a] = Math.min(...modes.map((mode) => at(project.duration, mode)))
    // Over the shortest duration every mode uses at least the least of the uses.
    for (let r = 0; r < width; r++)
      use[a * width + r] = Math.min(...modes.map((mode) => at(project.use, mode * width + r)))
  })
  return boundOf({ followers: project.followers, duration, capacity, use })
}

/** Activities above which only critical path and whole work are counted. */
const MOST = 400

export function boundOf({ followers, duration, capacity, use }: Relaxed): number {
  const order = inOrder(followers) ?? new Int32Array(0)
  const tail = longest(followers, duration, order.slice().reverse())
  const ahead = longest(reversed(followers), duration, order)
  const width = capacity.length
  let bound = 0
  for (const way of tail) bound = Math.max(bound, way)
  for (let r = 0; r < width; r++) {
    let work = 0
    duration.forEach((lasts, a) => {
      work += lasts * at(use, a * width + r)
    })
    if (at(capacity, r) > 0) bound = Math.max(bound, Math.ceil(work / at(capacity, r)))
  }
  if (duration.length > MOST) return bound
  const head = Int32Array.from(ahead, (way, a) => way - at(duration, a))
  let low = bound
  // One after the other always fits, so nothing above the sum is refuted unless something never fits at all.
  const sum = duration.reduce((all, lasts) => all + lasts, 0)
  for (;;) {
    let over = false
    for (let r = 0; r < width && !over; r++) {
      over = isRefuted(low, r, { followers, duration, capacity, use }, head, tail)
    }
    if (!over || low >= sum) return low
    low++
  }
}

/** Whether length T is refuted by resource r. */
function isRefuted(
  T: number,
  r: number,
  { duration, capacity, use }: Relaxed,
  head: Int32Array,
  tail: Int32Array,
): boolean {
  const width = capacity.length
  const most = at(capacity, r)
  const those: number[] = []
  duration.forEach((lasts, a) => {
    if (lasts > 0 && at(use, a * width + r) > 0) those.push(a)
  })
  const from = [...new Set(those.flatMap((a) => [at(head, a), T - at(tail, a)]))]
  const to = [...new Set(those.flatMap((a) => [T - at(tail, a) + at(duration, a), at(head, a) + at(duration, a)]))]
  for (const t1 of from) {
    for (const t2 of to) {
      if (t2 <= t1) continue
      let work = 0
      for (const a of those) {
        const lasts = at(duration, a)
        const early = Math.min(lasts, at(head, a) + lasts - t1)
        const late = Math.min(lasts, t2 - T + at(tail, a))
        const part = Math.min(early, late, t2 - t1)
        if (part > 0) work += part * at(use, a * width + r)
      }
      if (work > most * (t2 - t1)) return true
    }
  }
  return false
}
