// A spreadsheet comes in whole, with every doubt named by line and column, or says where it could not be read. Files here
// are invented.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { columnsOf, orderOf, planImport, readSheet } from '#lib/import'
import { parseOp } from '#lib/ops'
import { put, withChanges } from '#lib/words'
import { aSmallLab } from '../../kit/makers.ts'
import { act } from '../../kit/makers-ops.ts'

const utf8 = (text: string) => new TextEncoder().encode(text)

function planned(bytes: Uint8Array) {
  const sheet = readSheet(bytes)
  if (!sheet.ok) return { sheet, plan: null }
  const columns = columnsOf(sheet.head, sheet.lines)
  const dates = sheet.lines.map(({ cells }) => cells[columns.indexOf('collectedOn')] ?? '')
  return { sheet, plan: planImport(sheet, columns, orderOf(dates) ?? 'dmy') }
}

const backlog = [
  'Field no.;Fundort;Date found;Weight (kg);Length (cm);Remark',
  'J-1;Gully Ü;31.12.2019;1.234,5;80;"two lines,\nwith a ""word"""',
  'J-2;Gully Ü;04.05.2019;1,234;80;',
  'J-3;Gully Ü;31.02.2019;12;;',
  ';Gully Ü;01.02.2019;12;;',
  'J-1;Gully Ü;31.12.2019;9;;',
].join('\r\n')

