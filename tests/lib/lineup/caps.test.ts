// The day's caps as hard limits of a line-up: vibration, bench minutes, checks before use; and that it says so.
import { describe, expect, test } from 'vitest'
import { buildProblem, propose } from '#lib/lineup'
import { judgeDay } from '#lib/rules'
import { type Change, kinds, put, type Records } from '#lib/words'
import { sayLeftOut } from '../../../app/floor/lineup/say-left-out.ts'
import {
  aDue,
  aLab,
  anAirTool,
  aPerson,
  aPlace,
  aSpecimen,
  aStep,
  aTechnique,
  aWork,
  recordsOf,
  skilled,
  TODAY,
} from '../../kit/makers.ts'

const both = [1, 2, 3, 4, 5, 6, 7].flatMap((weekday) =>
  ['morning', 'afternoon'].map((shiftId) => ({ weekday, shiftId })),
)
const heavy = { id: 'heavy', name: 'Heavy air scribe', vibrationMs2: 5, force: 8 }

/** Two dated pieces for the heavy air scribe, a bench for each; 3 h × 50 % at 5 m/s² are 75 points a shift. */
function aDay(...more: Change[]): Records {
  return recordsOf(
    put('lab', aLab({ techniques: [aTechnique({ id: 'brush', force: 1 }), anAirTool(heavy)] })),
    put('place', aPlace({ id: 'a1', xM: 1 })),
    put('place', aPlace({ id: 'a2', xM: 6 })),
    put('person', aPerson({ id: 'edda', name: 'Edda', skills: skilled({ heavy: 3 }), pattern: both })),
    ...['femur', 'block'].flatMap((id) => [
      put('specimen', aSpecimen({ id, forceCeiling: 'heavy', mass: { lowKg: 1, highKg: 2, weighedKg: null } })),
      put('step', aStep({ id: `${id}-1`, pieceId: id, techniqueId: 'heavy' })),
      put('due', aDue({ id: `due-${id}`, pieceId: id, date: '2026-03-20' })),
    ]),
    ...more,
  )
}
const draw = (records: Records) => propose(records, TODAY, { seq: 1, steps: 4000, now: { date: TODAY, minute: 480 } })
const turnsOf = (records: Records) => draw(records).assignments.filter(({ personId }) => personId === 'edda').length

describe('R5 a line-up stops at the cap', () => {
  test('R5 with two heavy air-scribe pieces and one willing expert, says so and names what would help', () => {
    const records = aDay()
    const proposal = draw(records)
    // One shift is 75 points, two would be 150 of 100.
    expect(proposal.assignments).toHaveLength(1)
    expect(judgeDay(records, TODAY, proposal.assignments)).toEqual([])
    const idle = proposal.leftOut.find(({ kind, id }) => kind === 'person' && id === 'edda')
    expect(idle).toMatchObject({ code: 'vibration', changes: [{ code: 'vibration', person: 'edda', amount: 50 }] })
    const said = idle ? sayLeftOut(records, idle) : ''
    expect(said).toContain('Edda would be above the day’s limit for vibration')
    expect(said).toContain('gentler work, somebody else signed off for it, or another day')
    const piece = proposal.leftOut.find(({ kind }) => kind === 'piece')
    expect(piece).toMatchObject({ code: 'vibration' })
  })

  test('R5 and offers the second turn once a second expert is in, or the tool is gentler', () => {
    const second = put('person', aPerson({ id: 'finn', skills: skilled({ heavy: 3 }), pattern: both }))
    expect(draw(aDay(second)).assignments).toHaveLength(2)
    const gentler = put('lab', aLab({ techniques: [anAirTool({ ...heavy, vibrationMs2: 4 })] }))
    expect(draw(aDay(gentler)).assignments).toHaveLength(2)
  })

  test('R5 counts what was done earlier that day', () => {
    const done = { personId: 'edda', techniqueId: 'heavy', shiftId: 'evening', state: 'finished' as const }
    const ran = (runningMinutes: number) =>
      put('work', aWork({ ...done, pieceId: 'femur', placeId: 'a1', minutes: 60, runningMinutes }))
    // 30 min at 5 m/s² are 25 points: exactly the rest. One more minute is too much.
    expect(turnsOf(aDay(ran(30)))).toBe(1)
    expect(turnsOf(aDay(ran(31)))).toBe(0)
  })
})

describe('R5 bench minutes', () => {
  const capped = (benchMinutesMax: number) =>
    put('lab', aLab({ techniques: [anAirTool({ ...heavy, vibrationMs2: 1, benchMinutesMax })] }))

  test('R5 keeps the lab’s cap for a technique, and the rule says what the solver did', () => {
    expect(turnsOf(aDay(capped(360)))).toBe(2)
    const records = aDay(capped(359))
    expect(turnsOf(records)).toBe(1)
    const twice = draw(aDay(capped(360))).assignments
    expect(judgeDay(records, TODAY, twice)).toMatchObject([
      { rule: 'R5', code: 'minutes-over', numbers: { minutes: 360, limit: 359 } },
    ])
  })

  test('R5 keeps the cap for everything at a microscope together', () => {
    const scope = (scopeMinutesMax: number) =>
      aDay(
        put(
          'lab',
          aLab({
            limits: { ...aLab().limits, scopeMinutesMax },
            techniques: [anAirTool({ ...heavy, vibrationMs2: 1, needs: ['microscope'] })],
          }),
        ),
        ...['a1', 'a2'].map((id, i) => put('place', aPlace({ id, xM: 1 + 5 * i, features: ['microscope'] }))),
      )
    expect(turnsOf(scope(360))).toBe(2)
    expect(turnsOf(scope(180))).toBe(1)
    expect(turnsOf(scope(179))).toBe(0)
  })
})

