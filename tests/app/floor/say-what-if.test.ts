// What would follow, in one sentence, before one lets go.
import { expect, test } from 'vitest'
import { consider } from '#lib/lineup'
import { PersonId, PlaceId, put, ShiftId } from '#lib/words'
import { sayLoss, sayWhatIf, sayWish } from '../../../app/floor/what-if/say-what-if.ts'
import { aPerson, aSmallLab, aTurn, skilled, TODAY } from '../../kit/makers.ts'

const records = aSmallLab(put('person', aPerson({ id: 'bo', name: 'Bo', skills: skilled({ needle: 3 }) })))
const turn = aTurn()

test('who would go where, and what it costs', () => {
  const name = records.person.get(turn.personId)?.name ?? ''
  const code = records.place.get(turn.placeId)?.code ?? ''
  expect(sayWish(records, [turn])).toBe(`${name} to ${code}`)
  const answer = consider(records, TODAY, { turns: [turn], from: [] })
  const other = { ...turn, personId: PersonId.parse('bo') }
  const changed = {
    ...answer,
    isPossible: true,
    findings: [],
    waits: [turn.pieceId],
    lossPerMille: 20,
    changes: [
      { shiftId: turn.shiftId, personId: turn.personId, code: 'added' as const, before: null, after: turn },
      {
        ...{ shiftId: turn.shiftId, personId: other.personId, code: 'place' as const, before: other },
        after: { ...other, placeId: PlaceId.parse('b2') },
      },
    ],
  }
  const piece = records.specimen.get(turn.pieceId)?.number ?? ''
  const b2 = records.place.get('b2')?.code ?? ''
  expect(sayWhatIf(records, [turn], changed)).toBe(
    `${name} to ${code}: Bo moves to ${b2}, ${piece} waits; 2\u00a0% worse for the day.`,
  )
  const alone = { ...changed, changes: changed.changes.slice(0, 1), waits: [], lossPerMille: -4 }
  expect(sayWhatIf(records, [turn], alone)).toBe(
    `${name} to ${code}: nobody else moves; less than 1\u00a0% better for the day.`,
  )
})

test('why it cannot be, from the rules themselves', () => {
  const unskilled = aSmallLab(put('person', aPerson({ id: turn.personId, skills: [] })))
  const said = sayWhatIf(unskilled, [turn], consider(unskilled, TODAY, { turns: [turn], from: [] }))
  expect(said).toMatch(/ cannot be\. .+\.$/)
  const nowhere = { ...turn, shiftId: ShiftId.parse('night') }
  expect(sayWhatIf(records, [nowhere], consider(records, TODAY, { turns: [nowhere], from: [] }))).toMatch(/cannot be/)
})

test('a loss that is none is said so', () => {
  expect([0, 3, 23, -31].map(sayLoss)).toEqual([
    'no worse for the day',
    'less than 1\u00a0% worse for the day',
    '2\u00a0% worse for the day',
    '3\u00a0% better for the day',
  ])
})
