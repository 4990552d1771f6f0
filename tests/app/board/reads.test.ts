import { expect, test } from 'vitest'
import { noRecords, put, withChanges } from '#lib/words'
import { computeOn, stillReads } from '../../../app/_board/core/reads.ts'
import { paintsFor } from '../../../app/_board/derive.ts'
import { aJacket, aPerson } from '../../kit/makers.ts'

const empty = noRecords()
const withJacket = withChanges(empty, [put('jacket', aJacket())])
const withPerson = withChanges(empty, [put('person', aPerson())])

test('a computation stands until a table it read is another', () => {
  const { value, reads } = computeOn(empty, (records) => records.jacket.size)
  expect(value).toBe(0)
  expect(stillReads(reads, withPerson)).toBe(true)
  expect(stillReads(reads, withJacket)).toBe(false)
})

test('reading the board whole reads every table', () => {
  const { reads } = computeOn(empty, (records) => Object.values(records).length)
  expect(stillReads(reads, withPerson)).toBe(false)
})

test('a part paints for its own kinds and for whatever else it is given', () => {
  const isSame = paintsFor('jacket')
  expect(isSame({ records: empty, n: 1 }, { records: withPerson, n: 1 })).toBe(true)
  expect(isSame({ records: empty, n: 1 }, { records: withJacket, n: 1 })).toBe(false)
  expect(isSame({ records: empty, n: 1 }, { records: empty, n: 2 })).toBe(false)
  expect(isSame({ at: { records: empty, date: 'a' } }, { at: { records: withPerson, date: 'a' } })).toBe(true)
  expect(isSame({ at: { records: empty, date: 'a' } }, { at: { records: empty, date: 'b' } })).toBe(false)
})
