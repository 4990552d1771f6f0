/**
 * Musts that cannot be kept, explained: for each one a smallest set of holds, claims, begun turns and clocks that no
 * line-up keeps together, and a smallest set of rules that stands against them. Any must of the set let go, or any of
 * the rules set aside, and the rest can be.
 *
 * Whether a set can be kept is decided by trying all ways to seat it, with the helpers and mentors that its turns ask
 * for and nobody else: whoever is not needed only takes room. The checker judges each try, so that this shares
 * nothing with the search. A set is made smallest by a deletion filter (Chinneck and Dravnieks 1991) after single
 * musts, pairs and, when there are few, triples were tried, so that small sets are found first.
 */
import { type Lookup, lookupOf, minutesIn, unmetMusts } from './appraise.ts'
import type { Assignment, MustRef, Problem } from './problem.ts'
import { type Fault, type RuleCode, verifyRules } from './verify.ts'

export interface Clash {
  readonly musts: readonly MustRef[]
  /** The rules that stand against them; `ids` and amounts as the checker tells them, none where it is not one spot. */
  readonly rules: readonly Fault[]
}

/** Tries in all, so that a large lab's draw-up is not kept waiting: about half a second. */
const TRIES = 20_000
/** Triples are tried as such up to so many musts. */
const FEW_MUSTS = 14

/** Rules in the order in which they are set aside for a smallest set: those that say least to people first. */
const SET_ASIDE: readonly RuleCode[] = [
  'load',
  'length',
  'airLines',
  'exclusive',
  'mixing',
  'mentorLimit',
  'turns',
  'onePieceOnePlace',
  'features',
  'presence',
  'closed',
  'tied',
  'force',
  'classMinutes',
  'noise',
  'vibration',
  'air',
  'forbidden',
  'helpers',
  'mentor',
  'level',
  'seats',
  'onePlace',
]

/** The clashes behind a line-up's unmet musts; a must whose clash could not be told within the tries is left out. */
export function clashesOf(problem: Problem, unmet: readonly MustRef[]): readonly Clash[] {
  if (unmet.length === 0) return []
  const seating = new Seating(problem)
  // What is kept is kept together, so whatever clashes has the unmet must in it, and of the others only kept ones.
  const kept = unmetMusts(problem, []).filter((must) => !unmet.some((one) => isSame(one, must)))
  const clashes: Clash[] = []
  for (const must of unmet) {
    if (clashes.some(({ musts }) => musts.some((one) => isSame(one, must)))) continue
    const musts = smallestSet(seating, must, kept)
    if (musts !== null) clashes.push({ musts, rules: smallestRules(seating, musts) })
  }
  return clashes
}

/** Whether some line-up keeps all of these musts; null when the tries do not tell. */
export function canKeep(problem: Problem, musts: readonly MustRef[]): boolean | null {
  const seating = new Seating(problem)
  const isImpossible = seating.isImpossible(musts)
  return seating.isSpent ? null : !isImpossible
}

function smallestSet(seating: Seating, must: MustRef, others: readonly MustRef[]): readonly MustRef[] | null {
  if (seating.isImpossible([must])) return [must]
  for (const one of others) if (seating.isImpossible([must, one])) return [must, one]
  if (others.length < FEW_MUSTS) {
    for (const [i, one] of others.entries()) {
      for (const two of others.slice(i + 1)) if (seating.isImpossible([must, one, two])) return [must, one, two]
    }
  }
  let set = [must, ...others]
  if (!seating.isImpossible(set)) return null
  for (const one of set) {
    const rest = set.filter((other) => other !== one)
    if (seating.isImpossible(rest)) set = rest
  }
  return seating.isSpent ? null : set
}

function smallestRules(seating: Seating, musts: readonly MustRef[]): readonly Fault[] {
  const aside = new Set<RuleCode>()
  for (const rule of SET_ASIDE) {
    aside.add(rule)
    if (!seating.isImpossible(musts, aside)) aside.delete(rule)
  }
  if (seating.isSpent) return []
  const met = seating.faultsMet(musts, aside)
  const rules = SET_ASIDE.filter((rule) => !aside.has(rule)).flatMap((rule) => {
    const spots = met.filter((fault) => fault.rule === rule)
    return spots.length > 0 ? spots.slice(0, 1) : [bare(rule)]
  })
  if (rules.length > 0) return rules
  // A clock asks for more than the rules do: somebody who is in at its minute, and is not a learner.
  return [bare(musts.some((must) => seating.isAnybodyInFor(must)) ? 'level' : 'presence')]
}

