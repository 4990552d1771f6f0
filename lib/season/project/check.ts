/**
 * The checker: goes over an answer with the file's numbers and shares no code with the search. Every time unit is counted
 * by itself, slowly and plainly. Answers the faults in words for the developer; an empty list is a schedule.
 */
import type { CrewProject, Followers, JobShop, Project } from './project.ts'

/** Faults beyond which counting stops. */
const MOST = 20

/** Checks starts (by activity) and modes (by activity, from 1). */
export function checkProject(
  project: Project,
  start: readonly number[],
  mode: readonly number[],
  length: number,
): readonly string[] {
  const faults: string[] = []
  const { activities, modeFrom, capacity, stock } = project
  if (start.length !== activities || mode.length !== activities) return ['wrong number of activities']
  const chosen = mode.map((one, a) => (modeFrom[a] ?? 0) + one - 1)
  chosen.forEach((one, a) => {
    if (!Number.isInteger(one) || one < (modeFrom[a] ?? 0) || one >= (modeFrom[a + 1] ?? 0))
      faults.push(`activity ${a + 1} has no mode ${mode[a]}`)
  })
  if (faults.length > 0) return faults
  const lasts = chosen.map((one) => project.duration[one] ?? 0)
  faults.push(...checkTimes(project.followers, start, lasts, length))
  for (let s = 0; s < stock.length; s++) {
    const spent = chosen.reduce((sum, one) => sum + (project.spend[one * stock.length + s] ?? 0), 0)
    if (spent > (stock[s] ?? 0)) faults.push(`stock ${s + 1}: ${spent} of ${stock[s]}`)
  }
  for (let r = 0; r < capacity.length; r++) {
    const used = new Map<number, number>()
    start.forEach((time, a) => {
      const amount = project.use[(chosen[a] ?? 0) * capacity.length + r] ?? 0
      for (let t = time; amount > 0 && t < time + (lasts[a] ?? 0); t++) used.set(t, (used.get(t) ?? 0) + amount)
    })
    for (const [t, amount] of used)
      if (amount > (capacity[r] ?? 0)) faults.push(`resource ${r + 1} at ${t}: ${amount} of ${capacity[r]}`)
  }
  return faults.slice(0, MOST)
}

/** Checks starts and people (by activity, from 1); who of an activity serves which skill is looked for here. */
export function checkCrew(
  project: CrewProject,
  start: readonly number[],
  people: readonly (readonly number[])[],
  length: number,
): readonly string[] {
  const { activities, skills } = project
  if (start.length !== activities || people.length !== activities) return ['wrong number of activities']
  const lasts = Array.from(project.duration)
  const faults = [...checkTimes(project.followers, start, lasts, length)]
  const works: { readonly from: number; readonly to: number; readonly a: number }[][] = Array.from(
    { length: project.people },
    () => [],
  )
  people.forEach((crew, a) => {
    if (new Set(crew).size !== crew.length) faults.push(`activity ${a + 1} has somebody twice`)
    const wanted: number[] = []
    for (let s = 0; s < skills; s++) for (let k = 0; k < (project.need[a * skills + s] ?? 0); k++) wanted.push(s)
    if (wanted.length !== crew.length)
      faults.push(`activity ${a + 1} has ${crew.length} people, wants ${wanted.length}`)
    else if (!canServe(project, crew, wanted)) faults.push(`activity ${a + 1}: its people do not have its skills`)
    for (const p of crew) {
      const its = works[p - 1]
      if (its === undefined) faults.push(`activity ${a + 1}: no person ${p}`)
      else if ((lasts[a] ?? 0) > 0) its.push({ from: start[a] ?? 0, to: (start[a] ?? 0) + (lasts[a] ?? 0), a })
    }
  })
  works.forEach((its, p) => {
    its.sort((x, y) => x.from - y.from)
    its.forEach((one, i) => {
      const before = its[i - 1]
      if (before && before.to > one.from)
        faults.push(`person ${p + 1} is on ${before.a + 1} and ${one.a + 1} at ${one.from}`)
    })
  })
  return faults.slice(0, MOST)
}

/** Checks starts by operation, job by job. */
export function checkShop(shop: JobShop, start: readonly number[], length: number): readonly string[] {
  const faults: string[] = []
  if (start.length !== shop.machine.length) return ['wrong number of operations']
  const on: { readonly from: number; readonly to: number; readonly o: number }[][] = Array.from(
    { length: shop.machines },
    () => [],
  )
  let end = 0
  for (let j = 0; j < shop.jobs; j++) {
    let ready = 0
    for (let o = shop.jobFrom[j] ?? 0; o < (shop.jobFrom[j + 1] ?? 0); o++) {
      const from = start[o] ?? -1
      if (!Number.isInteger(from) || from < ready) faults.push(`operation ${o} begins at ${from}, before ${ready}`)
      ready = from + (shop.duration[o] ?? 0)
      if (ready > from) on[shop.machine[o] ?? 0]?.push({ from, to: ready, o })
      end = Math.max(end, ready)
    }
  }
  for (const its of on) {
    its.sort((x, y) => x.from - y.from)
    its.forEach((one, i) => {
      const before = its[i - 1]
      if (before && before.to > one.from) faults.push(`operations ${before.o} and ${one.o} overlap at ${one.from}`)
    })
  }
  if (end !== length) faults.push(`ends at ${end}, not at ${length}`)
  return faults.slice(0, MOST)
}

function checkTimes(
  { from, next }: Followers,
  start: readonly number[],
  lasts: readonly number[],
  length: number,
): readonly string[] {
  const faults: string[] = []
  start.forEach((time, a) => {
    if (!Number.isInteger(time) || time < 0) faults.push(`activity ${a + 1} begins at ${time}`)
    for (let i = from[a] ?? 0; i < (from[a + 1] ?? 0); i++) {
      const b = next[i] ?? 0
      if ((start[b] ?? -1) < time + (lasts[a] ?? 0)) faults.push(`activity ${b + 1} begins before ${a + 1} ends`)
    }
  })
  const end = start.reduce((most, time, a) => Math.max(most, time + (lasts[a] ?? 0)), 0)
  if (end !== length) faults.push(`ends at ${end}, not at ${length}`)
  return faults
}

function canServe(project: CrewProject, crew: readonly number[], wanted: readonly number[]): boolean {
  // Largest matching by trying all ways through, wanted skill by wanted skill, moving those already placed.
  const holder = new Map<number, number>()
  const place = (k: number, tried: Set<number>): boolean =>
    crew.some((p) => {
      if (tried.has(p) || project.has[(p - 1) * project.skills + (wanted[k] ?? 0)] !== 1) return false
      tried.add(p)
      const held = holder.get(p)
      if (held !== undefined && !place(held, tried)) return false
      holder.set(p, k)
      return true
    })
  return wanted.every((_, k) => place(k, new Set()))
}
