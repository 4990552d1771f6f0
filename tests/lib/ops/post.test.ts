// The day as it comes about: holds, the post, seats by hand, and the race for one piece.
import { describe, expect, test } from 'vitest'
import { inverseOf, type Op } from '#lib/ops'
import { put, type Records } from '#lib/words'
import { aHold, aPlace, aSmallLab, aTurn, aWork, NOW, TODAY } from '../../kit/makers.ts'
import { act, anOp, as, whenAt } from '../../kit/makers-ops.ts'

type Turn = ReturnType<typeof aTurn>
const bare = ({ shiftId, personId, pieceId, stepId, placeId }: Turn) => ({
  shiftId,
  personId,
  pieceId,
  stepId,
  placeId,
})
const post = (...turns: Turn[]) => ({ kind: 'post' as const, date: TODAY, assignments: turns.map(bare), note: '' })
const ben = aTurn({ personId: 'ben', pieceId: 'rib' })

describe('post', () => {
  test('O the whole day becomes everybody’s, drawn or held', () => {
    const { records } = act(aSmallLab(put('hold', aHold())), 'mira', post(aTurn(), ben))
    expect(records.day.get(TODAY)).toMatchObject({ times: 1, postedBy: 'mira', postedAt: NOW })
    expect(records.assignment.get(aTurn().id)?.how).toBe('held')
    expect(records.assignment.get(ben.id)?.how).toBe('drawn')
  })

  test('O a second post keeps what is the same, takes off what is gone and counts up', () => {
    const first = act(aSmallLab(), 'mira', post(aTurn(), ben)).records
    const later = whenAt({ at: '2026-03-11T10:30:00.000Z' })
    const second = act(first, 'mira', post({ ...ben, placeId: aTurn({ placeId: 'b2' }).placeId }), later)
    expect(second.records.assignment.size).toBe(1)
    expect(second.records.assignment.get(ben.id)).toMatchObject({ placeId: 'b2', at: later.at })
    expect(second.records.day.get(TODAY)?.times).toBe(2)
    const same = act(first, 'mira', post(aTurn(), ben), later)
    expect(same.changes.map((change) => change.kind)).toEqual(['day'])
  })

  test('R7 a claim that came in between is named, and kept as a claim when the line-up holds it', () => {
    const lab = act(aSmallLab(), 'ana', { kind: 'claim', date: TODAY, ...withoutPerson(aTurn()) }).records
    expect(act(lab, 'mira', post(ben)).findings).toMatchObject([{ code: 'claimed-since', ids: { person: 'ana' } }])
    expect(act(lab, 'mira', post(aTurn(), ben)).records.assignment.get(aTurn().id)?.how).toBe('claimed')
  })

  test('R1 findings name the turn they are about', () => {
    const { findings } = act(aSmallLab(), 'mira', post(aTurn(), aTurn({ personId: 'ben', placeId: 'b2' })))
    expect(findings.map((one) => one.ids.assignment)).toContain(aTurn({ personId: 'ben' }).id)
  })

  test('O what is finished stays on the day whatever has changed since', () => {
    const lab = aSmallLab(put('assignment', aTurn()), put('work', aWork({ state: 'finished', minutes: 60 })))
    const lowered = act(lab, 'pia', {
      kind: 'setCeiling',
      pieceId: 'skull',
      techniqueId: 'brush',
      reason: 'soft',
      entryId: 'e1',
    }).records
    expect(act(lowered, 'mira', post(aTurn(), ben)).codes).toEqual([])
  })
})

describe('post over finished work', () => {
  test('R1 a finished turn keeps its seat in the shift, wherever it stands in the list', () => {
    const lab = aSmallLab(
      put('place', aPlace({ seats: 1 })),
      put('assignment', aTurn()),
      put('work', aWork({ state: 'finished', minutes: 60 })),
    )
    expect(act(lab, 'mira', post(aTurn(), ben)).codes).toEqual(['R1 seat-taken'])
    expect(act(lab, 'mira', post(ben, aTurn())).codes).toEqual(['R1 seat-taken'])
  })
})

