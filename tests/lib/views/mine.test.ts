// My shift read from the records: which shift is shown, the turn in hand, who is beside one, and what could be claimed.
import { describe, expect, it } from 'vitest'
import { fitForMe } from '#lib/rules'
import { besideOf, claimableFor, minutesAtWork, myShiftOf, rowOf, wayToOffer } from '#lib/views'
import { type Change, kinds, put, ShiftId } from '#lib/words'
import {
  aDue,
  aLab,
  aPerson,
  aPlace,
  aShift,
  aSmallLab,
  aSpecimen,
  aStep,
  aTurn,
  aWork,
  recordsOf,
  skilled,
  TODAY,
  TOMORROW,
} from '../../kit/makers.ts'

const at = (minute: number) => ({ date: TODAY, minute })
const afternoon = aShift({ id: 'pm', name: 'Afternoon', start: '13:00', end: '16:00' })
const twoShifts = put('lab', aLab({ shifts: [aShift(), afternoon] }))

describe('which shift is mine', () => {
  const records = aSmallLab(twoShifts)
  const morning = records.lab.get('lab')?.shifts[0]
  const start = Number(morning?.start.slice(0, 2)) * 60 + Number(morning?.start.slice(3))
  const end = Number(morning?.end.slice(0, 2)) * 60 + Number(morning?.end.slice(3))

  it('is the coming one before it starts, and runs from its first minute', () => {
    expect(myShiftOf(records, 'ana', at(start - 1))).toMatchObject({ phase: 'before', shift: { id: morning?.id } })
    expect(myShiftOf(records, 'ana', at(start))).toMatchObject({ phase: 'now', shift: { id: morning?.id } })
  })

  it('turns to the next with the minute the first ends, and says when the last is over', () => {
    expect(myShiftOf(records, 'ana', at(end - 1)).shift?.id).toBe(morning?.id)
    expect(myShiftOf(records, 'ana', at(end))).toMatchObject({ phase: 'before', shift: { id: 'pm' } })
    expect(myShiftOf(records, 'ana', at(16 * 60))).toMatchObject({ phase: 'over', shift: { id: 'pm' } })
  })

  it('is the one chosen, whatever the clock says', () => {
    const chosen = ShiftId.parse('pm')
    expect(myShiftOf(records, 'ana', at(start), chosen)).toMatchObject({ phase: 'before', shift: { id: 'pm' } })
  })

  it('is none on a day the lab is closed', () => {
    const closed = aSmallLab(put('lab', aLab({ closed: [TODAY] })))
    expect(myShiftOf(closed, 'ana', at(start))).toMatchObject({ shift: null, phase: 'closed', turn: null })
  })
})

describe('the turn in hand', () => {
  it('comes with place, piece, step and the latest work on it', () => {
    const records = aSmallLab(
      put('assignment', aTurn()),
      put('work', aWork({ id: 'w1', state: 'finished', startedAt: `${TODAY}T09:40:00.000Z`, since: null })),
      put('work', aWork({ id: 'w2', startedAt: `${TODAY}T10:40:00.000Z` })),
    )
    const { turn, open } = myShiftOf(records, aTurn().personId, at(650))
    expect(turn).toMatchObject({ work: { id: 'w2' }, assignment: { id: aTurn().id } })
    expect(turn?.step.id).toBe(aTurn().stepId)
    expect(open?.work?.id).toBe('w2')
  })

  it('is not shown once its piece has left the board', () => {
    const records = aSmallLab(put('assignment', aTurn({ pieceId: 'gone' })))
    expect(myShiftOf(records, aTurn().personId, at(650)).turn).toBeNull()
  })

  it('stays in hand while its work is paused, though another shift is looked at', () => {
    const records = aSmallLab(
      twoShifts,
      put('assignment', aTurn()),
      put('work', aWork({ state: 'paused', since: null })),
    )
    const mine = myShiftOf(records, aTurn().personId, at(650), ShiftId.parse('pm'))
    expect(mine.turn).toBeNull()
    expect(mine.open?.work?.state).toBe('paused')
  })

  it('is followed by what comes after it, soonest first', () => {
    const later = aTurn({ id: `${TOMORROW}.am.ana`, date: TOMORROW })
    const records = aSmallLab(put('assignment', later), put('assignment', aTurn()))
    expect(myShiftOf(records, aTurn().personId, at(0)).next.map((turn) => turn.assignment.date)).toEqual([TOMORROW])
  })
})

