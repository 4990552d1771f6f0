/**
 * Projects with capacities, one mode or several. The modes are the search's choice besides the order; stocks are kept at
 * every moment, since a mode is only changed to one that the stocks still cover.
 */
import { add, at, type Random, seededRandom } from '#lib/base'
import { boundOfProject } from './bound.ts'
import { type Budget, climb } from './climb.ts'
import { pack } from './packed.ts'
import { longest, profileFor, runPass, sidesOf } from './pass.ts'
import { inOrder, type Project } from './project.ts'

export interface ProjectAnswer {
  /** By activity; null when no modes within the stocks were found. */
  readonly start: readonly number[] | null
  /** By activity, from 1 as in the files. */
  readonly mode: readonly number[]
  readonly length: number
  readonly bound: number
  readonly schedules: number
}

/** Searches for the shortest schedule; anytime, deterministic by seed and schedules. */
export function solveProject(project: Project, budget: Budget): ProjectAnswer {
  const { activities: count, modeFrom, capacity } = project
  const packedModes = pack(capacity, project.use, project.duration.length)
  const { words } = packedModes
  const usable = usableModes(project)
  const choice = Int32Array.from({ length: count }, (_, a) => (usable[a] ?? [])[0] ?? at(modeFrom, a))
  const duration = new Int32Array(count)
  const need = new Int32Array(count * words)
  const least = Int32Array.from({ length: count }, (_, a) =>
    Math.min(...(usable[a] ?? []).map((mode) => at(project.duration, mode))),
  )
  const bound = boundOfProject(project, usable)
  const apply = (): void => {
    for (let a = 0; a < count; a++) {
      const mode = at(choice, a)
      duration[a] = at(project.duration, mode)
      for (let w = 0; w < words; w++) need[a * words + w] = at(packedModes.need, mode * words + w)
    }
  }
  const spent = spentOf(project, choice)
  if (!findModes(project, usable, choice, spent, budget)) {
    return { start: null, mode: [], length: 0, bound, schedules: 0 }
  }
  apply()
  let horizon = 0
  for (let a = 0; a < count; a++) {
    horizon += Math.max(...(usable[a] ?? []).map((mode) => at(project.duration, mode)))
  }
  const packed = { ...packedModes, need }
  const [front, back] = sidesOf(project.followers, duration, packed)
  // Ways to the end by the shortest modes, so that a pass is never given up too early.
  const order = inOrder(project.followers) ?? new Int32Array(0)
  const sides = [
    { ...front, tail: longest(front.after, least, order.slice().reverse()) },
    { ...back, tail: longest(back.after, least, order) },
  ] as const
  const profile = profileFor(packed, horizon)
  const many = Array.from({ length: count }, (_, a) => a).filter((a) => (usable[a] ?? []).length > 1)
  const vary = (random: Random): void => {
    spent.set(spentOf(project, choice))
    for (let tries = 1 + random.below(2); tries > 0; tries--) {
      const a = many[random.below(many.length)] ?? 0
      const its = usable[a] ?? []
      change(project, choice, spent, a, its[random.below(its.length)] ?? at(choice, a))
    }
    apply()
  }
  const answer = climb(
    {
      sides,
      horizon,
      bound,
      choice,
      apply,
      vary: many.length > 0 ? vary : null,
      run: (end, list, start, limit, done) => runPass(sides[end], profile, list, start, limit, done),
    },
    budget,
  )
  return {
    start: answer.start === null ? null : Array.from(answer.start),
    mode: Array.from(answer.choice, (mode, a) => mode - at(modeFrom, a) + 1),
    length: answer.length,
    bound,
    schedules: answer.schedules,
  }
}

/** The modes of each activity that fit the capacities at all. */
function usableModes({ activities, modeFrom, capacity, use }: Project): readonly (readonly number[])[] {
  return Array.from({ length: activities }, (_, a) => {
    const its: number[] = []
    for (let mode = at(modeFrom, a); mode < at(modeFrom, a + 1); mode++) {
      if (capacity.every((most, r) => at(use, mode * capacity.length + r) <= most)) its.push(mode)
    }
    return its
  })
}

function spentOf({ stock, spend }: Project, choice: Int32Array): Int32Array {
  const spent = new Int32Array(stock.length)
  for (const mode of choice) for (let s = 0; s < stock.length; s++) add(spent, s, at(spend, mode * stock.length + s))
  return spent
}

/** Changes a mode when the stocks cover it, or when they were overdrawn and it does not make that worse. */
function change(project: Project, choice: Int32Array, spent: Int32Array, a: number, mode: number): boolean {
  const { stock, spend } = project
  const width = stock.length
  const old = at(choice, a)
  let change = 0
  for (let s = 0; s < width; s++) {
    const now = at(spent, s)
    const then = now + at(spend, mode * width + s) - at(spend, old * width + s)
    change += Math.max(0, then - at(stock, s)) - Math.max(0, now - at(stock, s))
  }
  if (change > 0) return false
  for (let s = 0; s < width; s++) add(spent, s, at(spend, mode * width + s) - at(spend, old * width + s))
  choice[a] = mode
  return true
}

/** Steps of the walk that looks for modes within the stocks. */
const MODE_STEPS = 20_000

function findModes(
  project: Project,
  usable: readonly (readonly number[])[],
  choice: Int32Array,
  spent: Int32Array,
  budget: Budget,
): boolean {
  const random = seededRandom(budget.seed)
  const isWithin = (): boolean => spent.every((amount, s) => amount <= at(project.stock, s))
  for (let step = 0; step < MODE_STEPS && !isWithin(); step++) {
    const a = random.below(project.activities)
    const its = usable[a] ?? []
    change(project, choice, spent, a, its[random.below(its.length)] ?? at(choice, a))
  }
  return isWithin()
}
