// One row of a spreadsheet as a jacket, and what in it could not be taken as what its column says.
import { jacketMass } from '#lib/limits'
import { Jacket, PieceId } from '#lib/words'
import type { ImportField } from './columns.ts'
import { hashOf } from './hash.ts'
import type { Doubt, DoubtWhy } from './plan.ts'
import type { SheetLine } from './read.ts'
import { amountOf, type DateOrder, dateOf, type Units } from './values.ts'

const kg: Units = {
  factors: { '': 1, kg: 1, g: 0.001, t: 1000, lb: 0.45359237, lbs: 0.45359237 },
  bareMost: 100_000,
}
const metres: Units = { factors: { '': 1, m: 1, cm: 0.01, mm: 0.001, in: 0.0254, ft: 0.3048 }, bareMost: 10 }
const plain: Units = { factors: { '': 1, mm: 1 }, bareMost: 100_000 }
const round = (amount: number): number => Math.round(amount * 10) / 10
const containers: Readonly<Record<string, Jacket['container']>> = {
  jacket: 'jacket',
  'plaster jacket': 'jacket',
  block: 'block',
  bag: 'bag',
  box: 'bag',
}

/** What is said of a cell. */
export function doubtAt(
  head: readonly string[],
  columns: readonly (ImportField | null)[],
  { line, cells }: SheetLine,
  field: ImportField,
  why: DoubtWhy,
  isOut: boolean,
): Doubt {
  const at = columns.indexOf(field)
  return { line, column: columnName(head, Math.max(0, at)), cell: cells[at] ?? '', why, isOut }
}

/** The name over a column, or its place where it has none. */
const columnName = (head: readonly string[], at: number): string => head[at] || `column ${at + 1}`