describe('who is beside one', () => {
  const { date, shiftId } = aTurn()
  const seat = (personId: string, placeId: string): Change =>
    put('assignment', aTurn({ id: `${date}.${shiftId}.${personId}`, personId, placeId }))

  it('names the nearest mentor of the technique, and to the mentor the learner', () => {
    const records = aSmallLab(seat('leo', 'b1'), seat('pia', 'b2'))
    const turns = [...records.assignment.values()]
    const of = (id: string) => turns.flatMap((turn) => (turn.personId === id ? [besideOf(records, turn)] : []))[0]
    const name = (id: string) => records.person.get(id)?.name
    expect(of('leo')).toEqual({ mentor: { name: name('pia'), code: records.place.get('b2')?.code }, learners: [] })
    expect(of('pia')).toEqual({ mentor: null, learners: [name('leo')] })
  })

  it('names nobody beside those who work alone', () => {
    const records = aSmallLab(seat('ben', 'b1'), seat('pia', 'b2'))
    for (const turn of records.assignment.values())
      expect(besideOf(records, turn)).toEqual({ mentor: null, learners: [] })
  })
})

describe('what I could claim', () => {
  const own = (id: string) => [
    put('specimen', aSpecimen({ id, number: id.toUpperCase() })),
    put('step', aStep({ id: `${id}-1`, pieceId: id })),
  ]
  const shiftId = ShiftId.parse(aTurn().shiftId)

  it('begins with what one has worked on, then the soonest date, then what one loves', () => {
    const records = aSmallLab(
      put('person', aPerson({ id: 'zoe', skills: skilled({ needle: 3, brush: 3 }), loves: ['brush'] })),
      ...own('plain'),
      ...own('known').slice(0, 1),
      put('step', aStep({ id: 'known-1', pieceId: 'known', by: [{ personId: 'zoe', minutes: 30 }] })),
      ...own('dated'),
      put('due', aDue({ id: 'd', pieceId: 'dated', date: '2026-06-01' })),
      ...own('loved').slice(0, 1),
      put('step', aStep({ id: 'loved-1', pieceId: 'loved', techniqueId: 'brush' })),
    )
    const list = claimableFor(records, 'zoe', TODAY, shiftId)
    const rank = (id: string) => list.findIndex((one) => one.pieceId === id)
    expect(list[0]).toMatchObject({ pieceId: 'known', isKnown: true })
    expect(rank('dated')).toBe(1)
    expect(rank('loved')).toBeGreaterThan(1)
    expect(rank('loved')).toBeLessThan(rank('plain'))
  })

  it('is empty for whoever has a seat already', () => {
    const records = aSmallLab(put('assignment', aTurn()))
    expect(claimableFor(records, aTurn().personId, TODAY, shiftId)).toEqual([])
  })

  it('offers no scarce place to work that does not need it, and the place where the piece lies before all', () => {
    const lab = (placeId: string | null) =>
      recordsOf(
        ...[...aSmallLab().lab.values()].map((lab) => put('lab', lab)),
        put('place', aPlace({ id: 'a', code: 'A1', features: ['microscope'] })),
        put('place', aPlace({ id: 'b', code: 'B1', features: ['good light'] })),
        put('place', aPlace({ id: 'c', code: 'C1', features: ['good light'] })),
        put('person', aPerson({ id: 'ana' })),
        put('specimen', aSpecimen({ placeId })),
        put('step', aStep({ techniqueId: 'brush' })),
      )
    const offered = (records: ReturnType<typeof lab>) =>
      fitForMe(records, { personId: 'ana' }, TODAY, shiftId).map((fit) => wayToOffer(records, fit)?.placeId)
    expect(offered(lab(null))).toEqual(['b'])
    expect(offered(lab('a'))).toEqual(['a'])
  })
})

describe('small figures', () => {
  it('counts whole minutes, the running stretch among them, never less than none', () => {
    const since = `${TODAY}T10:00:00.000Z`
    const work = kinds.work.parse(aWork({ minutes: 12, since }))
    expect(minutesAtWork(work, Date.parse(since) + 119_000)).toBe(13)
    expect(minutesAtWork(work, Date.parse(since) - 60_000)).toBe(12)
    expect(minutesAtWork({ ...work, since: null }, Date.parse(since))).toBe(12)
  })

  it('shows the own bench among its neighbours of the row, left to right', () => {
    const places = [0, 2, 4, 6, 8, 10].map((xM, i) => put('place', aPlace({ id: `p${i}`, code: `P${i}`, xM, yM: 1 })))
    const records = recordsOf(put('lab', aLab()), ...places, put('place', aPlace({ id: 'far', xM: 4, yM: 6 })))
    const row = (id: string) => {
      const place = records.place.get(id)
      return place ? rowOf(records, place).map((one) => one.id) : []
    }
    expect(row('p0')).toEqual(['p0', 'p1', 'p2', 'p3'])
    expect(row('p3')).toEqual(['p2', 'p3', 'p4', 'p5'])
    expect(row('p5')).toEqual(['p2', 'p3', 'p4', 'p5'])
  })
})
