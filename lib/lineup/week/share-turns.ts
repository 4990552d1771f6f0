/**
 * Turns that several days want and only some can have. Each day is solved as if it were alone; where the days together
 * would spend more turns on a step than its hours bear, the turns go to the days that would lose most without them, and
 * the other days are solved again with what is left. So Monday leaves the needle work to the only person who can do
 * nothing else on Thursday.
 *
 * What a day loses is taken from its own line-up: the marks of the turn less those of the best other turn that person
 * could have, everybody else staying where they are. That is an estimate, so afterwards single turns are handed from one
 * day to another, both days are solved again, and what is better stays. All of it is a heuristic: there is no proof of
 * the best week, and whoever calls compares with the days drawn one after the other.
 */
import { appraiseTurn, scoreOf } from '../appraise.ts'
import { roomOf, wayTo } from '../obstacles.ts'
import type { Assignment, Problem, Solution } from '../problem.ts'
import { capTurns, stepKey } from './cap-turns.ts'

/** Most turns of each contested step on one day, by `stepKey`. */
export type Shares = ReadonlyMap<string, number>

/** Passes until the days agree; each deals out what the former one left contested. */
const PASSES = 4

/** People who work on a step together in one shift: they come or stay away together. */
interface Group {
  readonly day: number
  readonly size: number
  /** Marks that the day loses for each of them without this step. */
  readonly regret: number
}

/** Single turns handed from day to day and tried, at most. */
const TRIES = 16

type Drawn = Pick<Solution, 'lineUp' | 'score'>

/**
 * Deals out the turns of the week.
 *
 * @param days the days' problems in the order of time, with the same ids for the same people and steps
 * @param left turns that each step has left over all the days, by `stepKey`
 * @param solve draws one day up
 */
export function shareTurns(
  days: readonly Problem[],
  left: ReadonlyMap<string, number>,
  solve: (problem: Problem) => Drawn,
): readonly Shares[] {
  const shares = days.map(() => new Map<string, number>())
  const limited = (day: number): Problem => capTurns(at(days, day), new Map([...left, ...at(shares, day)]))
  const drawn = days.map((_, day) => solve(limited(day)))
  for (let pass = 0; pass < PASSES; pass++) {
    const again = new Set<number>()
    for (const key of contested(drawn, left)) {
      const groups = days.flatMap((_, day) => groupsOf(limited(day), at(drawn, day).lineUp, key, day))
      const dealt = deal(groups, left.get(key) ?? 0)
      days.forEach((_, day) => {
        const share = dealt.get(day) ?? 0
        if (share < usesOf(at(drawn, day), key)) again.add(day)
        at(shares, day).set(key, share)
      })
    }
    if (again.size === 0) break
    for (const day of again) drawn[day] = solve(limited(day))
  }
  handOver(days, left, shares, drawn, (day) => solve(limited(day)))
  return shares
}

const usesOf = ({ lineUp }: Drawn, key: string): number => lineUp.filter((turn) => stepKey(turn) === key).length

/** Hands single turns from one day to another while the two days together gain by it; changes `shares` and `drawn`. */
function handOver(
  days: readonly Problem[],
  left: ReadonlyMap<string, number>,
  shares: readonly Map<string, number>[],
  drawn: Drawn[],
  solve: (day: number) => Drawn,
): void {
  const keys = [...new Set(shares.flatMap((share) => [...share.keys()]))].sort()
  const ways = keys.flatMap((key) =>
    days.flatMap((_, from) => days.flatMap((day, to) => (from !== to && offers(day, key) ? [{ key, from, to }] : []))),
  )
  // Twice round: what one hand-over makes possible, the next finds.
  let tries = 0
  for (const { key, from, to } of [...ways, ...ways]) {
    const [has, gets] = [at(shares, from), at(shares, to)]
    const [spare, own] = [has.get(key) ?? 0, gets.get(key) ?? 0]
    // A day that does not use what it has would not use more.
    if (spare === 0 || usesOf(at(drawn, to), key) < own || tries === TRIES) continue
    tries++
    has.set(key, spare - 1)
    gets.set(key, own + 1)
    const before = [at(drawn, from), at(drawn, to)] as const
    const after = [solve(from), solve(to)] as const
    drawn[from] = after[0]
    drawn[to] = after[1]
    const isBetter = after[0].score + after[1].score > before[0].score + before[1].score
    if (isBetter && contested(drawn, left).length === 0) continue
    has.set(key, spare)
    gets.set(key, own)
    drawn[from] = before[0]
    drawn[to] = before[1]
  }
}

/** Whether a day has the step at all, and somebody who may do it. */
function offers(day: Problem, key: string): boolean {
  return day.pieces.some((piece) =>
    piece.steps.some(
      (step) =>
        stepKey({ piece: piece.id, step: step.id }) === key &&
        day.people.some(({ levels }) => (levels[step.technique] ?? 0) >= 1),
    ),
  )
}

/** Steps on which the days together spend more turns than there are, in a fixed order. */
function contested(drawn: readonly Drawn[], left: ReadonlyMap<string, number>): readonly string[] {
  const used = new Map<string, number>()
  for (const turn of drawn.flatMap(({ lineUp }) => lineUp)) used.set(stepKey(turn), (used.get(stepKey(turn)) ?? 0) + 1)
  return [...used]
    .filter(([key, turns]) => turns > (left.get(key) ?? 0))
    .map(([key]) => key)
    .sort()
}

/** The turns go to whoever would lose most; between equals the earlier day has them. */
function deal(groups: readonly Group[], left: number): ReadonlyMap<number, number> {
  const dealt = new Map<number, number>()
  let over = left
  for (const { day, size } of [...groups].sort((a, b) => b.regret - a.regret || a.day - b.day)) {
    if (size > over) continue
    over -= size
    dealt.set(day, (dealt.get(day) ?? 0) + size)
  }
  return dealt
}

function groupsOf(problem: Problem, lineUp: readonly Assignment[], key: string, day: number): readonly Group[] {
  const own = lineUp.filter((turn) => stepKey(turn) === key)
  return [...new Set(own.map(({ shift }) => shift))].map((shift) => {
    const together = own.filter((turn) => turn.shift === shift)
    const regrets = together.map((turn) => regretOf(problem, lineUp, turn))
    return { day, size: together.length, regret: regrets.reduce((sum, marks) => sum + marks, 0) / together.length }
  })
}

/** Marks of a turn above the person's best other work, everybody else staying where they are. */
function regretOf(problem: Problem, lineUp: readonly Assignment[], turn: Assignment): number {
  const room = roomOf(
    problem,
    lineUp.filter((other) => other !== turn),
  )
  let best = 0
  for (const piece of problem.pieces) {
    for (const step of piece.steps) {
      if (piece.id === turn.piece && step.id === turn.step) continue
      for (const place of problem.places) {
        const way = wayTo(room, turn.person, turn.shift, piece, step, place)
        if (way === null || way.changes.length > 0) continue
        best = Math.max(best, scoreOf(appraiseTurn(problem, room.lookup, way.turn)))
        // Where it is done makes no difference to the marks of the turn.
        break
      }
    }
  }
  return scoreOf(appraiseTurn(problem, room.lookup, turn)) - best
}

function at<T>(list: readonly T[], index: number): T {
  const entry = list[index]
  if (entry === undefined) throw new Error(`expected an entry at ${index} of ${list.length}`)
  return entry
}
