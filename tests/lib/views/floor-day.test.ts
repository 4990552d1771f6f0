import { describe, expect, test } from 'vitest'
import { airOf, crewOf, floorOf, headcountOf, plantOf, shiftsOn, wantsOf } from '#lib/views'
import { kinds, put } from '#lib/words'
import { lab, morning, person, place, records, specimen, step, tick, turn } from './floor-kit.ts'

const skill = (techniqueId: string, level: number) =>
  kinds.person.shape.skills.parse([{ techniqueId, level, by: null, on: '2024-01-01', expiresOn: null }])

describe('who is in a shift', () => {
  test('pattern, exceptions and ticks lie over each other', () => {
    const away = person('cato', {
      exceptions: kinds.person.shape.exceptions.parse([{ date: '2026-03-12', shiftId: null, kind: 'away' }]),
    })
    const extra = person('bea', {
      pattern: [],
      exceptions: kinds.person.shape.exceptions.parse([{ date: '2026-03-12', shiftId: 'am', kind: 'extra' }]),
    })
    const found = crewOf(
      records(put('person', person('ines')), put('person', away), put('person', extra), tick('ines', 'in')),
      morning.date,
      morning.shiftId,
    )
    expect([...found.values()].map((p) => `${p.name} ${p.state}`)).toEqual(['bea expected', 'cato away', 'ines in'])
  })

  test('shifts come in the order of the day and none on a closed date', () => {
    expect(shiftsOn(lab, '2026-03-12').map((shift) => shift.id)).toEqual(['am', 'pm'])
    expect(shiftsOn(lab, '2026-03-13')).toEqual([])
    expect(shiftsOn(lab, '2026-03-14')).toEqual([])
  })

  test('somebody nobody ticked is missed ten minutes into a shift in which others were ticked', () => {
    const base = [
      put('person', person('ines')),
      put('person', person('tobi')),
      put('place', place()),
      put('specimen', specimen('sk')),
      put('step', step('sk-1', 'sk', 'needle')),
      put('assignment', turn('tobi', 'sk', 'm1')),
    ]
    const look = (minute: number, ...ticks: ReturnType<typeof tick>[]) =>
      floorOf(records(...base, ...ticks), { ...morning, minute }, new Map()).places[0]?.sitters[0]?.look
    expect(look(9 * 60 + 45)).toBe('in')
    expect(look(9 * 60 + 39, tick('ines', 'in'))).toBe('in')
    expect(look(9 * 60 + 40, tick('ines', 'in'))).toBe('late')
    expect(look(9 * 60 + 45, tick('ines', 'in'), tick('tobi', 'in'))).toBe('in')
  })
})

describe('the Floor of a shift', () => {
  const room = records(
    put('place', place()),
    put('place', place({ id: kinds.place.shape.id.parse('m2'), code: 'M2', xM: 3.7 })),
    put('person', person('odile', { skills: skill('needle', 4), role: 'preparator' })),
    put('person', person('piet', { skills: skill('needle', 1) })),
    put('person', person('juno')),
    put('specimen', specimen('sk')),
    put('specimen', specimen('jaw', { placeId: kinds.place.shape.id.parse('m2') })),
    put('step', step('sk-1', 'sk', 'needle')),
    put('step', step('rib-1', 'rib', 'needle')),
    put('specimen', specimen('rib')),
    put('assignment', turn('odile', 'sk', 'm1', { how: 'held' })),
    put('assignment', turn('piet', 'rib', 'm2')),
    tick('odile', 'in'),
    tick('piet', 'late', '10:15'),
  )

  test('a learner is tied to the mentor at the neighbouring place', () => {
    const floor = floorOf(room, morning, new Map())
    const [m1, m2] = floor.places
    expect(m2?.sitters[0]?.mentorId).toBe('odile')
    expect(m1?.sitters[0]?.isMentor).toBe(true)
  })

  test('what is worked on comes before what only lies there', () => {
    const floor = floorOf(room, morning, new Map())
    expect(floor.places[1]?.pieces.map((piece) => piece.pieceId)).toEqual(['rib', 'jaw'])
    expect(floor.unseated.map((p) => p.name)).toEqual(['juno'])
  })

  test('the morning is counted by looks, with names', () => {
    const count = headcountOf(floorOf(room, morning, new Map()))
    expect(count).toMatchObject({ late: ['juno', 'piet'].slice(1), held: ['odile'], freeSeats: 0, seatless: ['juno'] })
  })

  test('staff are told of the late one, with the place kept; a volunteer is not', () => {
    const floor = floorOf(room, morning, new Map())
    const as = (role: 'manager' | 'volunteer') =>
      wantsOf(room, floor, { personId: kinds.person.shape.id.parse('maren'), role }).map((want) => want.kind)
    expect(as('manager')).toEqual(['late'])
    expect(as('volunteer')).toEqual([])
  })

  test('a place closed until a date is in use again on that date', () => {
    const closed = records(put('place', place({ closedUntil: '2026-03-12' })))
    expect(floorOf(closed, morning, new Map()).places[0]?.isClosed).toBe(false)
    const still = records(put('place', place({ closedUntil: '2026-03-13' })))
    expect(floorOf(still, morning, new Map()).places[0]?.isClosed).toBe(true)
  })

  test('a dated piece below the line of the lab is at risk, one without a forecast is not said to be', () => {
    const due = kinds.due.parse({
      id: 'd',
      pieceId: 'sk',
      date: '2026-05-02',
      kind: 'exhibit',
      isHard: true,
      state: 'accepted',
      by: 'maren',
      note: '',
    })
    const withDue = records(
      put('place', place()),
      put('specimen', specimen('sk', { placeId: kinds.place.shape.id.parse('m1') })),
      put('due', due),
    )
    expect(floorOf(withDue, morning, new Map([['sk', 6]])).places[0]?.pieces[0]?.isAtRisk).toBe(true)
    expect(floorOf(withDue, morning, new Map([['sk', 7]])).places[0]?.pieces[0]?.isAtRisk).toBe(false)
    expect(floorOf(withDue, morning, new Map()).places[0]?.pieces[0]?.isAtRisk).toBe(false)
  })
})

describe('air and plant', () => {
  const base = records(
    put('place', place({ features: ['extraction'] })),
    put('person', person('kofi')),
    put('specimen', specimen('sk')),
    put('step', step('sk-1', 'sk', 'scribe')),
    put('assignment', turn('kofi', 'sk', 'm1')),
  )
  test('air is used by who is in, reserved for who is late, proposed when named so', () => {
    const air = airOf(base, floorOf(base, morning, new Map()))
    expect(air).toMatchObject({ totalLpm: 300, freeLpm: 255, parts: [{ code: 'M1', lpm: 45, state: 'used' }] })
    const late = records(...changesOf(base), tick('kofi', 'late'))
    expect(airOf(late, floorOf(late, morning, new Map())).parts[0]?.state).toBe('reserved')
    expect(airOf(base, floorOf(base, morning, new Map()), new Set(['am.kofi'])).parts[0]?.state).toBe('proposed')
  })
  test('an extraction arm is in use where a technique needs it', () => {
    expect(plantOf(base, floorOf(base, morning, new Map())).extraction).toEqual({ used: 1, all: 1 })
  })
})

function changesOf(from: ReturnType<typeof records>) {
  return [...from.place.values()]
    .map((p) => put('place', p))
    .concat(
      [...from.person.values()].map((p) => put('person', p)),
      [...from.specimen.values()].map((p) => put('specimen', p)),
      [...from.step.values()].map((p) => put('step', p)),
      [...from.assignment.values()].map((p) => put('assignment', p)),
    )
}
