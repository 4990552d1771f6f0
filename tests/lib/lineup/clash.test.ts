/** Musts that cannot be kept: the named set really cannot, each smaller one can, and so it is for the named rules. */
import { describe, expect, test } from 'vitest'
import { seededRandom } from '#lib/base'
import { clashesOf, type MustRef, type Problem, type RuleCode, solve, verifyRules } from '#lib/lineup'
import { unmetMusts } from '../../../lib/lineup/appraise.ts'
import { aTightDay } from './days.ts'
import { exactBest } from './exact.ts'

const SIZE = { people: 4, shifts: 2, pieces: 4, places: 3 }

/** A tight tiny day with more holds than will go together; each of them could be alone, but for one in five. */
function aClashingDay(seed: number): Problem {
  const day = aTightDay(SIZE, seed)
  const random = seededRandom(-seed)
  const pick = <Entry>(list: readonly Entry[]): Entry => list[random.below(list.length)] as Entry
  const aHold = (): Problem['holds'][number] => {
    const piece = pick(day.pieces)
    const [person, shift, step, place] = [
      pick(day.people).id,
      pick(day.shifts).id,
      pick(piece.steps).id,
      pick(day.places).id,
    ]
    const hold = { person, shift, piece: piece.id, step, place }
    const isAlone = verifyRules(day, [{ ...hold, mentor: null }]).every(({ rule }) => rule === 'mentor')
    if (!isAlone && random.below(200) > 0) return aHold()
    return { ...hold, step: random.below(4) === 0 ? null : step, place: random.below(3) === 0 ? null : place }
  }
  return { ...day, holds: Array.from({ length: 2 + random.below(4) }, aHold) }
}

const only = (problem: Problem, musts: readonly MustRef[]): Problem => {
  const of = <Entry>(list: readonly Entry[], kind: MustRef['kind']): Entry[] =>
    list.filter((_, index) => musts.some((must) => must.kind === kind && must.index === index))
  const { holds, claims, clocks } = problem
  return { ...problem, holds: of(holds, 'hold'), claims: of(claims, 'claim'), clocks: of(clocks, 'clock') }
}

/**
 * Whether all of them can be kept: nothing else counts, and who comes in other shifts neither helps nor hinders. Null
 * when there are too many ways to try.
 */
function isKeepable(problem: Problem, musts: readonly MustRef[], hasMentors = true): boolean | null {
  const of = only(problem, musts)
  const fixed = [...of.holds, ...of.claims, ...of.clocks]
  const shifts = new Set(fixed.map(({ shift }) => shift))
  const pieces = new Set(fixed.map(({ piece }) => piece))
  const bare = {
    ...of,
    people: of.people.map((one) => ({ ...one, presence: one.presence.filter(({ shift }) => shifts.has(shift)) })),
    // Without mentors there is no use in work on other pieces.
    pieces: hasMentors ? of.pieces : of.pieces.filter(({ id }) => pieces.has(id)),
    weights: Object.fromEntries(Object.keys(of.weights).map((part) => [part, 0])) as Problem['weights'],
  }
  try {
    return exactBest(bare, { branchesMax: 20_000 })?.musts === musts.length
  } catch {
    return null
  }
}

type Edit = {
  readonly place?: Partial<Problem['places'][number]>
  readonly person?: (person: Problem['people'][number]) => Partial<Problem['people'][number]>
  readonly piece?: Partial<Problem['pieces'][number]>
  readonly step?: (step: Problem['pieces'][number]['steps'][number]) => Partial<typeof step>
  readonly day?: Partial<Problem>
}

/** Rules that data can set aside; the others are how a day is told. */
const edits = (problem: Problem): Partial<Record<RuleCode, Edit>> => ({
  seats: { place: { seats: 50 } },
  airLines: { place: { airLines: 50 } },
  load: { place: { loadKgMax: null } },
  length: { place: { lengthCmMax: null } },
  closed: { place: { closed: [], isCheckOverdue: false } },
  features: { place: { features: problem.pieces.flatMap(({ steps }) => steps.flatMap(({ features }) => features)) } },
  vibration: { person: () => ({ vibrationPointsLeft: null }) },
  noise: { person: () => ({ noisePointsLeft: null }) },
  classMinutes: { person: () => ({ classMinutesLeft: {} }) },
  presence: {
    person: () => ({ presence: problem.shifts.map(({ id, start, end }) => ({ shift: id, from: start, to: end })) }),
  },
  tied: { piece: { tiedTo: null } },
  force: { step: () => ({ isEscalated: true }) },
  turns: { step: () => ({ turnsLeft: 1000 }) },
  helpers: { step: ({ people }) => ({ people: { min: 1, max: people.max + 12 } }) },
  forbidden: { day: { forbids: [] } },
  mentorLimit: { day: { learnersPerMentorMax: 20 } },
  air: { day: { shifts: problem.shifts.map((shift) => ({ ...shift, airLpm: 100_000 })) } },
  exclusive: { place: { isExclusive: false }, piece: { isExclusive: false } },
  mixing: { place: { keepsIn: ['dust', 'solvent'] } },
})

