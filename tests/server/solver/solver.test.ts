// Draw-ups in their own threads: answers stream, the last is explained, stopping is quiet, and the thread that serves
// the board is not held up.
import { readdirSync, readFileSync } from 'node:fs'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Proposal } from '#lib/lineup'
import { judgeDay } from '#lib/rules'
import { finding, kinds, noRecords, PersonId, put, type Records, type Role, withChanges } from '#lib/words'
import { demoRecords } from '../../../demo/index.ts'
import type { AskContext } from '../../../server/asks.ts'
import { discreet } from '../../../server/solver/discreet.ts'
import { type Answer, createSolver, type Solver, solverAsks } from '../../../server/solver/index.ts'
import { bundle } from '../../kit/store-worker.ts'

type DrawUpAnswer = Answer<'drawUp'>

const today = '2026-03-12'
const records = withChanges(noRecords(), demoRecords({ seed: 20, today }))
const drawn = { what: 'drawUp', date: today, isRedraw: false, from: null, limits: [] } as const
const moment = { seq: 42, date: today, minute: 8 * 60 }
const faults: string[] = []
let worker: URL
let solver: Solver

beforeAll(async () => {
  worker = await bundle('server/solver/worker.ts', 'solver-worker')
  solver = make(2)
}, 60_000)
afterAll(() => solver.close())

const make = (threads: number, ceilingMs = 30_000, script = worker) =>
  createSolver({ log: (_level, what) => faults.push(what), worker: script, threads, ceilingMs })

/** All answers of one question. */
function answersOf(of: Solver, on: Records = records): Promise<DrawUpAnswer[]> {
  return new Promise((resolve) => {
    const answers: DrawUpAnswer[] = []
    of.start(on, drawn, moment, (answer, isLast) => {
      // A draw-up is answered with proposals.
      answers.push(answer as DrawUpAnswer)
      if (isLast) resolve(answers)
    })
  })
}

const last = (answers: readonly DrawUpAnswer[]): Proposal => {
  const answer = answers.at(-1)
  if (!answer || 'refused' in answer) throw new Error('no proposal')
  return answer
}

describe('solver threads', { timeout: 60_000 }, () => {
  it('stream better line-ups, and end with one that is explained and lawful', async () => {
    const answers = await answersOf(solver)
    const proposal = last(answers)
    expect(proposal.seq).toBe(42)
    expect(proposal.reasons).toHaveLength(proposal.assignments.length)
    expect(judgeDay(records, today, proposal.assignments)).toEqual([])
    const scores = answers.map((answer) => ('refused' in answer ? -1 : answer.score))
    expect(scores).toEqual(scores.toSorted((a, b) => a - b))
  })

  it('give the same answer in every thread', async () => {
    const [one, other] = await Promise.all([answersOf(solver), answersOf(solver)])
    expect(last(one)).toEqual(last(other))
  })

  it('do not hold up the thread that serves the board', async () => {
    let beats = 0
    const beat = setInterval(() => beats++, 5)
    await answersOf(solver)
    clearInterval(beat)
    // A draw-up takes the better part of a second. Were it made here, the clock would beat at the few awaits alone; how
    // long a beat takes is no measure, since a busy machine holds up everybody.
    expect(beats).toBeGreaterThan(20)
  })

  it('give way to edits: where a thread has a priority of its own, theirs is lower', async () => {
    if (process.platform !== 'linux') return
    await answersOf(solver)
    // The 19th of what the system tells of a thread is its distance from the usual priority.
    const distances = readdirSync('/proc/self/task').map((thread) =>
      Number(readFileSync(`/proc/self/task/${thread}/stat`, 'utf8').split(') ')[1]?.split(' ')[16]),
    )
    expect(Math.max(...distances)).toBeGreaterThan(Number(distances[0]))
  })

  it('say nothing more once stopped, running or waiting, and take the next question', async () => {
    const single = make(1)
    const heard: string[] = []
    const stopRunning = single.start(records, drawn, moment, () => heard.push('running'))
    const stopWaiting = single.start(records, drawn, moment, () => heard.push('waiting'))
    stopRunning()
    stopWaiting()
    stopWaiting()
    const before = heard.length
    expect(last(await answersOf(single)).assignments.length).toBeGreaterThan(10)
    expect(heard).toHaveLength(before)
    await single.close()
  })

  it('answer with the best so far at the ceiling', async () => {
    const hasty = make(1, 1)
    const proposal = last(await answersOf(hasty))
    expect(judgeDay(records, today, proposal.assignments)).toEqual([])
    await hasty.close()
  })

  it('tell a fault and go on: records that cannot be built, a thread that dies', async () => {
    const broken = { ...records, lab: new Map([['lab', 'nonsense']]) } as unknown as Records
    const single = make(1)
    expect(await answersOf(single, broken)).toEqual([{ refused: 'fault' }])
    expect(faults.at(-1)).toMatch(/draw-up failed/)
    expect(last(await answersOf(single)).assignments.length).toBeGreaterThan(10)
    await single.close()
    const nowhere = make(1, 1000, new URL('./nothing-here.mjs', worker))
    expect(await answersOf(nowhere)).toEqual([{ refused: 'fault' }])
    await nowhere.close()
    expect(await answersOf(nowhere)).toEqual([{ refused: 'fault' }])
  })
})

