// Whoever's seat is changed on a posted day is told until they have seen it, in the words of what they last knew; nobody
// else is told, and what one changes oneself is no news.
import { describe, expect, it } from 'vitest'
import { reseatsOf } from '#lib/views'
import { project, put, type Records, withChanges } from '#lib/words'
import { sayReseat } from '../../../app/mine/say-reseat.ts'
import { aPerson, aSmallLab, aTurn, TODAY, TOMORROW } from '../../kit/makers.ts'
import { act } from '../../kit/makers-ops.ts'
import { assignmentId, oneTurn, posted, seated, turn } from './case-parts.ts'

const lab = aSmallLab(posted, seated)
const does = (records: Records, who: string, body: Parameters<typeof act>[2]): Records => {
  const done = act(records, who, body)
  expect(done.codes).toEqual([])
  return withChanges(records, done.changes)
}
const moved = { ...turn, personId: 'ana', placeId: 'b2' }

describe('changed seats', () => {
  it('are told to whom they concern, until seen', () => {
    const after = does(lab, 'pia', { kind: 'seat', ...moved })
    const [one] = reseatsOf(after, 'ana', TODAY)
    expect(one?.told.was?.placeId).toBe('b1')
    expect(one?.now?.placeId).toBe('b2')
    if (!one) throw new Error('nothing told')
    const [b1, b2] = ['b1', 'b2'].map((id) => after.place.get(id)?.code)
    expect(sayReseat(after, one, TODAY)).toBe(`Your place changed: ${b2} instead of ${b1}, from 10:00.`)
    const seen = does(after, 'ana', { kind: 'seenReseat', assignmentId })
    expect(reseatsOf(seen, 'ana', TODAY)).toEqual([])
  })

  it('are no news when they are back where they were, or before the day is posted', () => {
    const there = does(lab, 'pia', { kind: 'seat', ...moved })
    const back = does(there, 'pia', { kind: 'seat', ...moved, placeId: 'b1' })
    expect(back.reseat.size).toBe(0)
    const first = does(aSmallLab(seated), 'mira', {
      kind: 'post',
      date: TODAY,
      assignments: [{ ...oneTurn, personId: 'ana', placeId: 'b2' }],
      note: '',
    })
    expect(first.reseat.size).toBe(0)
  })

  it('keep what was known first, however often they change', () => {
    const twice = does(does(lab, 'pia', { kind: 'seat', ...moved }), 'pia', { kind: 'unseat', assignmentId })
    const [one] = reseatsOf(twice, 'ana', TODAY)
    expect([one?.told.was?.placeId, one?.now]).toEqual(['b1', null])
    if (!one) throw new Error('nothing told')
    expect(sayReseat(twice, one, TODAY)).toMatch(/^You have no place any more: /)
  })

  it('are told when a post drops or adds somebody, and not to the author', () => {
    const dropped = does(lab, 'mira', { kind: 'post', date: TODAY, assignments: [], note: '' })
    expect(reseatsOf(dropped, 'ana', TODAY)).toHaveLength(1)
    const own = does(aSmallLab(posted, put('assignment', aTurn({ personId: 'pia' }))), 'pia', {
      kind: 'unseat',
      assignmentId: aTurn({ personId: 'pia' }).id,
    })
    expect(own.reseat.size).toBe(0)
  })

  it('reach whoever claimed a place that broke since: such a claim does not keep the day from being posted', () => {
    const claimedThere = aSmallLab(posted, put('assignment', aTurn({ how: 'claimed' })))
    const post = { kind: 'post', date: TODAY, assignments: [], note: '' } as const
    expect(act(claimedThere, 'mira', post).codes).toEqual(['R7 claimed-since'])
    const broken = does(claimedThere, 'pia', { kind: 'closePlace', placeId: 'b1', until: TOMORROW, reason: 'lamp' })
    expect(reseatsOf(does(broken, 'mira', post), 'ana', TODAY)).toHaveLength(1)
  })

  it('reach no guest and no wall, and leave with their day', () => {
    const after = does(lab, 'pia', { kind: 'seat', ...moved })
    const told = [...after.reseat.values()][0]
    if (!told) throw new Error('nothing told')
    for (const face of ['guest', 'wall'] as const) expect(project(face, 'reseat', told, TODAY)).toBeNull()
    expect(reseatsOf(after, aPerson().id, TOMORROW)).toEqual([])
  })
})