describe('hold', () => {
  test('O holding a drawn turn marks it, letting go draws it again', () => {
    const posted = act(aSmallLab(), 'mira', post(aTurn())).records
    const held = act(posted, 'pia', { kind: 'hold', date: TODAY, ...bare(aTurn()) }).records
    expect(held.assignment.get(aTurn().id)?.how).toBe('held')
    const free = act(held, 'pia', { kind: 'unhold', holdId: aTurn().id }).records
    expect(free.assignment.get(aTurn().id)?.how).toBe('drawn')
  })

  test('O a hold for another piece leaves the posted turn as it is', () => {
    const posted = act(aSmallLab(), 'mira', post(aTurn())).records
    const other = aTurn({ pieceId: 'jacket1', placeId: 'b2' })
    const held = act(posted, 'pia', { kind: 'hold', date: TODAY, ...bare(other) }).records
    expect(held.assignment.get(aTurn().id)?.how).toBe('drawn')
    expect(held.hold.get(aTurn().id)?.pieceId).toBe('jacket1')
  })
})

describe('race', () => {
  test('R7 of two claims for one piece the second learns who has it', () => {
    const claim = { kind: 'claim' as const, date: TODAY, ...withoutPerson(aTurn()) }
    const first = act(aSmallLab(), 'ana', claim)
    const second = act(first.records, 'ben', claim)
    expect(first.codes).toEqual([])
    expect(second.findings).toMatchObject([{ rule: 'R7', code: 'has-it', ids: { person: 'ana', since: NOW } }])
    expect(second.records).toBe(first.records)
  })

  test('O a refusal that rests on what the office keeps names nobody', () => {
    const lab = aSmallLab(put('hold', aHold({ personId: 'ben' })))
    const { findings } = act(lab, 'ana', { kind: 'claim', date: TODAY, ...withoutPerson(aTurn()) })
    expect(findings).toEqual([{ rule: 'O', code: 'ask-manager', ids: { piece: 'skull' }, numbers: {} }])
  })

  test('O seating somebody elsewhere moves them', () => {
    const posted = act(aSmallLab(), 'mira', post(aTurn())).records
    const moved = act(posted, 'pia', { kind: 'seat', date: TODAY, ...bare(aTurn({ placeId: 'b2' })) })
    expect(moved.codes).toEqual([])
    expect(moved.records.assignment.get(aTurn().id)).toMatchObject({ placeId: 'b2', how: 'held', by: 'pia' })
    expect(moved.records.assignment.size).toBe(1)
  })

  test('O a hold goes along with the seat, and one undo brings both back', () => {
    const posted = act(aSmallLab(put('hold', aHold())), 'mira', post(aTurn())).records
    const { id } = aTurn()
    const seat = { kind: 'seat' as const, date: TODAY, ...bare(aTurn({ placeId: 'b2' })) }
    const moved = act(posted, 'pia', seat).records
    expect(moved.hold.get(id)).toMatchObject({ placeId: 'b2' })
    const back = act(moved, 'pia', undoOf(posted, seat)).records
    expect(back.hold.get(id)).toEqual(posted.hold.get(id))
    expect(back.assignment.get(id)).toMatchObject({ placeId: aTurn().placeId, how: 'held' })
  })

  test('O whoever is unseated is let go of, and one undo holds them there again', () => {
    const posted = act(aSmallLab(put('hold', aHold())), 'mira', post(aTurn())).records
    const { id } = aTurn()
    const unseat = { kind: 'unseat' as const, assignmentId: id }
    const off = act(posted, 'pia', unseat).records
    expect([off.assignment.size, off.hold.size]).toEqual([0, 0])
    const back = act(off, 'pia', undoOf(posted, unseat)).records
    expect(back.hold.get(id)).toEqual(posted.hold.get(id))
    expect(back.assignment.get(id)).toMatchObject({ placeId: aTurn().placeId })
  })
})

/** The op that takes back what pia did on these records. */
function undoOf(records: Records, body: Parameters<typeof anOp>[0]): Op {
  const undo = inverseOf(records, anOp(body), anOp(body, 'op2').id, as(records, 'pia'))
  if (!undo) throw new Error('no way back')
  return undo
}

function withoutPerson(turn: Turn) {
  const { shiftId, pieceId, stepId, placeId } = turn
  return { shiftId, pieceId, stepId, placeId }
}