/** The jacket of a row; null, with a doubt that says why, where there is none. */
export function jacketOf(
  head: readonly string[],
  row: SheetLine,
  columns: readonly (ImportField | null)[],
  order: DateOrder,
  doubts: Doubt[],
): Jacket | null {
  const noted: string[] = []
  const cellOf = (field: ImportField) => row.cells[columns.indexOf(field)] ?? ''
  const keepInNote = (at: number) => noted.push(`${columnName(head, at)}: ${row.cells[at] ?? ''}`)
  const doubt = (field: ImportField, why: DoubtWhy, isOut = false) => {
    doubts.push(doubtAt(head, columns, row, field, why, isOut))
    keepInNote(columns.indexOf(field))
  }
  const read = <T>(field: ImportField, why: DoubtWhy, is: (cell: string) => T | null): T | null => {
    const cell = cellOf(field)
    if (cell === '') return null
    const value = is(cell)
    if (value === null) doubt(field, why)
    return value
  }
  const text = (field: ImportField) =>
    read(field, 'too-long', (cell) => (cell.length <= 240 ? cell.replaceAll('\n', ' ') : null)) ?? ''
  const amount = (field: ImportField, units: Units, most: number) =>
    read(field, 'amount', (cell) => {
      const value = amountOf(cell, head[columns.indexOf(field)] ?? '', units)
      return value !== null && value <= most ? value : null
    })

  const fieldNumber = cellOf('fieldNumber').replaceAll('\n', ' ')
  if (fieldNumber === '' || fieldNumber.length > 120) {
    doubts.push(doubtAt(head, columns, row, 'fieldNumber', 'no-number', true))
    return null
  }
  const locality = text('locality')
  const collectedOn = read('collectedOn', 'date', (cell) => dateOf(cell, order))
  const weighedKg = amount('weighedKg', kg, 100_000)
  const size = {
    lengthM: amount('lengthM', metres, 100) ?? 0,
    widthM: amount('widthM', metres, 100) ?? 0,
    heightM: amount('heightM', metres, 100) ?? 0,
  }
  // Without measures the weighing is all there is; with them the estimate stands beside it.
  const hasSize = size.lengthM * size.widthM * size.heightM > 0
  const counted = hasSize ? jacketMass(size) : { lowKg: weighedKg ?? 0, highKg: weighedKg ?? 0 }
  const weighedOn = read('weighedOn', 'date', (cell) => dateOf(cell, order))
  const mass = {
    lowKg: amount('lowKg', kg, 100_000) ?? round(counted.lowKg),
    highKg: amount('highKg', kg, 100_000) ?? round(counted.highKg),
    weighedKg,
    ...(weighedOn === null ? {} : { weighedOn }),
    ...rockOf(text('rock'), (field, most) => amount(field, plain, most)),
  }
  const body = {
    ...{ fieldNumber, locality, collectedOn, mass, ...size },
    contents: text('contents'),
    container: read('container', 'kind', (cell) => containers[cell.toLowerCase()] ?? null) ?? 'jacket',
    horizon: text('horizon'),
    collector: text('collector'),
    shelf: text('shelf'),
    permit: text('permit'),
    owner: text('owner'),
    fieldNotes: cellOf('fieldNotes'),
    partOf: read('partOf', 'other', partOf),
    // Until somebody has looked: the middle, as at intake.
    rockHardness: read('rockHardness', 'other', (cell) => (/^[1-5]$/.test(cell) ? Number(cell) : null)) ?? 3,
    hazards: read('hazards', 'other', hazardsOf) ?? [],
    ...whereSaid({
      ...{ faceUp: text('faceUp'), sketchNote: text('sketchNote'), hazardNote: text('hazardNote') },
      standsDespite: text('standsDespite'),
    }),
  }
  const ownId = read('id', 'other', (cell) => PieceId.safeParse(cell).data ?? null)
  row.cells.forEach((cell, at) => {
    if (cell !== '' && (columns[at] ?? null) === null) keepInNote(at)
  })
  const jacket = Jacket.safeParse({
    ...body,
    // Number, locality and day are what tells two jackets apart, in this file and in the same file another year.
    id: ownId ?? PieceId.parse(`i${hashOf(JSON.stringify([fieldNumber, cellOf('locality'), cellOf('collectedOn')]))}`),
    state: 'sealed',
    isInSeason: false,
    placeId: null,
    isTied: false,
    note: [cellOf('note'), ...noted].filter((part) => part !== '').join('\n'),
  })
  if (jacket.success) return jacket.data
  // Only length of words is left to go wrong: more than a note can hold stays out whole rather than cut.
  const longest = row.cells.reduce((best, cell, at) => (cell.length > (row.cells[best]?.length ?? 0) ? at : best), 0)
  const cell = (row.cells[longest] ?? '').slice(0, 80)
  doubts.push({ line: row.line, column: columnName(head, longest), cell, why: 'too-much', isOut: true })
  return null
}

/** `2 of 5`. */
function partOf(cell: string): Jacket['partOf'] {
  const [, n, total] = /^(\d{1,3}) of (\d{1,3})$/.exec(cell) ?? []
  return n === undefined || Number(n) < 1 || Number(total) < 1 ? null : { n: Number(n), total: Number(total) }
}

function hazardsOf(cell: string): Jacket['hazards'] | null {
  return Jacket.shape.hazards.safeParse(cell.split(/\s*;\s*/)).data ?? null
}

/** What the estimate was counted from; all of it or none. */
function rockOf(
  rock: string,
  amount: (field: 'lowKgM3' | 'highKgM3' | 'plasterMm', most: number) => number | null,
): Pick<Jacket['mass'], 'from'> {
  const [lowKgM3, highKgM3, plasterMm] = [
    amount('lowKgM3', 30_000),
    amount('highKgM3', 30_000),
    amount('plasterMm', 500),
  ]
  return lowKgM3 === null || highKgM3 === null || plasterMm === null
    ? {}
    : { from: { rock, lowKgM3, highKgM3, plasterMm } }
}

const whereSaid = (texts: Readonly<Record<string, string>>): Readonly<Record<string, string>> =>
  Object.fromEntries(Object.entries(texts).filter(([, text]) => text !== ''))