const asker = (what: 'drawUp' | 'whatIf' | 'drawWeek', body: unknown, of: AskContext) => {
  const ask = solverAsks(solver)[what]
  if (!ask) throw new Error(`nobody answers ${what}`)
  return ask(body, of)
}

it('threads know all that a day is drawn up from: a place whose check is overdue is not offered', async () => {
  const proposal = last(await answersOf(solver))
  const placeId = proposal.assignments[0]?.placeId ?? ''
  const check = kinds.check.parse({
    ...{ id: 'arm', name: 'Arm', what: 'extraction', placeId, every: { unit: 'days', count: 1 }, ratedKg: null },
    ...{ since: '2026-03-01', isActive: true, last: null },
  })
  const unchecked = last(await answersOf(solver, withChanges(records, [put('check', check)])))
  expect(unchecked.assignments.length).toBeGreaterThan(10)
  expect(unchecked.assignments.filter((turn) => turn.placeId === placeId)).toEqual([])
}, 60_000)

it('an answer says of others’ limits that they bind, not how far off they are', () => {
  const board = withChanges(records, [])
  const answer = {
    findings: [
      finding('R5', 'vibration-over', { person: 'amara', technique: 'fine-scribe' }, { points: 140, limit: 100 }),
    ],
    leftOut: [{ code: 'vibration', changes: [{ code: 'vibration', person: 'amara', amount: 40 }] }],
    clashes: [{ rules: [{ rule: 'vibration', ids: ['amara'], found: 140, allowed: 100 }] }],
    turns: [{ personId: 'amara', level: 3 }],
  }
  expect(discreet(board, 'amara', answer)).toEqual(answer)
  const told = discreet(board, 'joris', answer)
  expect(JSON.stringify(told)).not.toMatch(/140|"amount":40/)
  expect(told).toMatchObject({
    findings: [{ code: 'rests', ids: { person: 'amara' } }],
    leftOut: [{ code: 'vibration', changes: [{ code: 'vibration', person: 'amara' }] }],
    clashes: [{ rules: [{ rule: 'vibration', ids: ['amara'] }] }],
    turns: [{ personId: 'amara', level: 3 }],
  })
})

