/**
 * The week: Monday does not eat the only expert's Thursday. Small weeks are compared with the best of all ways to share
 * the turns, found by trying each of them; the demo lab's week keeps every rule and leaves posted days alone.
 */
import { describe, expect, test } from 'vitest'
import { addDays, seededRandom } from '#lib/base'
import { drawWeek, type Problem, problemSchema, solve } from '#lib/lineup'
import { assignmentsOn, judgeDay, judgeHandsOfDay } from '#lib/rules'
import { noRecords, put, withChanges } from '#lib/words'
import { demoRecords } from '../../../demo/index.ts'
import { capTurns, stepKey } from '../../../lib/lineup/week/cap-turns.ts'
import { shareTurns } from '../../../lib/lineup/week/share-turns.ts'

const SHIFT = { id: 's', start: 570, end: 750, airLpm: 0 }
const STEPS = 3000

/** One morning of a small lab: who comes and what they can do; the pieces are the week's. */
function morning(
  people: Readonly<Record<string, readonly string[]>>,
  pieces: readonly (readonly [string, number, number])[],
): Problem {
  return problemSchema.parse({
    shifts: [SHIFT],
    places: [{ id: 'bench', seats: 12 }],
    people: Object.entries(people).map(([id, can]) => ({
      id,
      levels: Object.fromEntries(can.map((technique) => [technique, 3])),
      presence: [{ shift: 's', from: 570, to: 750 }],
    })),
    pieces: pieces.map(([id, urgencyPercent, turnsLeft]) => ({
      id,
      kind: 'specimen',
      ceiling: 9,
      urgencyPercent,
      steps: [{ id: 'j', technique: id, turnsLeft }],
    })),
  })
}

const drawn = (problem: Problem) => solve(problem, { seed: 1, steps: STEPS })
const leftOf = (days: readonly Problem[]) =>
  new Map(
    days.flatMap(({ pieces }) =>
      pieces.flatMap((piece) =>
        piece.steps.map((step) => [stepKey({ piece: piece.id, step: step.id }), step.turnsLeft] as const),
      ),
    ),
  )

/** The days one after the other, each leaving later ones their shares. */
function play(days: readonly Problem[], shares: readonly ReadonlyMap<string, number>[]): number {
  const over = new Map(leftOf(days))
  let sum = 0
  days.forEach((day, d) => {
    const most = new Map(
      [...over].map(([key, turns]) => [
        key,
        Math.max(0, turns - shares.slice(d + 1).reduce((later, share) => later + (share.get(key) ?? 0), 0)),
      ]),
    )
    const { lineUp, score } = drawn(capTurns(day, most))
    for (const turn of lineUp) over.set(stepKey(turn), (over.get(stepKey(turn)) ?? 0) - 1)
    sum += score
  })
  return sum
}
const shared = (days: readonly Problem[]) => play(days, shareTurns(days, leftOf(days), drawn))
const dayByDay = (days: readonly Problem[]) => play(days, [])

describe('the week', () => {
  test('keeps the skull for the only one who can do nothing else on Thursday', () => {
    const pieces = [
      ['skull', 90, 1],
      ['brush', 10, 9],
    ] as const
    const days = [morning({ ines: ['skull', 'brush'] }, pieces), morning({ odile: ['skull'] }, pieces)]
    const shares = shareTurns(days, leftOf(days), drawn)
    expect(shares.map((share) => share.get(stepKey({ piece: 'skull', step: 'j' })))).toEqual([0, 1])
    expect(shared(days)).toBeGreaterThan(dayByDay(days))
  })

  test('comes within 1 % of the best sharing of all in the mean of sixteen seeded weeks', {
    timeout: 120_000,
  }, () => {
    const gains: number[] = []
    const gaps: number[] = []
    for (let seed = 1; seed <= 16; seed++) {
      const random = seededRandom(seed)
      const names = ['skull', 'rib', 'claw', 'brush']
      const pieces = names.map(
        (name, i) => [name, i === 3 ? 10 : 20 + random.below(80), i === 3 ? 9 : 1 + random.below(2)] as const,
      )
      const days = Array.from({ length: 3 }, () =>
        morning(Object.fromEntries(['a', 'b'].map((id) => [id, names.filter(() => random.below(100) < 55)])), pieces),
      )
      const best = bestOf(days, pieces)
      const [mine, theirs] = [shared(days), dayByDay(days)]
      gains.push(Math.max(mine, theirs) / Math.max(1, theirs) - 1)
      gaps.push(1 - Math.max(mine, theirs) / Math.max(1, best))
    }
    const mean = (list: readonly number[]) => list.reduce((sum, one) => sum + one, 0) / list.length
    console.log(
      `weeks: mean gain ${(100 * mean(gains)).toFixed(2)} %, most ${(100 * Math.max(...gains)).toFixed(1)} %; below the best sharing: mean ${(100 * mean(gaps)).toFixed(2)} %, most ${(100 * Math.max(...gaps)).toFixed(1)} %`,
    )
    expect(mean(gains)).toBeGreaterThan(0.02)
    expect(mean(gaps)).toBeLessThan(0.01)
  })
})