describe('O what does not mix', () => {
  const techniques = [
    aTechnique({ id: 'brush', force: 1, hazards: ['dust'] }),
    aTechnique({ id: 'gluing', force: null, hazards: ['solvent'] }),
  ]
  const work = (id: string, techniqueId: string) => [
    put('specimen', aSpecimen({ id, forceCeiling: 'brush', mass: { lowKg: 1, highKg: 2, weighedKg: null } })),
    put('step', aStep({ id: `${id}-1`, pieceId: id, techniqueId })),
    put('person', aPerson({ id: `for-${id}`, name: id, skills: skilled({ [techniqueId]: 3 }), pattern: both })),
  ]
  const day = (...more: Change[]) =>
    recordsOf(
      put('lab', aLab({ techniques })),
      put('place', aPlace({ id: 'a1', xM: 1, seats: 2 })),
      ...[...work('skull', 'brush'), ...work('rib', 'gluing')],
      ...more,
    )
  const by = (records: Records, shiftId: string) =>
    draw(records)
      .assignments.filter((turn) => turn.shiftId === shiftId)
      .map(({ stepId }) => stepId)
      .sort()

  test('O dust and solvent are given one bench in turn, and side by side once its hood takes the vapour', () => {
    for (const shiftId of ['morning', 'afternoon']) expect(by(day(), shiftId)).toHaveLength(1)
    const hood = day(put('place', aPlace({ id: 'a1', xM: 1, seats: 2, features: ['fume hood'] })))
    for (const shiftId of ['morning', 'afternoon']) expect(by(hood, shiftId)).toEqual(['rib-1', 'skull-1'])
    const left = draw(day()).leftOut.find(({ kind }) => kind === 'person')
    expect(left?.code).toBe('keepIn')
    expect(left ? sayLeftOut(day(), left) : '').toMatch(/Dust, solvent and open view do not mix, and at A1 they would/i)
  })

  test('O neither is planned where visitors look on', () => {
    const view = day(put('place', aPlace({ id: 'a1', xM: 1, seats: 2, isInView: true })))
    expect(draw(view).assignments).toEqual([])
  })
})

describe('O checks before use', () => {
  const check = (what: 'extraction' | 'compressor', placeId: string | null, since: string) =>
    put(
      'check',
      kinds.check.parse({
        ...{ id: `${what}-${placeId}`, name: 'Arm', what, placeId, every: { unit: 'days', count: 1 } },
        ...{ ratedKg: null, since, isActive: true, last: null },
      }),
    )
  const yesterday = '2026-03-10'

  test('O a place whose check is overdue is not offered, one that is due today is', () => {
    const at = (records: Records) => draw(records).assignments.map(({ placeId }) => placeId)
    expect(at(aDay(check('extraction', 'a1', TODAY)))).toHaveLength(1)
    expect(at(aDay(check('extraction', 'a1', yesterday)))).toEqual(['a2'])
    const none = draw(aDay(check('extraction', 'a1', yesterday), check('extraction', 'a2', yesterday)))
    expect(none.assignments).toEqual([])
    expect(none.leftOut.find(({ kind }) => kind === 'person')?.code).toBe('open')
  })

  test('O without a checked compressor no air tool is planned', () => {
    expect(draw(aDay(check('compressor', null, yesterday))).assignments).toEqual([])
  })

  test('O who is at work at such a place keeps the seat', () => {
    const work = aWork({ personId: 'edda', pieceId: 'femur', placeId: 'a1', techniqueId: 'heavy' })
    const turn = { ...draw(aDay()).assignments[0], placeId: 'a1', pieceId: 'femur', stepId: 'femur-1' }
    const seated = put(
      'assignment',
      kinds.assignment.parse({
        ...{ date: TODAY, by: 'edda', at: `${TODAY}T08:00:00.000Z`, how: 'drawn', personId: 'edda' },
        ...{ pieceId: turn.pieceId, stepId: turn.stepId, placeId: 'a1', shiftId: 'morning' },
        id: `${TODAY}.morning.edda`,
      }),
    )
    const records = aDay(seated, put('work', work), check('extraction', 'a1', yesterday))
    const { problem } = buildProblem(records, TODAY, { now: { date: TODAY, minute: 560 } })
    expect(problem.begun).toMatchObject([{ place: 'a1', shift: 'morning' }])
    expect(problem.places.find(({ id }) => id === 'a1')).toMatchObject({ isCheckOverdue: false, closed: ['afternoon'] })
  })
})
