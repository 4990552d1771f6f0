/**
 * What holds on any day, tried on many random ones: every rule, never above the optimum, more never makes less, and
 * names and order change nothing. The optimum is found by trying all; days with too many ways to try are left out and
 * counted. `TALUS_DAYS=10000` tries as many.
 */
import { expect, test } from 'vitest'
import { type Random, seededRandom } from '#lib/base'
import { type Problem, solve, verify } from '#lib/lineup'
import { aDay, aTightDay } from './days.ts'
import { type Exact, exactBest } from './exact.ts'

const DAYS = Number(process.env.TALUS_DAYS ?? 1000)
const SIZES = [
  { people: 3, shifts: 2, pieces: 4, places: 2 },
  { people: 3, shifts: 1, pieces: 5, places: 3 },
  { people: 2, shifts: 3, pieces: 4, places: 3 },
]
const BRANCHES = 4_000

const dayOf = (seed: number): Problem => {
  const size = SIZES[seed % SIZES.length] ?? { people: 3, shifts: 2, pieces: 4, places: 2 }
  return seed % 4 === 0 ? aDay(size, seed) : aTightDay(size, seed)
}

/** The optimum; null where there are too many ways to try. */
function optimum(problem: Problem): Exact | null {
  try {
    return exactBest(problem, { branchesMax: BRANCHES })
  } catch {
    return null
  }
}

const pick = <Entry>(random: Random, list: readonly Entry[]): Entry => list[random.below(list.length)] as Entry

/** The day with one thing more. A sign-off takes away what the learning of it earned, so there learning is not weighed. */
function richer(
  problem: Problem,
  random: Random,
): { readonly what: string; readonly before: Problem; readonly after: Problem } {
  const kind = random.below(4)
  if (kind === 0) {
    const { id } = pick(random, problem.places)
    const places = problem.places.map((place) => (place.id === id ? { ...place, seats: place.seats + 1 } : place))
    return { what: `a seat at ${id}`, before: problem, after: { ...problem, places } }
  }
  if (kind === 1) {
    const { id } = pick(random, problem.shifts)
    const air = 10 * (1 + random.below(12))
    const shifts = problem.shifts.map((shift) => (shift.id === id ? { ...shift, airLpm: shift.airLpm + air } : shift))
    return { what: `${air} l/min in ${id}`, before: problem, after: { ...problem, shifts } }
  }
  const before = kind === 2 ? problem : { ...problem, weights: { ...problem.weights, learning: 0 } }
  const { id, levels } = pick(random, problem.people)
  const able = pick(random, pick(random, problem.pieces).steps).technique
  const from = levels[able] ?? 0
  const isNew = kind === 3 || from === 0
  const to = isNew ? Math.min(4, from + 1 + random.below(4)) : from
  const people = before.people.map((person) =>
    person.id === id ? { ...person, levels: { ...person.levels, [able]: to } } : person,
  )
  return { what: `${id} from ${from} to ${to} in ${able}`, before, after: { ...before, people } }
}

/** The same day under other names and in another order; `to` gives a new name, such that names sort as before. */
function renamed(problem: Problem, to: (id: string) => string): Problem {
  const maybe = (id: string | null): string | null => (id === null ? null : to(id))
  const wish = <Wish extends Problem['forbids'][number]>(one: Wish): Wish => ({
    ...one,
    person: maybe(one.person),
    shift: maybe(one.shift),
    piece: maybe(one.piece),
    step: maybe(one.step),
    place: maybe(one.place),
  })
  return {
    ...problem,
    people: problem.people
      .map((person) => ({
        ...person,
        id: to(person.id),
        presence: person.presence.map((one) => ({ ...one, shift: to(one.shift) })).reverse(),
        loves: person.loves.map((one) => (/^k\d/.test(one) ? to(one) : one)),
      }))
      .reverse(),
    shifts: problem.shifts.map((shift) => ({ ...shift, id: to(shift.id) })).reverse(),
    places: problem.places
      .map((place) => ({
        ...place,
        id: to(place.id),
        neighbours: place.neighbours.map(to),
        closed: place.closed.map(to),
      }))
      .reverse(),
    pieces: problem.pieces
      .map((piece) => ({
        ...piece,
        id: to(piece.id),
        tiedTo: maybe(piece.tiedTo),
        at: maybe(piece.at),
        hands: piece.hands.map((hand) => ({ ...hand, person: to(hand.person) })),
        steps: piece.steps.map((step) => ({ ...step, id: to(step.id) })).reverse(),
      }))
      .reverse(),
    holds: problem.holds.map((one) => wish(one) as typeof one),
    claims: problem.claims.map((one) => wish(one) as typeof one),
    forbids: problem.forbids.map(wish).reverse(),
    clocks: problem.clocks.map((clock) => ({
      ...clock,
      shift: to(clock.shift),
      piece: to(clock.piece),
      step: maybe(clock.step),
    })),
  }
}

test(`on ${DAYS} random days the rules hold, more never makes less, names and order change nothing`, {
  timeout: 3_600_000,
}, () => {
  const seen = { tried: 0, tooLarge: 0, best: 0, gained: 0 }
  for (let seed = 1; seed <= DAYS; seed++) {
    const random = seededRandom(seed * 7919)
    const problem = dayOf(seed)
    const ours = solve(problem, { seed, steps: 400 })
    expect(verify(problem, ours), `seed ${seed}`).toEqual([])

    const other = renamed(problem, (id) => `x ${id}`)
    const back = solve(other, { seed, steps: 400 })
    expect(back.score, `seed ${seed}, under other names`).toBe(ours.score)
    expect(
      back.lineUp.map(({ person, shift, piece, step, place }) => [person, shift, piece, step, place]),
      `seed ${seed}, under other names`,
    ).toEqual(
      ours.lineUp.map(({ person, shift, piece, step, place }) =>
        [person, shift, piece, step, place].map((id) => `x ${id}`),
      ),
    )

    const { what, before, after } = richer(problem, random)
    const [best, less, more] = [optimum(problem), optimum(before), optimum(after)]
    const turned = optimum(renamed(problem, (id) => [...id].reverse().join('')))
    if (best === null || less === null || more === null || turned === null) {
      seen.tooLarge++
      continue
    }
    seen.tried++
    const kept = problem.holds.length + problem.claims.length + problem.clocks.length - ours.unmet.length
    const said = `seed ${seed}: ours ${kept} and ${ours.score}, best ${best.musts} and ${best.score}`
    expect(kept, said).toBeLessThanOrEqual(best.musts)
    if (kept === best.musts) expect(ours.score, said).toBeLessThanOrEqual(best.score)
    if (kept === best.musts && ours.bound !== null) expect(ours.bound, said).toBeGreaterThanOrEqual(best.score)
    if (kept === best.musts && ours.score === best.score) seen.best++
    expect([turned.musts, turned.score], `seed ${seed}, names turned about`).toEqual([best.musts, best.score])

    expect(more.musts, `seed ${seed} with ${what}`).toBeGreaterThanOrEqual(less.musts)
    if (more.musts === less.musts) expect(more.score, `seed ${seed} with ${what}`).toBeGreaterThanOrEqual(less.score)
    if (more.score > less.score || more.musts > less.musts) seen.gained++
  }
  console.info(`${DAYS} days`, seen)
  expect(seen.tried).toBeGreaterThan(DAYS * 0.9)
  expect(seen.gained).toBeGreaterThan(0)
})
