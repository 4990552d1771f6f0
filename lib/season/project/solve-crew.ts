/**
 * Projects with a crew: as for capacities, but an activity begins only when all its seats find people who are free for
 * its whole duration. Whom to spare is a choice of the search: an order of the people, begun with the least versatile.
 */
import { at, type Random } from '#lib/base'
import { boundOf } from './bound.ts'
import { type Budget, climb } from './climb.ts'
import { pack } from './packed.ts'
import { type Side, sidesOf, TOO_LONG } from './pass.ts'
import type { CrewProject } from './project.ts'
import { type Staffing, seatsOf, staff } from './staff.ts'

export interface CrewAnswer {
  /** By activity; null when some activity can never be staffed. */
  readonly start: readonly number[] | null
  /** People by activity, from 1 as in the files. */
  readonly people: readonly (readonly number[])[]
  readonly length: number
  readonly bound: number
  readonly schedules: number
}

export function solveCrew(project: CrewProject, budget: Budget): CrewAnswer {
  const { activities, people, duration } = project
  const seats = seatsOf(project)
  const everybody = new Int32Array(people).fill(1)
  const order = byVersatility(project)
  const seated = new Int32Array(seats.skill.length)
  for (let a = 0; a < activities; a++) {
    if (!staff(project, seats, a, everybody, order, seated))
      return { start: null, people: [], length: 0, bound: 0, schedules: 0 }
  }
  const bound = crewBound(project)
  let horizon = 0
  for (const lasts of duration) horizon += lasts
  const none = new Int32Array(0)
  const sides = sidesOf(project.followers, duration, pack(none, none, activities))
  const free = new Int32Array(people)
  const busy: Int32Array[] = Array.from({ length: people }, () => new Int32Array(2 * activities))
  const filled = new Int32Array(people)
  const best = seated.slice()
  const choice = order
  const answer = climb(
    {
      sides,
      horizon,
      bound,
      choice,
      vary: (random: Random) => {
        const i = random.below(people)
        const j = Math.min(people - 1, Math.max(0, i + random.below(9) - 4))
        const held = at(choice, i)
        choice[i] = at(choice, j)
        choice[j] = held
      },
      run: (end, list, start, limit, done) =>
        crewPass({ project, seats, side: sides[end], list, start, limit, choice, free, busy, filled, seated }, done),
      keep: () => best.set(seated),
    },
    budget,
  )
  return {
    start: answer.start === null ? null : Array.from(answer.start),
    people: Array.from({ length: activities }, (_, a) =>
      Array.from(best.slice(at(seats.from, a), at(seats.from, a + 1)), (p) => p + 1),
    ),
    length: answer.length,
    bound,
    schedules: answer.schedules,
  }
}

interface CrewPass {
  readonly project: CrewProject
  readonly seats: Staffing
  readonly side: Side
  readonly list: Int32Array
  readonly start: Int32Array
  readonly limit: number
  readonly choice: Int32Array
  readonly free: Int32Array
  /** By person: begin and end of each stretch of work, and how many numbers that are. */
  readonly busy: readonly Int32Array[]
  readonly filled: Int32Array
  readonly seated: Int32Array
}

function crewPass(pass: CrewPass, done: { placed: number }): number {
  const { project, seats, side, list, start, limit, choice, free, busy, filled, seated } = pass
  const { before, duration, tail } = side
  filled.fill(0)
  let length = 0
  for (let i = 0; i < list.length; i++) {
    const a = at(list, i)
    const lasts = at(duration, a)
    let time = 0
    for (let k = at(before.from, a); k < at(before.from, a + 1); k++) {
      const b = at(before.next, k)
      time = Math.max(time, at(start, b) + at(duration, b))
    }
    if (lasts > 0) {
      // Only the end of somebody's work can make room, so time goes from one such end to the next.
      for (;;) {
        let later = 1 << 30
        for (let p = 0; p < people(project); p++) {
          const until = blockedUntil(busy[p] as Int32Array, at(filled, p), time, lasts)
          free[p] = until < 0 ? 1 : 0
          if (until >= 0 && until < later) later = until
        }
        if (staff(project, seats, a, free, choice, seated)) break
        time = Math.max(time + 1, later)
        if (time + at(tail, a) >= limit) break
      }
    }
    start[a] = time
    length = Math.max(length, time + lasts)
    if (time + at(tail, a) >= limit) {
      done.placed += i + 1
      return TOO_LONG
    }
    if (lasts === 0) continue
    for (let seat = at(seats.from, a); seat < at(seats.from, a + 1); seat++) {
      const p = at(seated, seat)
      const stretches = busy[p] as Int32Array
      stretches[at(filled, p)] = time
      stretches[at(filled, p) + 1] = time + lasts
      filled[p] = at(filled, p) + 2
    }
  }
  done.placed += list.length
  return length
}

const people = (project: CrewProject): number => project.people

/** The earliest end of a stretch that stands in the way of time … time + lasts; -1 when none does. */
function blockedUntil(stretches: Int32Array, filled: number, time: number, lasts: number): number {
  let until = -1
  for (let k = 0; k < filled; k += 2) {
    const end = at(stretches, k + 1)
    if (at(stretches, k) < time + lasts && end > time && (until < 0 || end < until)) until = end
  }
  return until
}

/** People with the fewest wanted skills first: the others are kept for what only they can do. */
function byVersatility({ people, skills, has, need, duration }: CrewProject): Int32Array {
  const wanted = Array.from({ length: skills }, (_, s) =>
    duration.reduce((sum, d, a) => sum + d * at(need, a * skills + s), 0),
  )
  const worth = Array.from({ length: people }, (_, p) =>
    wanted.reduce((sum, w, s) => sum + w * at(has, p * skills + s), 0),
  )
  return Int32Array.from(worth.keys()).sort((a, b) => (worth[a] ?? 0) - (worth[b] ?? 0) || a - b)
}

/** Skills up to which every set of them counts as a resource of its own. */
const SETS = 5

/** For each set of skills, those who have one of them are as many as can serve it (Hall's condition, as capacities). */
function crewBound({ activities, skills, people, need, has, duration, followers }: CrewProject): number {
  const sets =
    skills <= SETS
      ? Array.from({ length: (1 << skills) - 1 }, (_, k) =>
          Array.from({ length: skills }, (_, s) => s).filter((s) => ((k + 1) >> s) & 1),
        )
      : [
          ...Array.from({ length: skills }, (_, s) => [s]),
          ...Array.from({ length: Math.min(skills, 20) ** 2 }, (_, k) => [k % skills, Math.floor(k / skills)]).filter(
            ([a, b]) => (a ?? 0) < (b ?? 0),
          ),
          Array.from({ length: skills }, (_, s) => s),
        ]
  const capacity = sets.map((set) =>
    Array.from({ length: people }, (_, p) => (set.some((s) => at(has, p * skills + s) === 1) ? 1 : 0)).reduce<number>(
      (a, b) => a + b,
      0,
    ),
  )
  const use = new Int32Array(activities * sets.length)
  for (let a = 0; a < activities; a++) {
    sets.forEach((set, r) => {
      use[a * sets.length + r] = set.reduce((sum, s) => sum + at(need, a * skills + s), 0)
    })
  }
  return boundOf({ followers, duration, capacity: Int32Array.from(capacity), use })
}
