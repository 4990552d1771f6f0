// The sentences of an import: what columns are called, and why a cell or a file is in doubt.
import type { Doubt, ImportField, SheetRead } from '#lib/import'

/** What a column is taken as. */
export const fieldWords: Readonly<Record<ImportField, string>> = {
  fieldNumber: 'Field number',
  contents: 'Expected contents',
  container: 'Jacket, block or bag',
  locality: 'Locality',
  horizon: 'Horizon',
  collector: 'Collector',
  collectedOn: 'Collected on',
  shelf: 'Stands at',
  weighedKg: 'Weighed',
  lengthM: 'Length',
  widthM: 'Width',
  heightM: 'Height',
  permit: 'Permit',
  owner: 'Whose it is',
  fieldNotes: 'Field notes',
  note: 'Note',
  partOf: 'Jacket n of N',
  faceUp: 'Face up',
  sketchNote: 'Sketch, in words',
  rockHardness: 'Rock hardness, 1 to 5',
  hazards: 'Hazards',
  hazardNote: 'Hazard note',
  standsDespite: 'Why it stands there',
  weighedOn: 'Weighed on',
  lowKg: 'Estimate, low',
  highKg: 'Estimate, high',
  rock: 'Rock',
  lowKgM3: 'Rock density, low',
  highKgM3: 'Rock density, high',
  plasterMm: 'Plaster, mm',
  id: 'Talus id',
}

const whys: Readonly<Record<Doubt['why'], string>> = {
  'no-number': 'no field number, or one of more than 120 letters; the row stays out',
  doubled: 'an earlier row has the same number, locality and date; the row stays out',
  'too-much': 'more than a note can hold; the row stays out',
  date: 'no day of the calendar in this order; kept in the note',
  amount: 'no amount that can be read in one way only; kept in the note',
  kind: 'neither jacket, block nor bag; kept in the note, taken as a jacket',
  'too-long': 'more than 240 letters; kept in the note',
  other: 'not as Talus writes it; kept in the note',
}

/** A doubtful cell beside its line. */
export function sayDoubt({ line, column, cell, why }: Doubt): string {
  return `Line ${line}, ${column}: ${cell === '' ? 'empty' : `“${cell.slice(0, 60)}”`}, ${whys[why]}.`
}

/** Why a file could not be read. */
export function sayUnread({ line, column, why }: Extract<SheetRead, { ok: false }>): string {
  if (why === 'empty') return 'Line 1, column 1: no row of names with rows under it. Nothing was brought in.'
  if (why === 'too-long')
    return `Line ${line}, column 1: more than 100 000 rows. Cut the file in two. Nothing was brought in.`
  return `Line ${line}, column ${column}: a quotation mark opens and is not closed, or a row has no end. Nothing was brought in.`
}