/** Everybody able to do everything: neither level nor mentor is asked for any more. */
const allAble: Edit = {
  person: ({ levels }) => ({ levels: Object.fromEntries(Object.keys(levels).map((name) => [name, 4])) }),
}

function edited(problem: Problem, { place, person, piece, step, day }: Edit): Problem {
  return {
    ...problem,
    places: problem.places.map((one) => ({ ...one, ...place })),
    people: problem.people.map((one) => ({ ...one, ...person?.(one) })),
    pieces: problem.pieces.map((one) => ({
      ...one,
      ...piece,
      steps: one.steps.map((each) => ({ ...each, ...step?.(each) })),
    })),
    ...day,
  }
}

/** The day with these rules alone; null when one that data cannot set aside might stand in the way too. */
function withRules(problem: Problem, musts: readonly MustRef[], rules: ReadonlySet<RuleCode>): Problem | null {
  const of = only(problem, musts)
  const fixed = [...of.holds, ...of.claims]
  const isTwice = (name: 'person' | 'piece') =>
    new Set(fixed.map((one) => `${one[name]} ${one.shift}`)).size < fixed.length
  if ((isTwice('person') && !rules.has('onePlace')) || (isTwice('piece') && !rules.has('onePieceOnePlace'))) return null
  // Whoever keeps a clock is in at its minute: that is the clock's own condition.
  if (of.clocks.length > 0) return null
  // Who lifts with others mentors nobody, and data cannot set aside the one without the other.
  const isLifting = problem.pieces.some(({ steps }) => steps.some(({ people }) => people.min > 1))
  if (isLifting && rules.has('mentor')) return null
  let bare = problem
  for (const [rule, edit] of Object.entries(edits(problem))) if (!rules.has(rule as RuleCode)) bare = edited(bare, edit)
  const isBySkill = rules.has('level') || rules.has('mentor') || rules.has('mentorLimit')
  return isBySkill ? bare : edited(bare, allAble)
}

describe('clashes', () => {
  test('each named set is a smallest one, and so are its rules, by trying all', { timeout: 120_000 }, () => {
    const sizes = new Map<number, number>()
    const rules = new Map<string, number>()
    let untold = 0
    let checked = 0
    for (let seed = 1; seed <= 200; seed++) {
      const problem = aClashingDay(seed)
      const { unmet } = solve(problem, { seed, steps: 1_000 })
      const clashes = clashesOf(problem, unmet)
      const said = `seed ${seed}: ${JSON.stringify(clashes)}`
      for (const must of unmet) {
        const isTold = clashes.some(({ musts }) =>
          musts.some((one) => one.kind === must.kind && one.index === must.index),
        )
        if (isTold) continue
        // Then the search missed it: it can be kept with all the others.
        untold++
        const kept = unmetMusts(problem, []).filter(
          (one) => !unmet.some((other) => other.kind === one.kind && other.index === one.index),
        )
        expect(isKeepable(problem, [...kept, must]), said).toBe(true)
      }
      for (const clash of clashes) {
        sizes.set(clash.musts.length, (sizes.get(clash.musts.length) ?? 0) + 1)
        expect(isKeepable(problem, clash.musts), said).not.toBe(true)
        for (const must of clash.musts)
          expect(
            isKeepable(
              problem,
              clash.musts.filter((one) => one !== must),
            ),
            said,
          ).not.toBe(false)
        expect(clash.rules.length, said).toBeGreaterThan(0)
        const named = clash.rules.map(({ rule }) => rule)
        for (const rule of named) rules.set(rule, (rules.get(rule) ?? 0) + 1)
        const bare = withRules(problem, clash.musts, new Set(named))
        if (bare === null) continue
        checked++
        const hasMentors = named.some((rule) => rule === 'level' || rule === 'mentor' || rule === 'mentorLimit')
        expect(isKeepable(bare, clash.musts, hasMentors), `${said} by the named rules alone`).not.toBe(true)
        for (const rule of named) {
          const edit = edits(bare)[rule]
          // A mentor may do another step of the same piece once one piece need not be at one place: data cannot say so.
          if (edit === undefined || hasMentors) continue
          expect(isKeepable(edited(bare, edit), clash.musts, hasMentors), `${said} without ${rule}`).not.toBe(false)
        }
      }
    }
    console.info('sets by size', [...sizes], 'rules', [...rules], 'untold', untold, 'checked', checked)
    expect(untold).toBeLessThan(10)
    expect(sizes.get(2)).toBeGreaterThan(10)
  })
})
