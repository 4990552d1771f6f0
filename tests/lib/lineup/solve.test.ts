/** The solver's manners: same seed same answer whatever the order of the lists, streams, cancels, prefers what it should. */
import { describe, expect, test } from 'vitest'
import { exampleProblem, type Problem, problemSchema, solve, verify } from '#lib/lineup'
import { aDay, aTightDay } from './days.ts'

const DEMO = { people: 26, shifts: 2, pieces: 60, places: 14 }

describe('solve', () => {
  test('equal seeds give equal line-ups, whatever the order of the lists', { timeout: 60_000 }, () => {
    for (let seed = 1; seed <= 3; seed++) {
      const day = aDay(DEMO, seed)
      const turned: Problem = {
        ...day,
        people: [...day.people].reverse(),
        shifts: [...day.shifts].reverse(),
        places: [...day.places].reverse(),
        pieces: [...day.pieces].reverse(),
      }
      const first = solve(day, { seed, steps: 10_000 })
      expect(solve(day, { seed, steps: 10_000 })).toEqual(first)
      expect(solve(turned, { seed, steps: 10_000 })).toEqual(first)
    }
  })

  test('better line-ups stream in, each legal, and cancel keeps the best', { timeout: 60_000 }, () => {
    const day = aDay(DEMO, 5)
    const scores: number[] = []
    const answer = solve(day, {
      seed: 5,
      onBetter: (solution) => {
        expect(verify(day, solution)).toEqual([])
        scores.push(solution.score)
      },
      isCancelled: () => scores.length >= 5,
    })
    expect(scores.length).toBe(5)
    expect([...scores].sort((a, b) => a - b)).toEqual(scores)
    expect(answer.score).toBe(scores.at(-1))
  })

  test('holds, claims and clocks are kept when the rules allow, and named when not', { timeout: 60_000 }, () => {
    const example = exampleProblem()
    const held = solve(example)
    expect(held.unmet).toEqual([])
    expect(held.lineUp).toContainEqual(expect.objectContaining({ person: 'ines', shift: 'morning', piece: 'ribs' }))
    const impossible = problemSchema.parse({
      ...example,
      holds: [...example.holds, { person: 'odo', shift: 'morning', piece: 'skull' }],
      clocks: [{ id: 'flip', shift: 'morning', minute: 660, piece: 'J-14' }],
    })
    const answer = solve(impossible)
    expect(verify(impossible, answer)).toEqual([])
    expect(answer.unmet).toEqual([{ kind: 'hold', index: 1 }])
    expect(answer.lineUp.some((turn) => turn.piece === 'J-14' && turn.shift === 'morning')).toBe(true)
  })

  test('a clock wants somebody trained: a learner beside a mentor does not keep it', { timeout: 60_000 }, () => {
    const day = (learns: boolean) =>
      problemSchema.parse({
        shifts: [{ id: 'morning', start: 540, end: 720, airLpm: 0 }],
        places: [{ id: 'hood', features: ['hood'], seats: 2 }],
        pieces: [
          { id: 'bath', kind: 'specimen', ceiling: 9, steps: [{ id: 's', technique: 'acid', features: ['hood'] }] },
          { id: 'other', kind: 'specimen', ceiling: 9, steps: [{ id: 's', technique: 'acid', features: ['hood'] }] },
        ],
        people: [
          { id: 'ann', levels: { acid: 4 }, presence: [{ shift: 'morning', from: 540, to: 720 }] },
          { id: 'bo', levels: { acid: learns ? 1 : 2 }, presence: [{ shift: 'morning', from: 540, to: 720 }] },
        ],
        // Ann is held elsewhere, so that only Bo is left for what ends at eleven.
        holds: [{ person: 'ann', shift: 'morning', piece: 'other' }],
        clocks: [{ id: 'out', shift: 'morning', minute: 660, piece: 'bath' }],
      })
    for (const learns of [false, true]) {
      const answer = solve(day(learns), { steps: 2000 })
      expect(verify(day(learns), answer)).toEqual([])
      expect(answer.unmet.length).toBe(learns ? 1 : 0)
    }
  })

  test('R2 a learner sits beside a mentor, never alone', { timeout: 60_000 }, () => {
    let learners = 0
    for (let seed = 1; seed <= 20; seed++) {
      const day = aTightDay({ people: 8, shifts: 2, pieces: 14, places: 6 }, seed)
      for (const turn of solve(day, { seed, steps: 5_000 }).lineUp) {
        const step = day.pieces.find((piece) => piece.id === turn.piece)?.steps.find((entry) => entry.id === turn.step)
        const level = day.people.find((person) => person.id === turn.person)?.levels[step?.technique ?? '']
        expect(turn.mentor !== null).toBe(level === 1)
        if (level === 1) learners++
      }
    }
    expect(learners).toBeGreaterThan(0)
  })

  test('an empty day, a day without people and a day without places have empty line-ups', { timeout: 60_000 }, () => {
    const day = aDay(DEMO, 1)
    for (const empty of [
      { ...day, pieces: [] },
      { ...day, people: [] },
      { ...day, places: [] },
      { ...day, shifts: [], people: [] },
    ]) {
      const problem = problemSchema.parse({
        ...empty,
        pieces: empty.pieces.map((piece) => ({ ...piece, at: null, tiedTo: null })),
      })
      expect(solve(problem, { steps: 1000 }).lineUp).toEqual([])
    }
  })
})