describe('the question drawUp', { timeout: 60_000 }, () => {
  const context = (role: Role, signal = new AbortController().signal): AskContext => ({
    who: { personId: PersonId.parse('thea'), role },
    when: { at: `${today}T08:00:00.000Z`, date: today, minute: 480 },
    look: () => ({ seq: 42, records }),
    signal,
  })
  /** What is told as it comes, and then the end of the answer. */
  const gather = async (body: unknown, of: AskContext): Promise<DrawUpAnswer[]> => {
    const asking = asker('drawUp', body, of)
    const answers: unknown[] = []
    for (;;) {
      const { value, done } = await asking.next()
      answers.push(value)
      // What this question tells and returns.
      if (done) return answers as DrawUpAnswer[]
    }
  }

  it('is for the manager and staff', async () => {
    for (const role of ['volunteer', 'researcher', 'wall'] as const) {
      expect(await gather({ date: today, redraw: false }, context(role))).toEqual([{ refused: 'not-allowed' }])
    }
    const answers = await gather({ date: today, redraw: false }, context('preparator'))
    expect(last(answers).date).toBe(today)
  })

  it('is refused in any other form', async () => {
    for (const body of [null, 7, {}, { date: 'soon', redraw: false }, { date: today }, { date: today, redraw: 1 }]) {
      expect(await gather(body, context('manager'))).toEqual([{ refused: 'form' }])
    }
  })

  it('redraws from the line-up on the table, and ignores turns nobody knows', async () => {
    const table = last(await gather({ date: today, redraw: false }, context('manager'))).assignments
    const turns = table.map(({ shiftId, personId, pieceId, stepId, placeId }) => ({
      ...{ shiftId, personId, pieceId, stepId, placeId },
    }))
    const stranger = { ...turns[0], personId: 'nobody' }
    const again = last(await gather({ date: today, redraw: true, from: [...turns, stranger] }, context('manager')))
    const key = (turn: { shiftId: string; personId: string; stepId: string }) =>
      `${turn.shiftId} ${turn.personId} ${turn.stepId}`
    expect(again.assignments.map(key).sort()).toEqual(table.map(key).sort())
  })

  it('ends when it is taken back', async () => {
    const abort = new AbortController()
    setTimeout(() => abort.abort(), 30)
    const answers = await gather({ date: today, redraw: false }, context('manager', abort.signal))
    expect(answers.every((answer) => 'refused' in answer || answer.reasons.length === 0)).toBe(true)
  })
})

describe('the questions whatIf and drawWeek', { timeout: 120_000 }, () => {
  const context = (role: Role): AskContext => ({
    who: { personId: PersonId.parse('thea'), role },
    when: { at: `${today}T08:00:00.000Z`, date: today, minute: 480 },
    look: () => ({ seq: 42, records }),
    signal: new AbortController().signal,
  })
  const answersTo = async (what: 'whatIf' | 'drawWeek', body: unknown, role: Role = 'manager') => {
    const asking = asker(what, body, context(role))
    const answers: unknown[] = []
    for (;;) {
      const { value, done } = await asking.next()
      answers.push(value)
      if (done) return answers
    }
  }

  it('are refused in any other form, and to whoever may not hold', async () => {
    const turn = { shiftId: 'morning', personId: 'amara', pieceId: 'x', stepId: 'y', placeId: 'm1' }
    expect(await answersTo('whatIf', { date: today, turns: [turn] }, 'volunteer')).toEqual([{ refused: 'not-allowed' }])
    for (const body of [null, {}, { date: today }, { date: today, turns: [] }, { date: today, turns: [7] }]) {
      expect(await answersTo('whatIf', body)).toEqual([{ refused: 'form' }])
    }
    for (const body of [null, {}, { date: today }, { date: today, days: 8 }, { date: 'soon', days: 2 }]) {
      expect(await answersTo('drawWeek', body)).toEqual([{ refused: 'form' }])
    }
  })

  it('answer a turn nobody knows with a reason, and two days with two proposals', async () => {
    const turn = { shiftId: 'morning', personId: 'nobody', pieceId: 'x', stepId: 'y', placeId: 'm1' }
    expect(await answersTo('whatIf', { date: today, turns: [turn] })).toMatchObject([{ isPossible: false }])
    const weeks = await answersTo('drawWeek', { date: today, days: 2 })
    expect(weeks.at(-1)).toMatchObject({ days: [{ state: 'open' }, { state: 'open' }] })
  })
})