describe('a spreadsheet', () => {
  test('columns are found by name and content; what is in doubt stands beside its line', () => {
    const { plan } = planned(utf8(backlog))
    expect(
      plan?.jackets.map(({ fieldNumber, collectedOn, lengthM, mass }) => [
        fieldNumber,
        collectedOn,
        lengthM,
        mass.weighedKg,
      ]),
    ).toEqual([
      ['J-1', '2019-12-31', 0.8, 1234.5],
      ['J-2', '2019-05-04', 0.8, null],
      ['J-3', null, 0, 12],
    ])
    expect(plan?.doubts.map(({ line, column, why }) => [line, column, why])).toEqual([
      [4, 'Weight (kg)', 'amount'],
      [5, 'Date found', 'date'],
      [6, 'Field no.', 'no-number'],
      [7, 'Field no.', 'doubled'],
    ])
    expect(plan?.jackets[0]?.note).toBe('Remark: two lines,\nwith a "word"')
    expect(plan?.jackets[2]?.note).toBe('Date found: 31.02.2019')
  })

  test('a unit is read from the name of its column however it stands there; a bare 60 is no sixty metres', () => {
    const sized = (name: string, cell: string) => {
      const { plan } = planned(utf8(`Field number;Collected;${name}\nJ-1;12.7.2001;${cell}`))
      const [jacket] = plan?.jackets ?? []
      return [jacket?.collectedOn, jacket?.lengthM, jacket?.mass.weighedKg, plan?.doubts.map(({ why }) => why)]
    }
    for (const name of ['Length (cm)', 'Length [cm]', 'Length cm', 'length_cm', 'Length, cm'])
      expect(sized(name, '60')).toEqual(['2001-07-12', 0.6, null, []])
    expect(sized('Weight g', '1500')).toEqual(['2001-07-12', 0, 1.5, []])
    expect(sized('Length', '2.5')).toEqual(['2001-07-12', 2.5, null, []])
    expect(sized('Length', '60')).toEqual(['2001-07-12', 0, null, ['amount']])
    expect(sized('Length (m)', '12')).toEqual(['2001-07-12', 12, null, []])
  })

  test('the same jackets come of every encoding', () => {
    const wide = new Uint8Array(new Uint16Array([0xfeff, ...[...backlog].map((one) => one.charCodeAt(0))]).buffer)
    const swapped = wide.map((_byte, i) => wide[i ^ 1] ?? 0)
    const latin = Uint8Array.from(backlog, (one) => one.charCodeAt(0))
    const whole = planned(utf8(backlog)).plan
    for (const bytes of [utf8(`\ufeff${backlog}`), wide, swapped, wide.subarray(2), latin])
      expect(planned(bytes).plan).toEqual(whole)
  })

  test('days and months in contradiction, or none that tells, are asked about', () => {
    expect(orderOf(['31.12.2019', '1.2.2019'])).toBe('dmy')
    expect(orderOf(['12/31/2019'])).toBe('mdy')
    expect(orderOf(['31.12.2019', '12.31.2019'])).toBeNull()
    expect(orderOf(['1.2.2019'])).toBeNull()
  })

  test('50 000 rows have 50 000 ids, the same each time', () => {
    const rows = Array.from({ length: 50_000 }, (_row, i) => `J-${i},Gully ${i % 7}`)
    const bytes = utf8(`Field number,Locality\n${rows.join('\n')}`)
    const { plan } = planned(bytes)
    expect(plan?.doubts).toEqual([])
    expect(new Set(plan?.jackets.map(({ id }) => id)).size).toBe(50_000)
    expect(planned(bytes).plan?.importId).toBe(plan?.importId)
  })

  test('comes in once however often, leaves what was there, and is taken back as one', () => {
    const { jackets = [], importId = '' } = planned(utf8(backlog)).plan ?? {}
    const body = { kind: 'importRows', importId, jackets } as const
    const before = aSmallLab(...jackets.slice(0, 1).map((jacket) => put('jacket', jacket)))
    const once = act(before, 'pia', body)
    expect([once.codes, once.changes.length]).toEqual([[], jackets.length - 1])
    expect(act(once.records, 'pia', body).changes).toEqual([])
    const undo = { kind: 'undoImport', importId, pieceIds: jackets.map(({ id }) => id) } as const
    const undone = act(once.records, 'pia', undo)
    expect(withChanges(once.records, undone.changes).resting.size).toBe(before.resting.size)
    expect(act(once.records, 'pia', { ...undo, importId: 'import-other' }).changes).toEqual([])
  })

  test('10 000 hostile files: read or refused by line and column, and every row is either in or named', () => {
    const cell = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 30 }),
      fc.constantFrom(
        '"',
        '""',
        ';',
        ',',
        '\t',
        '\n',
        '\r',
        '=1+1',
        '\u0000',
        '\u202e',
        '31.02.2020',
        '1,234',
        '9'.repeat(400),
      ),
    )
    const made = fc.array(cell, { maxLength: 40 }).map((cells) => utf8(`Field number,Date\n${cells.join(',')}`))
    const mutated = fc
      .tuple(fc.array(fc.tuple(fc.nat(utf8(backlog).length - 1), fc.nat(255)), { maxLength: 12 }), fc.nat(400))
      .map(([edits, cut]) => {
        const bytes = utf8(backlog)
        for (const [at, byte] of edits) bytes[at] = byte
        return bytes.subarray(0, cut)
      })
    fc.assert(
      fc.property(fc.oneof(made, mutated, fc.uint8Array({ maxLength: 300 })), (bytes) => {
        const { sheet, plan } = planned(bytes)
        if (!sheet.ok) {
          expect(sheet.line).toBeGreaterThan(0)
          expect(sheet.column).toBeGreaterThan(0)
          return
        }
        const out = plan?.doubts.filter((doubt) => doubt.isOut) ?? []
        expect((plan?.jackets.length ?? 0) + new Set(out.map(({ line }) => line)).size).toBe(sheet.lines.length)
        for (const { line, column } of plan?.doubts ?? []) expect([line > 0, column !== '']).toEqual([true, true])
        if (!plan || plan.jackets.length === 0) return
        const op = { id: 'op1', kind: 'importRows', importId: plan.importId, jackets: plan.jackets }
        expect(parseOp(op).findings).toBeUndefined()
      }),
      { numRuns: 10_000 },
    )
  }, 120_000)
})
