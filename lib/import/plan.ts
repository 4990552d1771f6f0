// What an import would do, before anybody presses: the jackets, and each cell that could not be taken as what its column
// says, by line and name of column. A doubtful cell is never lost: it goes into the note of its jacket as it was written.
import { jacketMass } from '#lib/limits'
import { Jacket, PieceId, RecordId } from '#lib/words'
import type { ImportField } from './columns.ts'
import type { SheetLine } from './read.ts'
import { amountOf, type DateOrder, dateOf } from './values.ts'

/** Why a cell is in doubt; the first three leave the whole row out. */
type DoubtWhy = 'no-number' | 'doubled' | 'too-much' | 'date' | 'amount' | 'kind' | 'too-long'

export type Doubt = {
  readonly line: number
  readonly column: string
  readonly cell: string
  readonly why: DoubtWhy
  /** Whether the row stays out for it. */
  readonly isOut: boolean
}

export type ImportPlan = {
  /** The same for the same jackets: an import run again is known by it, and taken back by it. */
  readonly importId: string
  readonly jackets: readonly Jacket[]
  readonly doubts: readonly Doubt[]
}

type Sheet = { readonly head: readonly string[]; readonly lines: readonly SheetLine[] }

const kg = { '': 1, kg: 1, g: 0.001, t: 1000, lb: 0.45359237, lbs: 0.45359237 }
const metres = { '': 1, m: 1, cm: 0.01, mm: 0.001, in: 0.0254, ft: 0.3048 }
const round = (amount: number): number => Math.round(amount * 10) / 10
const containers: Readonly<Record<string, Jacket['container']>> = {
  jacket: 'jacket',
  'plaster jacket': 'jacket',
  block: 'block',
  bag: 'bag',
  box: 'bag',
}

/** Plans an import; `columns` holds the meaning of each column of `sheet.head`. */
export function planImport(sheet: Sheet, columns: readonly (ImportField | null)[], order: DateOrder): ImportPlan {
  const doubts: Doubt[] = []
  const jackets: Jacket[] = []
  const seen = new Set<string>()
  for (const row of sheet.lines) {
    const found: Doubt[] = []
    const jacket = jacketOf(sheet.head, row, columns, order, found)
    if (jacket && seen.has(jacket.id)) found.push(doubtAt(sheet.head, columns, row, 'fieldNumber', 'doubled', true))
    const isOut = found.some((doubt) => doubt.isOut)
    doubts.push(...found)
    if (!jacket || isOut) continue
    seen.add(jacket.id)
    jackets.push(jacket)
  }
  const importId = RecordId.parse(`import-${hashOf(jackets.map(({ id }) => id).join())}`)
  return { importId, jackets, doubts }
}

function doubtAt(
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

function jacketOf(
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
  const amount = (field: ImportField, units: Readonly<Record<string, number>>, most: number) =>
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
  const body = {
    fieldNumber,
    locality,
    collectedOn,
    contents: text('contents'),
    container: read('container', 'kind', (cell) => containers[cell.toLowerCase()] ?? null) ?? 'jacket',
    horizon: text('horizon'),
    collector: text('collector'),
    shelf: text('shelf'),
    permit: text('permit'),
    owner: text('owner'),
    fieldNotes: cellOf('fieldNotes'),
    lengthM: amount('lengthM', metres, 100) ?? 0,
    widthM: amount('widthM', metres, 100) ?? 0,
    heightM: amount('heightM', metres, 100) ?? 0,
  }
  // Without measures the weighing is all there is; with them the estimate stands beside it.
  const hasSize = body.lengthM * body.widthM * body.heightM > 0
  const estimate = hasSize ? jacketMass(body) : { lowKg: weighedKg ?? 0, highKg: weighedKg ?? 0 }
  row.cells.forEach((cell, at) => {
    if (cell !== '' && (columns[at] ?? null) === null) keepInNote(at)
  })
  const jacket = Jacket.safeParse({
    ...body,
    // Number, locality and day are what tells two jackets apart, in this file and in the same file another year.
    id: PieceId.parse(`i${hashOf(JSON.stringify([fieldNumber, cellOf('locality'), cellOf('collectedOn')]))}`),
    state: 'sealed',
    partOf: null,
    // Until somebody has looked: the middle, as at intake.
    rockHardness: 3,
    hazards: [],
    isInSeason: false,
    placeId: null,
    isTied: false,
    mass: { lowKg: round(estimate.lowKg), highKg: round(estimate.highKg), weighedKg },
    note: noted.join('\n'),
  })
  if (jacket.success) return jacket.data
  // Only length is left to go wrong: more than a note can hold stays out whole rather than cut.
  const longest = row.cells.reduce((best, cell, at) => (cell.length > (row.cells[best]?.length ?? 0) ? at : best), 0)
  const cell = (row.cells[longest] ?? '').slice(0, 80)
  doubts.push({ line: row.line, column: columnName(head, longest), cell, why: 'too-much', isOut: true })
  return null
}

/** 128 bits of a text as 28 letters, the same everywhere: four 32-bit FNV-1a sums with different beginnings. */
function hashOf(text: string): string {
  let [a, b, c, d] = [0x811c9dc5, 0x9e3779b9, 0x85ebca6b, 0xc2b2ae35]
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    a = Math.imul(a ^ code, 0x01000193)
    b = Math.imul(b ^ (code + 131), 0x01000193)
    c = Math.imul(c ^ (code + 262), 0x01000193)
    d = Math.imul(d ^ (code + 393), 0x01000193)
  }
  return [a, b, c, d].map((sum) => (sum >>> 0).toString(36).padStart(7, '0')).join('')
}