/** The best over every way to give the turns of the three scarce pieces to days. */
function bestOf(days: readonly Problem[], pieces: readonly (readonly [string, number, number])[]): number {
  const scarce = pieces.slice(0, 3)
  const known = new Map<string, number>()
  const scoreOf = (day: number, caps: readonly number[]): number => {
    const key = `${day} ${caps.join(' ')}`
    const problem = days[day]
    if (!problem) return 0
    const score =
      known.get(key) ??
      drawn(capTurns(problem, new Map(scarce.map(([id], i) => [stepKey({ piece: id, step: 'j' }), caps[i] ?? 0]))))
        .score
    known.set(key, score)
    return score
  }
  const splits = (turns: number): readonly (readonly number[])[] =>
    Array.from({ length: turns + 1 }, (_, a) => a).flatMap((a) =>
      Array.from({ length: turns - a + 1 }, (_, b) => [a, b, turns - a - b]),
    )
  let best = 0
  const [one = [], two = [], three = []] = scarce.map(([, , turns]) => splits(turns))
  for (const a of one)
    for (const b of two)
      for (const c of three) {
        best = Math.max(
          best,
          [0, 1, 2].reduce((sum, day) => sum + scoreOf(day, [a[day] ?? 0, b[day] ?? 0, c[day] ?? 0]), 0),
        )
      }
  return best
}

describe('a week of the demo lab', { timeout: 180_000 }, () => {
  const first = '2026-03-12'
  const demo = withChanges(noRecords(), demoRecords({ seed: 20, today: first }))
  const posted = addDays(first, 1)
  const like = [...demo.assignment.values()].find(({ how }) => how === 'drawn')
  if (!like) throw new Error('the demo has a turn')
  const id = `${posted}.${like.shiftId}.${like.personId}`
  const records = withChanges(demo, [
    put('day', { id: posted, postedAt: `${first}T09:00:00.000Z`, postedBy: like.by, times: 1, note: '' }),
    put('assignment', { ...like, id, date: posted }),
  ])
  const week = drawWeek(records, { first, days: 5, seq: 1, now: { date: first, minute: 480 }, steps: 12_000 })

  test('draws the open days, leaves posted ones alone and sees closed ones', () => {
    expect(week.days.map(({ state }) => state)).toEqual(['open', 'posted', 'open', 'closed', 'open'])
    expect(week.days[1]).toMatchObject({ proposal: null, turns: 1 })
    expect(week.score).toBeGreaterThanOrEqual(week.dayByDayScore)
    expect(assignmentsOn(records, posted)).toHaveLength(1)
  })

  test('each of its days may be posted as it is, whichever comes first', () => {
    for (const { proposal } of week.days) {
      if (!proposal) continue
      expect(judgeDay(records, proposal.date, proposal.assignments)).toEqual([])
      expect(judgeHandsOfDay(records, proposal.date, proposal.assignments)).toEqual([])
    }
  })

  test('spends no step beyond its hours over all days together', () => {
    const used = new Map<string, number>()
    for (const { proposal } of week.days)
      for (const turn of proposal?.assignments ?? []) used.set(turn.stepId, (used.get(turn.stepId) ?? 0) + 1)
    for (const [stepId, turns] of used) {
      const step = records.step.get(stepId)
      if (!step) throw new Error(stepId)
      const hoursLeft = (step.hours.likelyH + step.hours.highH) / 2 - step.doneMinutes / 60
      // Half-days of three hours; a step that is open is always worth one, and one that takes two at once takes two.
      expect(turns, stepId).toBeLessThanOrEqual(Math.max(1, step.peopleMin, Math.ceil(hoursLeft / 3)))
    }
  })
})