const bare = (rule: RuleCode): Fault => ({ rule, ids: [], found: 0, allowed: 0 })

const isSame = (a: MustRef, b: MustRef): boolean => a.kind === b.kind && a.index === b.index

/** What company repairs, unlike every other fault. */
const isForWantOfCompany = ({ rule, found, allowed }: Fault): boolean =>
  rule === 'mentor' || (rule === 'helpers' && found < allowed)

const isInAt = (presence: Problem['people'][number]['presence'], clock: Problem['clocks'][number]): boolean =>
  presence.some(({ shift, from, to }) => shift === clock.shift && from <= clock.minute && clock.minute <= to)

type Wanted = Omit<Assignment, 'mentor'>

/** Tries to seat musts, and nobody but them and whom they need. */
class Seating {
  readonly #problem: Problem
  readonly #lookup: Lookup
  #tries = TRIES
  #aside: ReadonlySet<RuleCode> = new Set()
  #musts: readonly MustRef[] = []

  constructor(problem: Problem) {
    this.#problem = problem
    this.#lookup = lookupOf(problem)
  }

  /** The tries are used up: what was not found impossible by now is not known. */
  get isSpent(): boolean {
    return this.#tries <= 0
  }

  /** True when no line-up keeps all of them; false when one does, or when the tries are used up. */
  isImpossible(musts: readonly MustRef[], aside: ReadonlySet<RuleCode> = new Set()): boolean {
    this.#musts = musts
    this.#aside = aside
    return this.#seat([]) === null && !this.isSpent
  }

  /** Whether somebody is in at the minute of a clock. */
  isAnybodyInFor({ kind, index }: MustRef): boolean {
    const clock = kind === 'clock' ? this.#problem.clocks[index] : undefined
    return clock !== undefined && this.#problem.people.some(({ presence }) => isInAt(presence, clock))
  }

  /** What the checker finds when the musts are simply seated, each in the first way it names. */
  faultsMet(musts: readonly MustRef[], aside: ReadonlySet<RuleCode>): readonly Fault[] {
    this.#musts = musts
    this.#aside = aside
    const seated: Assignment[] = []
    for (const must of musts) {
      const [first] = this.#open(seated).includes(must) ? this.#waysToKeep(must, seated) : []
      if (first !== undefined) seated.push({ ...first, mentor: null })
    }
    return this.#faults(seated)
  }

  /** A line-up with these turns in which all musts are kept and all rules hold; null when there is none. */
  #seat(seated: readonly Assignment[]): readonly Assignment[] | null {
    if (--this.#tries <= 0) return null
    const faults = this.#faults(seated)
    if (faults.some((fault) => !isForWantOfCompany(fault))) return null
    const [must] = this.#open(seated)
    if (must !== undefined) {
      for (const way of this.#waysToKeep(must, seated)) {
        const found = this.#seat([...seated, { ...way, mentor: null }])
        if (found !== null) return found
      }
      return null
    }
    const [fault] = faults
    if (fault === undefined) return seated
    const next = fault.rule === 'mentor' ? this.#withMentor(seated, fault) : this.#withHelper(seated, fault)
    for (const more of next) {
      const found = this.#seat(more)
      if (found !== null) return found
    }
    return null
  }

  #faults(seated: readonly Assignment[]): readonly Fault[] {
    return verifyRules(this.#problem, seated, this.#lookup).filter(({ rule }) => !this.#aside.has(rule))
  }

  #open(seated: readonly Assignment[]): readonly MustRef[] {
    const unmet = unmetMusts(this.#problem, seated, this.#lookup)
    return this.#musts.filter((must) => unmet.some((one) => isSame(one, must)))
  }

