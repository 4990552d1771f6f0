// Projects of all kinds, small ones at random: what is answered is always a schedule, the bound is never above the
// shortest there is, and on tiny projects the search finds the shortest.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { type Random, seededRandom } from '#lib/base'
import {
  type CrewProject,
  checkCrew,
  checkProject,
  checkShop,
  type JobShop,
  type Project,
  parseCrewData,
  parseCrewTasks,
  parsePsplib,
  parseShop,
  solveCrew,
  solveProject,
  solveShop,
} from '#lib/season'
import { toFollowers } from '../../../lib/season/project/project.ts'
import { root } from '../../kit/server.ts'

const below = (random: Random, count: number) => random.below(count)

function someArcs(random: Random, count: number): [number, number][] {
  const arcs: [number, number][] = []
  for (let b = 1; b < count; b++) for (let a = 0; a < b; a++) if (below(random, 5) === 0) arcs.push([a, b])
  return arcs
}

/** A project of a few activities; with stocks and up to three modes when `isMulti`. */
function someProject(random: Random, most: number, isMulti = false): Project {
  const activities = 2 + below(random, most - 1)
  const modes = Array.from({ length: activities }, () => (isMulti ? 1 + below(random, 3) : 1))
  const total = modes.reduce((sum, count) => sum + count, 0)
  const capacity = [1 + below(random, 4), 1 + below(random, 200)]
  const modeFrom = new Int32Array(activities + 1)
  modes.forEach((count, a) => {
    modeFrom[a + 1] = (modeFrom[a] ?? 0) + count
  })
  return {
    kind: 'project',
    activities,
    followers: toFollowers(activities, someArcs(random, activities)),
    modeFrom,
    duration: Int32Array.from({ length: total }, () => below(random, 6)),
    capacity: Int32Array.from(capacity),
    use: Int32Array.from({ length: total * 2 }, (_, i) => below(random, (capacity[i % 2] ?? 0) + 1)),
    stock: Int32Array.from(isMulti ? [3 * activities] : []),
    spend: Int32Array.from({ length: isMulti ? total : 0 }, () => below(random, 5)),
  }
}

function someCrew(random: Random): CrewProject {
  const activities = 2 + below(random, 6)
  const [skills, people] = [1 + below(random, 3), 1 + below(random, 5)]
  return {
    kind: 'crew',
    activities,
    followers: toFollowers(activities, someArcs(random, activities)),
    duration: Int32Array.from({ length: activities }, () => below(random, 6)),
    skills,
    need: Int32Array.from({ length: activities * skills }, () => below(random, 3) >> 1),
    people,
    has: Int32Array.from({ length: people * skills }, () => below(random, 2)),
  }
}

function someShop(random: Random): JobShop {
  const [jobs, machines] = [1 + below(random, 4), 1 + below(random, 4)]
  const lengths = Array.from({ length: jobs }, () => below(random, 5))
  const total = lengths.reduce((sum, count) => sum + count, 0)
  const jobFrom = new Int32Array(jobs + 1)
  lengths.forEach((count, j) => {
    jobFrom[j + 1] = (jobFrom[j] ?? 0) + count
  })
  return {
    kind: 'shop',
    jobs,
    machines,
    jobFrom,
    machine: Int32Array.from({ length: total }, () => below(random, machines)),
    duration: Int32Array.from({ length: total }, () => below(random, 9)),
  }
}

/** The shortest length by every order there is: some list of the activities always makes it (Kolisch 1996). */
function shortest(project: Project): number {
  const { activities, followers, duration, use, capacity } = project
  const before = Array.from({ length: activities }, () => [] as number[])
  for (let a = 0; a < activities; a++) {
    for (let i = followers.from[a] ?? 0; i < (followers.from[a + 1] ?? 0); i++) before[followers.next[i] ?? 0]?.push(a)
  }
  let best = Number.POSITIVE_INFINITY
  const start = new Map<number, number>()
  const fits = (a: number, from: number): boolean => {
    for (let t = from; t < from + (duration[a] ?? 0); t++) {
      for (let r = 0; r < capacity.length; r++) {
        let used = use[a * capacity.length + r] ?? 0
        for (const [b, its] of start) {
          if (its <= t && t < its + (duration[b] ?? 0)) used += use[b * capacity.length + r] ?? 0
        }
        if (used > (capacity[r] ?? 0)) return false
      }
    }
    return true
  }
  const place = (length: number): void => {
    if (length >= best) return
    if (start.size === activities) {
      best = length
      return
    }
    for (let a = 0; a < activities; a++) {
      if (start.has(a) || before[a]?.some((b) => !start.has(b))) continue
      let time = Math.max(0, ...(before[a] ?? []).map((b) => (start.get(b) ?? 0) + (duration[b] ?? 0)))
      while (!fits(a, time)) time++
      start.set(a, time)
      place(Math.max(length, time + (duration[a] ?? 0)))
      start.delete(a)
    }
  }
  place(0)
  return best
}

