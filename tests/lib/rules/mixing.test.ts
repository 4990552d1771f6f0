// Dust, solvent and open public view: what one place takes in one shift, and what is only told of two near ones.
import { describe, expect, test } from 'vitest'
import { judgeDay, judgeTurn, mixingOfDay } from '#lib/rules'
import { put } from '#lib/words'
import { aLab, aPlace, aSmallLab, aTechnique, aTurn, aWork, TODAY } from '../../kit/makers.ts'

const lab = aLab({
  techniques: [
    aTechnique({ id: 'brush', force: 1, hazards: ['dust'] }),
    aTechnique({ hazards: ['solvent'] }),
    ...aLab().techniques.slice(2),
  ],
})
const room = aSmallLab(put('lab', lab), put('place', aPlace({ id: 'b2', xM: 2.5, yM: 1 })))
const inView = (over = {}) =>
  aSmallLab(put('lab', lab), put('place', aPlace({ id: 'b1', xM: 1, yM: 1, isInView: true, ...over })))
/** A turn with the needle, which gives off solvent in this lab, at b1; and one with the brush, which gives off dust. */
const solvent = aTurn()
const dust = (over = {}) => aTurn({ personId: 'pia', pieceId: 'jacket1', ...over })

const refused = (records: typeof room, ...turns: ReturnType<typeof aTurn>[]) =>
  judgeDay(records, TODAY, turns)
    .filter(({ code }) => /dust|solvent/.test(code))
    .map(({ code, ids }) => `${code} ${ids.person}`)

describe('O what does not mix', () => {
  test('O dust and solvent at one place in one shift are refused, whoever comes last', () => {
    expect(refused(room, solvent, dust())).toEqual(['dust-with-solvent pia'])
    expect(refused(room, dust(), solvent)).toEqual([`dust-with-solvent ${solvent.personId}`])
    expect(refused(room, solvent, dust({ shiftId: 'afternoon' }))).toEqual([])
    expect(refused(room, solvent, dust({ placeId: 'b2' }))).toEqual([])
    expect(refused(room, dust(), dust({ personId: 'leo' }))).toEqual([])
  })

  test('O where visitors look on nothing is given off', () => {
    expect(refused(inView(), solvent)).toEqual([`solvent-in-view ${solvent.personId}`])
    expect(refused(inView(), dust())).toEqual(['dust-in-view pia'])
    expect(refused(inView(), dust({ placeId: 'b2' }))).toEqual([])
  })

  test('O what works in its own hood or cabinet is taken as kept in', () => {
    expect(refused(inView({ features: ['fume hood'] }), solvent)).toEqual([])
    expect(refused(inView({ features: ['fume hood'] }), dust())).toEqual(['dust-in-view pia'])
    const hood = aSmallLab(put('lab', lab), put('place', aPlace({ id: 'b1', xM: 1, yM: 1, features: ['fume hood'] })))
    expect(refused(hood, solvent, dust())).toEqual([])
  })

  test('O what is finished in that shift still counts for whoever comes, and is not named itself', () => {
    const done = aSmallLab(put('lab', lab), put('assignment', solvent), put('work', aWork({ state: 'finished' })))
    expect(judgeTurn(done, TODAY, dust()).map(({ code, ids }) => `${code} ${ids.person}`)).toContain(
      'dust-with-solvent pia',
    )
    expect(judgeTurn(done, TODAY, dust()).every(({ ids }) => ids.person === 'pia')).toBe(true)
  })

  test('O one technique that gives off both mixes them by itself', () => {
    const both = aSmallLab(
      put('lab', aLab({ techniques: [aTechnique({ hazards: ['dust', 'solvent'] }), ...aLab().techniques.slice(2)] })),
    )
    expect(refused(both, solvent)).toEqual([`dust-with-solvent ${solvent.personId}`])
  })
})

test('O near each other at two places they are told and not refused', () => {
  const codes = (...turns: ReturnType<typeof aTurn>[]) => mixingOfDay(room, TODAY, turns).map(({ code }) => code)
  expect(codes(solvent, dust({ placeId: 'b2' }))).toEqual(['dust-beside-solvent'])
  expect(codes(solvent, dust({ placeId: 'm1' }))).toEqual([])
  expect(codes(solvent, dust())).toEqual(['dust-with-solvent'])
})
