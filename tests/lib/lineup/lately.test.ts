// Fairness and the same hands look back four weeks, whatever has left the board by then: pieces everybody wants, dull
// ones, and whose hands a piece has known. What was worked on counts, not what was planned and fell through.
import { describe, expect, it } from 'vitest'
import { addDays } from '#lib/base'
import { buildProblem } from '#lib/lineup'
import { applyOp } from '#lib/ops'
import { latelyBefore, turnId } from '#lib/rules'
import { type Change, noRecords, put, type RecordOf, type Records, withChanges } from '#lib/words'
import { demoRecords } from '../../../demo/index.ts'
import { anOp, system, whenAt } from '../../kit/makers-ops.ts'

const start = '2026-03-12'
const full = withChanges(noRecords(), demoRecords({ seed: 20, today: start }))
/** The demo as if nobody had sat anywhere yet. */
const demo: Records = { ...full, assignment: new Map(), lately: new Map(), work: new Map(), hold: new Map() }
const given = <T>(value: T | undefined): T => {
  if (value === undefined) throw new Error('not there')
  return value
}
const emeka = given(full.person.get('emeka'))
const wanted = given([...full.specimen.values()].find((one) => one.stage === 'exposing' && one.isPriority))
const dull = given([...full.specimen.values()].find((one) => one.stage === 'stabilised'))

function seated(date: string, pieceId: RecordOf<'specimen'>['id']): Change {
  const step = given([...full.step.values()].find((one) => one.pieceId === pieceId))
  const like = given([...full.assignment.values()][0])
  return put('assignment', {
    ...like,
    ...{ id: turnId(date, 'morning', emeka.id), date, personId: emeka.id, pieceId, stepId: step.id },
    shiftId: given(full.lab.get('lab')?.shifts[0]).id,
  })
}

/** Lives from one day to the next, as the server does. */
function nights(records: Records, from: string, days: number): Records {
  let now = records
  for (let i = 1; i <= days; i++) {
    const date = addDays(from, i)
    const when = whenAt({ date, at: `${date}T00:00:05.000Z`, minute: 0 })
    now = withChanges(now, applyOp(now, anOp({ kind: 'beginDay', date }), system, when))
  }
  return now
}

const personOn = (records: Records, date: string) =>
  given(buildProblem(records, date).problem.people.find(({ id }) => id === emeka.id))

describe('four weeks back', () => {
  it('are remembered after the days have left the board, and forgotten after that', () => {
    let records = demo
    for (let i = 0; i < 6; i++) records = withChanges(records, [seated(addDays(start, i - 5), wanted.id)])
    const later = nights(records, start, 20)
    expect(later.assignment.size).toBe(0)
    expect(latelyBefore(later, addDays(start, 20)).get(emeka.id)).toHaveLength(6)
    expect(latelyBefore(nights(records, start, 34), addDays(start, 34)).get(emeka.id) ?? []).toEqual([])
  })

  it('say who had the pieces everybody wants, who the dull ones, and whose hands a piece has known', () => {
    const fiveOn = (pieceId: RecordOf<'specimen'>['id']) => {
      let records = demo
      for (let i = 0; i < 5; i++) records = withChanges(records, [seated(addDays(start, -1 - i), pieceId)])
      const date = addDays(start, 14)
      const live = nights(records, start, 14)
      return { share: personOn(live, date).goodSharePercent, problem: buildProblem(live, date).problem }
    }
    const [good, plain, bad] = [fiveOn(wanted.id), personOn(demo, start).goodSharePercent, fiveOn(dull.id)]
    expect(good.share).toBeGreaterThan(plain)
    expect(bad.share).toBeLessThan(plain)
    expect(plain).toBe(50)
    const hands = good.problem.pieces.find(({ id }) => id === wanted.id)?.hands
    expect(hands).toEqual([{ person: emeka.id, turns: 5 }])
  })

  it('count what was worked on, and not the seat of somebody who was away', () => {
    const date = addDays(start, -1)
    const turn = seated(date, wanted.id)
    const like = given([...full.attendance.values()][0])
    const id = turnId(date, 'morning', emeka.id)
    const away = put('attendance', { ...like, id, date, personId: emeka.id, state: 'away', dueAt: null })
    expect(latelyBefore(withChanges(demo, [turn, away]), start).get(emeka.id)).toBeUndefined()
    const step = given([...full.step.values()].find((one) => one.pieceId === dull.id))
    const work = put('work', {
      ...{ id: 'work-1', personId: emeka.id, pieceId: dull.id, stepId: step.id, techniqueId: step.techniqueId, date },
      placeId: given([...full.place.values()][0]).id,
      shiftId: given(full.lab.get('lab')?.shifts[0]).id,
      ...{ state: 'finished', startedAt: `${date}T09:40:00.000Z`, since: null, minutes: 90, runningMinutes: 10 },
    })
    const had = latelyBefore(withChanges(demo, [turn, work]), start).get(emeka.id)
    expect(had?.map(({ pieceId }) => pieceId)).toEqual([dull.id])
  })

  it('are there from the first day in the demo lab', () => {
    const days = new Set([...full.lately.values()].flatMap(({ turns }) => turns.map(({ date }) => date)))
    expect(days.size).toBeGreaterThan(15)
    expect(nights(full, start, 0)).toBe(full)
    // The first night adds nothing that was there already.
    const night = nights(full, addDays(start, -1), 1)
    expect(night.lately).toEqual(full.lately)
  })
})
