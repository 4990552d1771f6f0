/**
 * A project: activities that follow one another and share what is scarce. Three shapes, each as typed arrays:
 * capacities (one or several modes per activity), a crew of people with skills, and a job shop. Times are whole
 * units of the file or of the season's slots; activities are numbered from 0 in the order of the file.
 */
import { at } from '#lib/base'

/** Who follows whom: the followers of `a` are `next[from[a]] … next[from[a + 1] - 1]`. */
export interface Followers {
  readonly from: Int32Array
  readonly next: Int32Array
}

/** Activities with modes that draw on capacities (back after use) and on stocks (used up). */
export interface Project {
  readonly kind: 'project'
  readonly activities: number
  readonly followers: Followers
  /** The modes of `a` are numbered `modeFrom[a] … modeFrom[a + 1] - 1`. */
  readonly modeFrom: Int32Array
  /** By mode. */
  readonly duration: Int32Array
  /** What is there at any time, by resource. */
  readonly capacity: Int32Array
  /** By mode × resources + resource. */
  readonly use: Int32Array
  /** What is there in all, by stock. */
  readonly stock: Int32Array
  /** By mode × stocks + stock. */
  readonly spend: Int32Array
}

/** Activities that each need so many people of so many skills, all of them for the whole duration. */
export interface CrewProject {
  readonly kind: 'crew'
  readonly activities: number
  readonly followers: Followers
  /** By activity. */
  readonly duration: Int32Array
  readonly skills: number
  /** People wanted, by activity × skills + skill; a person stands in for one skill at a time. */
  readonly need: Int32Array
  readonly people: number
  /** 1 where the person has the skill, by person × skills + skill. */
  readonly has: Int32Array
}

/** Jobs whose operations follow one another, each on a machine that does one thing at a time. */
export interface JobShop {
  readonly kind: 'shop'
  readonly jobs: number
  readonly machines: number
  /** The operations of job `j` are `jobFrom[j] … jobFrom[j + 1] - 1`, in their order. */
  readonly jobFrom: Int32Array
  /** By operation. */
  readonly machine: Int32Array
  readonly duration: Int32Array
}

/** Arcs as a table; each arc once, however often it is named. */
export function toFollowers(count: number, arcs: readonly (readonly [number, number])[]): Followers {
  const seen = new Set<number>()
  const once = arcs.filter(([a, b]) => {
    const key = a * count + b
    if (seen.has(key)) return false
    seen.add(key)
    return true
  })
  const from = new Int32Array(count + 1)
  for (const [a] of once) from[a + 1] = at(from, a + 1) + 1
  for (let a = 0; a < count; a++) from[a + 1] = at(from, a + 1) + at(from, a)
  const next = new Int32Array(once.length)
  const filled = from.slice()
  for (const [a, b] of once) {
    next[at(filled, a)] = b
    filled[a] = at(filled, a) + 1
  }
  return { from, next }
}

/** The same arcs the other way round. */
export function reversed({ from, next }: Followers): Followers {
  const count = from.length - 1
  const back = new Int32Array(count + 1)
  for (const b of next) back[b + 1] = at(back, b + 1) + 1
  for (let a = 0; a < count; a++) back[a + 1] = at(back, a + 1) + at(back, a)
  const filled = back.slice()
  const sources = new Int32Array(next.length)
  for (let a = 0; a < count; a++) {
    for (let i = at(from, a); i < at(from, a + 1); i++) {
      const b = at(next, i)
      sources[at(filled, b)] = a
      filled[b] = at(filled, b) + 1
    }
  }
  return { from: back, next: sources }
}

/** The activities in an order in which each comes after all before it; null when the arcs go in a circle. */
export function inOrder(followers: Followers): Int32Array | null {
  const { from, next } = followers
  const count = from.length - 1
  const waiting = new Int32Array(count)
  for (const b of next) waiting[b] = at(waiting, b) + 1
  const order = new Int32Array(count)
  let filled = 0
  for (let a = 0; a < count; a++) if (at(waiting, a) === 0) order[filled++] = a
  for (let done = 0; done < filled; done++) {
    const a = at(order, done)
    for (let i = at(from, a); i < at(from, a + 1); i++) {
      const b = at(next, i)
      waiting[b] = at(waiting, b) - 1
      if (at(waiting, b) === 0) order[filled++] = b
    }
  }
  return filled === count ? order : null
}
