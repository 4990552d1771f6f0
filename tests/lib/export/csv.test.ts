// Spreadsheets: the backlog comes in again as it went out, and no cell is a formula. Pieces here are invented.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { backlogCsv, csvLine } from '#lib/export'
import { columnsOf, planImport, readSheet } from '#lib/import'
import { kinds, type RecordOf } from '#lib/words'
import { aJacket } from '../../kit/makers.ts'

const planOf = (text: string) => {
  const sheet = readSheet(new TextEncoder().encode(text))
  if (!sheet.ok) throw new Error(`not read: ${sheet.why}`)
  return planImport(sheet, columnsOf(sheet.head, sheet.lines), 'dmy')
}

// As typed: forms trim, and a line has one line.
const trimmed = (max: number, unit: fc.Arbitrary<string>) =>
  fc.string({ unit, maxLength: max }).map((text) => text.trim())
const letters = fc.constantFrom(...'ab=+-@\'",;\t|1.é骨🦴＝ ')
const line = trimmed(40, letters).filter((text) => !/^['\s]+$/.test(text))
const prose = trimmed(120, fc.oneof(letters, fc.constant('\n')))
const nine = (value: number) => Math.round(value * 1e9) / 1e9
const metres = fc.oneof(fc.double({ min: 0, max: 99, noNaN: true }).map(nine), fc.constantFrom(0, 1e-7, 12.345678901))
const amount = fc.oneof(metres, fc.constantFrom(1234.5, 99_999))
const density = fc.constantFrom(1610, 2930.25)
const date = fc.constantFrom('2019-05-04', '1998-12-31')
const optional = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: undefined })
const jacket = fc
  .record(
    {
      id: fc.uuid().map((id) => `j${id.slice(0, 30)}`),
      fieldNumber: line.filter((text) => text !== ''),
      ...{ contents: line, locality: line, horizon: line, collector: line, shelf: line, permit: line, owner: line },
      ...{ note: prose, fieldNotes: prose, faceUp: line, sketchNote: line, hazardNote: line, standsDespite: line },
      container: fc.constantFrom('jacket', 'block', 'bag'),
      collectedOn: fc.option(date),
      partOf: fc.option(fc.record({ n: fc.integer({ min: 1, max: 99 }), total: fc.integer({ min: 1, max: 99 }) })),
      rockHardness: fc.integer({ min: 1, max: 5 }),
      hazards: fc.subarray(['wet', 'mould', 'pyrite', 'old plaster', 'radioactive']),
      ...{ lengthM: metres, widthM: metres, heightM: metres },
      mass: fc.record({
        ...{ lowKg: amount, highKg: amount, weighedKg: fc.option(amount), weighedOn: optional(date) },
        from: optional(fc.record({ rock: line, lowKgM3: density, highKgM3: density, plasterMm: metres })),
      }),
    },
    { noNullPrototype: true },
  )
  .map((over) => kinds.jacket.parse(aJacket({ ...over, isInSeason: false } as Parameters<typeof aJacket>[0])))

/** What is empty and what is not there say the same. */
const bare = (one: RecordOf<'jacket'>): unknown =>
  JSON.parse(JSON.stringify(one, (_key, value: unknown) => (value === '' || value === undefined ? undefined : value)))

test('jackets that went out as CSV come in again as the same jackets', () => {
  fc.assert(
    fc.property(fc.uniqueArray(jacket, { minLength: 1, maxLength: 4, selector: ({ id }) => id }), (jackets) => {
      const { jackets: found, doubts } = planOf(backlogCsv.head + jackets.map(backlogCsv.line).join(''))
      expect(doubts).toEqual([])
      expect(found.map(bare)).toEqual(jackets.map(bare))
    }),
    { numRuns: 300, seed: 11 },
  )
})

test('no cell begins as a formula, and what was there is read back', () => {
  const nasty = ['=1+1', '+49', '-5', '@SUM(A1)', '\t=1', ' =1', '＝1', "'=1", "''+1", "'plain", '"=1"', 'a=1']
  for (const text of nasty) {
    const written = csvLine([text]).replace(/\r\n$/, '').replace(/^"|"$/g, '').replaceAll('""', '"')
    expect([text, /^\s*[=+\-@＝＋－＠]/.test(written)]).toEqual([text, false])
    const sheet = readSheet(new TextEncoder().encode(csvLine(['name', 'x']) + csvLine([text, 'x'])))
    expect(sheet.ok && sheet.lines[0]?.cells[0]).toBe(text.trim())
  }
})