  /** Every turn that would keep a must. A second turn of the same person is a fault, and the checker says so. */
  *#waysToKeep(must: MustRef, seated: readonly Assignment[]): Generator<Wanted> {
    const { begun, holds, claims, clocks, people } = this.#problem
    if (must.kind === 'clock') {
      const clock = clocks[must.index]
      if (clock === undefined) return
      for (const { id, presence, levels } of people) {
        if (!isInAt(presence, clock)) continue
        const turns = this.#turns(
          { person: id, shift: clock.shift, piece: clock.piece, step: clock.step, place: null },
          seated,
        )
        // A learner keeps no clock, however seated: trying them would try without end.
        for (const turn of turns) if (levels[this.#techniqueOf(turn) ?? ''] !== 1) yield turn
      }
      return
    }
    const fixed = (must.kind === 'begun' ? begun : must.kind === 'hold' ? holds : claims)[must.index]
    if (fixed !== undefined) yield* this.#turns(fixed, seated)
  }

  *#turns(of: Problem['holds'][number], seated: readonly Assignment[]): Generator<Wanted> {
    const { person, shift, piece } = of
    const near = seated.find((turn) => turn.piece === piece && turn.shift === shift)
    for (const step of this.#lookup.piece.get(piece)?.steps ?? []) {
      if (of.step !== null && of.step !== step.id) continue
      // Where the piece is already comes first: it cannot be at two places.
      const places = of.place === null ? [...this.#lookup.place.keys()] : [of.place]
      if (near !== undefined && of.place === null)
        places.sort((a, b) => Number(b === near.place) - Number(a === near.place))
      for (const place of places) yield { person, shift, piece, step: step.id, place }
    }
  }

  /** One more on a piece that takes several at once. */
  *#withHelper(seated: readonly Assignment[], { ids }: Fault): Generator<readonly Assignment[]> {
    const [piece, shift] = ids
    const one = seated.find((turn) => turn.piece === piece && turn.shift === shift)
    if (one === undefined) return
    // Helpers are alike once they sit: they come in one order only.
    const musts = new Set(this.#musts.map((must) => this.#personOf(must)))
    const last = seated.findLast((turn) => turn.piece === piece && turn.shift === shift && !musts.has(turn.person))
    const people = this.#problem.people.map(({ id }) => id)
    for (const person of people.slice(last === undefined ? 0 : people.indexOf(last.person) + 1)) {
      if (this.#isFree(seated, person, one.shift)) yield [...seated, { ...one, person, mentor: null }]
    }
  }

  /** A mentor for a learner: somebody who sits near already, or somebody free who is given work there. */
  *#withMentor(seated: readonly Assignment[], { ids }: Fault): Generator<readonly Assignment[]> {
    const [learner, shift] = ids
    const turn = seated.find((one) => one.person === learner && one.shift === shift)
    const technique = turn && this.#techniqueOf(turn)
    // A chosen mentor who does not do will not do with more people about.
    if (turn === undefined || technique === undefined || turn.mentor !== null) return
    const others = seated.filter((one) => one !== turn)
    for (const mentor of this.#problem.people) {
      if ((mentor.levels[technique] ?? 0) < 4 || mentor.id === learner) continue
      const mentored = { ...turn, mentor: mentor.id }
      if (!this.#isFree(seated, mentor.id, turn.shift)) {
        yield [...others, mentored]
        continue
      }
      for (const piece of this.#problem.pieces) {
        for (const step of piece.steps) {
          if (step.people.min > 1 || mentor.levels[step.technique] === 1) continue
          for (const place of this.#reachOf(turn.place)) {
            const own = { person: mentor.id, shift: turn.shift, piece: piece.id, step: step.id, place, mentor: null }
            yield [...others, mentored, own]
          }
        }
      }
    }
  }

  #techniqueOf({ piece, step }: Wanted): string | undefined {
    return this.#lookup.piece.get(piece)?.steps.find(({ id }) => id === step)?.technique
  }

  #isFree(seated: readonly Assignment[], person: string, shift: string): boolean {
    return (
      (this.#aside.has('presence') || minutesIn(this.#lookup, person, shift) >= 15) &&
      !seated.some((turn) => turn.person === person && turn.shift === shift)
    )
  }

  #reachOf(place: string): readonly string[] {
    const own = this.#lookup.place.get(place)?.neighbours ?? []
    const back = this.#problem.places.filter(({ neighbours }) => neighbours.includes(place)).map(({ id }) => id)
    return [...new Set([place, ...own, ...back])]
  }

  #personOf({ kind, index }: MustRef): string | undefined {
    const { begun, holds, claims } = this.#problem
    return kind === 'clock' ? undefined : (kind === 'begun' ? begun : kind === 'hold' ? holds : claims)[index]?.person
  }
}
