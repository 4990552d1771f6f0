/**
 * One pass of the serial schedule generation scheme: the activities in the order of a list, each as early as what comes
 * before it and what is free allow (Kelley 1963; Kolisch 1996). A backward pass is the same on the project turned round.
 */
import { at } from '#lib/base'
import type { Packed } from './packed.ts'
import { type Followers, inOrder, reversed } from './project.ts'

/** A project with one mode each, seen from one end. */
export interface Side {
  readonly activities: number
  readonly before: Followers
  readonly after: Followers
  readonly duration: Int32Array
  readonly packed: Packed
  /** An order in which each comes after all before it. */
  readonly order: Int32Array
  /** The longest way from an activity's start to the end. */
  readonly tail: Int32Array
}

/** Both ends of a project; `followers` has no circle. */
export function sidesOf(followers: Followers, duration: Int32Array, packed: Packed): readonly [Side, Side] {
  const before = reversed(followers)
  const order = inOrder(followers) ?? new Int32Array(0)
  const back = order.slice().reverse()
  const common = { activities: duration.length, duration, packed }
  return [
    { ...common, before, after: followers, order, tail: longest(followers, duration, back) },
    { ...common, before: followers, after: before, order: back, tail: longest(before, duration, order) },
  ]
}

/** Longest way from each activity (its own duration included) along the arcs; `order` runs against them. */
export function longest({ from, next }: Followers, duration: Int32Array, order: Int32Array): Int32Array {
  const tail = new Int32Array(duration.length)
  for (const a of order) {
    let most = 0
    for (let i = at(from, a); i < at(from, a + 1); i++) most = Math.max(most, at(tail, at(next, i)))
    tail[a] = most + at(duration, a)
  }
  return tail
}

/** The free words over time, kept between passes so that only what was touched is filled again. */
export interface Profile {
  readonly free: Int32Array
  touched: number
}

export function profileFor(packed: Packed, horizon: number): Profile {
  return { free: new Int32Array((horizon + 1) * packed.words), touched: horizon + 1 }
}

/** What `runPass` answers when a schedule cannot become shorter than the limit. */
export const TOO_LONG = 1 << 30

/**
 * Fills `start` in the order of `list` and returns the length, or TOO_LONG as soon as it is known to reach `limit`
 * (then `start` is of no use). `done.placed` counts the activities placed.
 */
export function runPass(
  side: Side,
  profile: Profile,
  list: Int32Array,
  start: Int32Array,
  limit: number,
  done: { placed: number },
  kept = 0,
): number {
  const { before, duration, packed, tail } = side
  const { from, next } = before
  const { words, need, guard } = packed
  const free = profile.free
  clear(profile, packed)
  const count = list.length
  const guardOne = at(guard, 0)
  let touched = 0
  for (let i = 0; i < kept; i++) {
    const a = at(list, i)
    const time = at(start, a)
    const end = time + at(duration, a)
    if (end > touched) touched = end
    if (words === 1) {
      const wanted = at(need, a)
      if (wanted !== 0) for (let s = time; s < end; s++) free[s] = at(free, s) - wanted
    } else take(free, packed, a, time, end)
  }
  for (let i = kept; i < count; i++) {
    const a = at(list, i)
    const lasts = at(duration, a)
    let time = 0
    for (let k = at(from, a), end = at(from, a + 1); k < end; k++) {
      const b = at(next, k)
      const ready = at(start, b) + at(duration, b)
      if (ready > time) time = ready
    }
    if (lasts > 0) {
      if (words === 1) {
        const wanted = at(need, a)
        if (wanted !== 0) {
          for (let s = time, end = time + lasts; s < end; s++) {
            if (((at(free, s) - wanted) & guardOne) !== guardOne) {
              time = s + 1
              end = time + lasts
            }
          }
          for (let s = time, end = time + lasts; s < end; s++) free[s] = at(free, s) - wanted
        }
      } else time = seat(free, packed, a, time, lasts)
    }
    start[a] = time
    if (time + lasts > touched) touched = time + lasts
    if (time + at(tail, a) >= limit) {
      done.placed += i + 1 - kept
      profile.touched = touched
      return TOO_LONG
    }
  }
  done.placed += count - kept
  profile.touched = touched
  return touched
}

/** The earliest time from `time` on at which an activity fits for `lasts`, with its needs taken; several words. */
function seat(free: Int32Array, { words, need, guard }: Packed, a: number, time: number, lasts: number): number {
  for (let s = time, end = time + lasts; s < end; s++) {
    for (let w = 0; w < words; w++) {
      if (((at(free, s * words + w) - at(need, a * words + w)) & at(guard, w)) !== at(guard, w)) {
        time = s + 1
        end = time + lasts
        break
      }
    }
  }
  take(free, { words, need }, a, time, time + lasts)
  return time
}

function take(
  free: Int32Array,
  { words, need }: Pick<Packed, 'words' | 'need'>,
  a: number,
  time: number,
  end: number,
): void {
  for (let s = time; s < end; s++) {
    for (let w = 0; w < words; w++) free[s * words + w] = at(free, s * words + w) - at(need, a * words + w)
  }
}

function clear(profile: Profile, { words, full }: Packed): void {
  const { free } = profile
  if (words === 1) free.fill(at(full, 0), 0, Math.min(free.length, profile.touched + 1))
  else {
    const end = Math.min(free.length, (profile.touched + 1) * words)
    for (let i = 0; i < end; i++) free[i] = at(full, i % words)
  }
}

/**
 * Orders a side's activities by key (start or finish times seen from that side), equal keys by the side's own order, so
 * that the list never breaks an arc. Keys are at least 0 and at most `most`; `bucket` has most + 2 entries.
 */
export function sortInto(side: Side, key: Int32Array, most: number, bucket: Int32Array, list: Int32Array): void {
  bucket.fill(0, 0, most + 2)
  const count = side.activities
  for (let a = 0; a < count; a++) bucket[at(key, a) + 1] = at(bucket, at(key, a) + 1) + 1
  for (let t = 0; t <= most; t++) bucket[t + 1] = at(bucket, t + 1) + at(bucket, t)
  for (let i = 0; i < count; i++) {
    const a = at(side.order, i)
    const k = at(key, a)
    list[at(bucket, k)] = a
    bucket[k] = at(bucket, k) + 1
  }
}
