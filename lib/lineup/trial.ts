/**
 * What it costs a changed day to have somebody or something in it: the day is searched with the turn in it and with the
 * person or piece kept out. Two short searches may decide against it. Before it is called as good, the day without it
 * has to answer for more: on a small day whatever could still beat it is closed in on, searched and parted, on a large
 * one it is searched for longer.
 */
import { scoreOf, unmetMusts } from './appraise.ts'
import { closeIn, narrowed, proveRest } from './bound/proof.ts'
import { canKeep } from './clash.ts'
import type { Assignment, Forbid, MustRef, Problem, Solution } from './problem.ts'
import { compile } from './solve/compile.ts'
import { DEFAULT_SEED } from './solve/index.ts'
import type { Model } from './solve/model.ts'
import { search } from './solve/search.ts'
import { toSolution } from './solve/solution.ts'
import { startOf } from './solve/start.ts'

/** Searches in all, two for each entry tried: so many turns altogether, that a large lab is not kept waiting. */
const SEARCHED_TURNS = 4000
const SEARCHES_MAX = 80
const STEPS = 1500
const HEAT = 0.2
/** Against what would be called as good: a longer search, from as hot as a draw-up's. */
const LONGER_STEPS = 6000
/** Days of at most so many turns are closed in on, which takes a tenth of a second each time there. */
const CLOSED_TURNS = 24
/** What is left is parted so often at one turn: a part takes longer, and does less, the more turns there are. */
const PARTS = 5000
/** Ways to give up as many musts that are gone through; where there are more it is only searched. */
const WAYS_MAX = 60

interface Found {
  readonly unmet: number
  readonly score: number
}

/** Searches a changed day with somebody or something in it, and without. */
export class Trial {
  readonly #present: Solution
  readonly #isCancelled: () => boolean
  #searches: number

  constructor({ people, shifts }: Problem, present: Solution, isCancelled: () => boolean) {
    this.#searches = Math.min(SEARCHES_MAX, Math.ceil(SEARCHED_TURNS / Math.max(1, people.length * shifts.length)))
    this.#present = present
    this.#isCancelled = isCancelled
  }

  /** What it costs to have the first turn in, in thousandths, rounded up; null when the searches are used up. */
  lossPerMille(
    problem: Problem,
    turns: readonly Assignment[],
    isSame: boolean,
    forbid: Partial<Forbid>,
  ): number | null {
    const [own] = turns
    if (own === undefined || this.#searches < 2 || this.#isCancelled()) return null
    this.#searches -= 2
    const { lineUp } = this.#present
    const { person, shift, piece, step, place } = own
    const held = { ...problem, holds: [...problem.holds, { person, shift, piece, step, place }] }
    const inside = bestOf(compile(held), [...lineUp, ...turns], STEPS, HEAT)
    if (isSame && this.#present.isProven)
      return lossOf(inside, { unmet: this.#present.unmet.length, score: this.#present.score })
    const keptOut = { person: null, shift: null, piece: null, step: null, place: null, ...forbid }
    const without = { ...problem, forbids: [...problem.forbids, keptOut] }
    const model = compile(without)
    const loss = lossOf(inside, bestOf(model, lineUp, STEPS, HEAT))
    return loss > 0 ? loss : closerLoss(model, inside, lineUp)
  }
}

function bestOf(model: Model, lineUp: readonly Assignment[], steps: number, heat: number): Found {
  const start = startOf(model, lineUp)
  const snapshot = search(model, { seed: DEFAULT_SEED, steps, restarts: 1, heat, start })
  const found = toSolution(model, snapshot)
  return { unmet: found.unmet.length, score: scoreOf(found.parts) }
}

/** Whatever has to be given up for it outweighs all marks. */
function lossOf(inside: Found, outside: Found): number {
  if (inside.unmet !== outside.unmet) return inside.unmet < outside.unmet ? 0 : 1000
  if (inside.score >= outside.score) return 0
  return Math.ceil((1000 * (outside.score - inside.score)) / Math.max(1, outside.score))
}

/** The loss of an inside that a short search found no worse, after a closer look at the day without it. */
function closerLoss(model: Model, inside: Found, lineUp: readonly Assignment[]): number | null {
  const without = model.problem
  const musts = unmetMusts(without, [])
  const ways = waysToDrop(musts, inside.unmet)
  if (without.people.length * without.shifts.length > CLOSED_TURNS || ways === null)
    return lossOf(inside, bestOf(model, lineUp, LONGER_STEPS, 1))
  const fewer = inside.unmet === 0 ? [] : (waysToDrop(musts, inside.unmet - 1) ?? [])
  for (const dropped of fewer) {
    const isKept = canKeep(
      without,
      musts.filter((must) => !dropped.includes(must)),
    )
    if (isKept !== false) return isKept === null ? null : 1000
  }
  let isKnown = true
  for (const dropped of ways) {
    const rest = dropped.length === 0 ? model : compile(withoutMusts(without, dropped))
    const loss = lossAmong(rest, inside.score, lineUp)
    if (loss !== null && loss > 0) return loss
    if (loss === null) isKnown = false
  }
  return isKnown ? 0 : null
}

/**
 * By how much a line-up that keeps every must is better than `score`, in thousandths; 0 when it is shown that none is,
 * null when neither could be.
 */
function lossAmong(model: Model, score: number, lineUp: readonly Assignment[]): number | null {
  const rest = closeIn(model, { score, keepsMusts: true })
  const parts = Math.ceil(PARTS / (model.persons * model.shifts) ** 2)
  if (rest.field === null || proveRest(model, rest, { parts }) <= score) return 0
  const best = bestOf(narrowed(model, rest).model, lineUp, LONGER_STEPS, 1)
  const loss = best.unmet > 0 ? 0 : lossOf({ unmet: 0, score }, best)
  return loss > 0 ? loss : null
}

/** Every way to choose so many of the musts; null when there are too many ways. */
function waysToDrop(musts: readonly MustRef[], count: number): readonly (readonly MustRef[])[] | null {
  let ways: (readonly MustRef[])[] = [[]]
  for (let n = 0; n < count; n++) {
    ways = ways.flatMap((way) => {
      const last = way.at(-1)
      return musts.slice(last === undefined ? 0 : musts.indexOf(last) + 1).map((must) => [...way, must])
    })
    if (ways.length > WAYS_MAX) return null
  }
  return ways
}

function withoutMusts(problem: Problem, dropped: readonly MustRef[]): Problem {
  const rest = <Must>(list: readonly Must[], kind: MustRef['kind']): Must[] =>
    list.filter((_, index) => !dropped.some((one) => one.kind === kind && one.index === index))
  return {
    ...problem,
    begun: rest(problem.begun, 'begun'),
    holds: rest(problem.holds, 'hold'),
    claims: rest(problem.claims, 'claim'),
    clocks: rest(problem.clocks, 'clock'),
  }
}