describe('S schedules of projects', () => {
  test('S 10 000 random projects, crews and shops never get one that breaks a rule, nor one below the bound', () => {
    for (let seed = 0; seed < 2500; seed++) {
      const random = seededRandom(seed)
      const budget = { seed, schedules: 40 }
      for (const isMulti of [false, true]) {
        const project = someProject(random, 9, isMulti)
        const answer = solveProject(project, budget)
        if (answer.start === null) continue
        expect(checkProject(project, answer.start, answer.mode, answer.length), `seed ${seed}`).toEqual([])
        expect(answer.length, `seed ${seed}`).toBeGreaterThanOrEqual(answer.bound)
      }
      const crew = someCrew(random)
      const staffed = solveCrew(crew, budget)
      if (staffed.start !== null) {
        expect(checkCrew(crew, staffed.start, staffed.people, staffed.length), `seed ${seed}`).toEqual([])
        expect(staffed.length, `seed ${seed}`).toBeGreaterThanOrEqual(staffed.bound)
      }
      const shop = someShop(random)
      const run = solveShop(shop, budget)
      expect(checkShop(shop, run.start, run.length), `seed ${seed}`).toEqual([])
      expect(run.length, `seed ${seed}`).toBeGreaterThanOrEqual(run.bound)
    }
  })

  test('S on tiny projects the search finds the shortest that any order gives, and the bound is not above it', () => {
    for (let seed = 0; seed < 150; seed++) {
      const project = someProject(seededRandom(seed), 6)
      const answer = solveProject(project, { seed, schedules: 2000 })
      const least = shortest(project)
      expect(answer.length, `seed ${seed}`).toBe(least)
      expect(answer.bound, `seed ${seed}`).toBeLessThanOrEqual(least)
    }
  })

  test('S equal seeds give equal answers, and what was said on the way is the last', () => {
    for (let seed = 0; seed < 20; seed++) {
      const project = someProject(seededRandom(seed), 20)
      const said: number[] = []
      const once = solveProject(project, { seed, schedules: 300, onBetter: (length) => said.push(length) })
      expect(solveProject(project, { seed, schedules: 300 })).toEqual(once)
      expect(said.at(-1)).toBe(once.length)
      expect(said).toEqual([...said].sort((a, b) => b - a))
    }
  })

  test('S more of a resource never raises the bound', () => {
    for (let seed = 0; seed < 300; seed++) {
      const project = someProject(seededRandom(seed), 12)
      const more = { ...project, capacity: Int32Array.from(project.capacity, (amount) => amount + 1) }
      const budget = { seed, schedules: 1 }
      expect(solveProject(more, budget).bound, `seed ${seed}`).toBeLessThanOrEqual(solveProject(project, budget).bound)
    }
  })

  test('S a cancelled search still answers a schedule', () => {
    const project = someProject(seededRandom(7), 30)
    const answer = solveProject(project, { seed: 1, schedules: 1e9, isCancelled: () => true })
    expect(checkProject(project, answer.start ?? [], answer.mode, answer.length)).toEqual([])
  })

  test('S the checker sees what is wrong', () => {
    const project = someProject(seededRandom(3), 9)
    const { start, mode, length } = solveProject(project, { seed: 1, schedules: 40 })
    if (start === null) throw new Error('no schedule')
    expect(checkProject(project, start, mode, length + 1)).not.toEqual([])
    expect(
      checkProject(
        project,
        start.map(() => -1),
        mode,
        length,
      ),
    ).not.toEqual([])
    expect(
      checkProject(
        project,
        start,
        mode.map(() => 9),
        length,
      ),
    ).not.toEqual([])
  })
})

/** Proven optima; source in tests/data/psplib/README.md and known.csv. */
test.each([
  ['j30/j301_1.sm', 43],
  ['j30/j3013_1.sm', 58],
  ['j30/j3045_2.sm', 125],
  ['j60/j605_1.sm', 76],
  ['j30mm/j3010_4.mm', 36],
])('S %s comes within two hundredths of its proven optimum %i', (file, optimum) => {
  const read = parsePsplib(readFileSync(join(root, 'tests/data/psplib', file), 'utf8'))
  if (!read.isGood) throw new Error(read.fault.message)
  const answer = solveProject(read.value, { seed: 1, schedules: 20_000 })
  expect(answer.length).toBeGreaterThanOrEqual(optimum)
  expect(answer.length).toBeLessThanOrEqual(optimum * 1.02)
  expect(answer.bound).toBeLessThanOrEqual(optimum)
})

/** Invented, in the layouts of the published files. */
const SHOP = '2 2\n0 3 1 2\n1 2 0 4\n'
const TASKS = `ResourceID Salary Skills
1 10.0 Q0: 2 Q1: 0
2 12.0 Q1: 1
====
TaskID Duration Skill Predecessor IDs
1 4 Q0: 1
2 3 Q1: 1 1
3 5 Q1: 0
====
`
const DATA = `nActs = 3; dur = [0,4,0]; nSkills = 2;
sreq = [| 0,0, | 1,1, | 0,0, |]; nResources = 2;
mastery = [| true,true, | true,false, |];
nPrecs = 2; pred = [1,2]; succ = [2,3];`

test('S the other layouts are read, and damaged ones are refused with a line, never a crash', () => {
  const readers = [
    [SHOP, parseShop],
    [TASKS, parseCrewTasks],
    [DATA, parseCrewData],
  ] as const
  for (const [text, parse] of readers) {
    expect(parse(text).isGood).toBe(true)
    const random = seededRandom(5)
    for (let run = 0; run < 300; run++) {
      const from = random.below(text.length)
      const damaged =
        text.slice(0, from) +
        ['', 'x', '-1', '|', '99', '=', '\n'][random.below(7)] +
        text.slice(from + random.below(9))
      const read = parse(damaged)
      if (!read.isGood) expect(read.fault.message).toMatch(/^expected/)
    }
  }
  const tasks = parseCrewTasks(TASKS)
  if (!tasks.isGood) throw new Error(tasks.fault.message)
  // Only the first person may do the first task and only the second the second: eight hours, whoever does the third.
  const crew = solveCrew(tasks.value, { seed: 1, schedules: 50 })
  expect([crew.length, crew.people.slice(0, 2)]).toEqual([8, [[1], [2]]])
  const shop = parseShop(SHOP)
  if (!shop.isGood) throw new Error(shop.fault.message)
  expect(solveShop(shop.value, { seed: 1, schedules: 50 }).length).toBe(7)
})
