// Which column means what: by its name in a few languages, else by what stands in it. Whoever imports may change it.
import type { SheetLine } from './read.ts'
import { dateOf, orderOf } from './values.ts'

/** What a column can be taken as; all others are kept in the note. */
export const importFields = [
  ...['fieldNumber', 'contents', 'container', 'locality', 'horizon', 'collector', 'collectedOn', 'shelf', 'weighedKg'],
  ...['lengthM', 'widthM', 'heightM', 'permit', 'owner', 'fieldNotes', 'note', 'partOf', 'faceUp', 'sketchNote'],
  ...['rockHardness', 'hazards', 'hazardNote', 'standsDespite', 'weighedOn', 'lowKg', 'highKg'],
  ...['rock', 'lowKgM3', 'highKgM3', 'plasterMm', 'id'],
] as const
export type ImportField = (typeof importFields)[number]

const names: Readonly<Record<ImportField, RegExp>> = {
  fieldNumber:
    /^(field|jacket|block|feld|jacken)[ _-]?(no|nr|num|number|nummer)?\.?$|^(no|nr|number|numéro|número)\.?$/i,
  contents: /content|element|taxon|inhalt|description|beschreibung|contenu|contenido/i,
  container: /^(container|kind|what it is|type)$/i,
  locality: /localit|site|fundort|lieu|localidad|quarry/i,
  horizon: /horizon|formation|bed|strat|schicht|niveau/i,
  collector: /collector|collected by|found by|sammler|finder|collecteur/i,
  collectedOn: /date|collected on|^collected$|datum|fecha/i,
  shelf: /shelf|rack|stands|storage|regal|étag|estante/i,
  weighedKg: /mass|weight|gewicht|masse|peso|poids/i,
  lengthM: /^length|^länge|^longueur|^largo/i,
  widthM: /^width|^breite|^largeur|^ancho/i,
  heightM: /^height|^höhe|^hauteur|^alto/i,
  permit: /permit|licen[cs]e|genehmigung|permis/i,
  owner: /owner|whose|eigent|propri/i,
  fieldNotes: /field ?notes?|feldnotiz/i,
  // Only as Talus itself writes them: what another file means by such a word is not known.
  note: /^note$/i,
  partOf: /^n of n$/i,
  faceUp: /^face up$/i,
  sketchNote: /^sketch$/i,
  rockHardness: /^rock hardness$/i,
  hazards: /^hazards$/i,
  hazardNote: /^hazard note$/i,
  standsDespite: /^stands despite$/i,
  weighedOn: /^weighed on$/i,
  lowKg: /^estimate, low$/i,
  highKg: /^estimate, high$/i,
  rock: /^rock$/i,
  lowKgM3: /^rock, low$/i,
  highKgM3: /^rock, high$/i,
  plasterMm: /^plaster$/i,
  id: /^talus id$/i,
}
/** Narrow names before wide ones: `field notes` is no field number, `collected on` no collector. */
const inOrder: readonly ImportField[] = [
  ...(['id', 'note', 'partOf', 'faceUp', 'sketchNote', 'rockHardness', 'hazards', 'hazardNote'] as const),
  ...(['standsDespite', 'weighedOn', 'lowKg', 'highKg', 'rock', 'lowKgM3', 'highKgM3', 'plasterMm'] as const),
  ...(['fieldNotes', 'fieldNumber', 'collectedOn', 'collector', 'lengthM', 'widthM', 'heightM', 'weighedKg'] as const),
  ...(['shelf', 'permit', 'owner', 'container', 'locality', 'horizon', 'contents'] as const),
]

/** The meaning of each column, null where it goes into the note. No field is given twice. */
export function columnsOf(head: readonly string[], lines: readonly SheetLine[]): readonly (ImportField | null)[] {
  const found: (ImportField | null)[] = head.map(() => null)
  const give = (column: number, field: ImportField) => {
    if (column >= 0 && !found.includes(field)) found[column] = field
  }
  for (const field of inOrder)
    give(
      head.findIndex((name, column) => found[column] === null && names[field].test(name.replace(/\(.*\)/, '').trim())),
      field,
    )
  const sample = lines.slice(0, 200)
  const free = (test: (cells: readonly string[]) => boolean) =>
    head.findIndex((_name, column) => {
      const cells = sample.map(({ cells: row }) => row[column] ?? '').filter((cell) => cell !== '')
      return found[column] === null && cells.length > 0 && test(cells)
    })
  give(
    free(
      (cells) => cells.filter((cell) => dateOf(cell, orderOf(cells) ?? 'dmy') !== null).length >= cells.length * 0.8,
    ),
    'collectedOn',
  )
  // A number that no other row has, and a figure in each.
  give(
    free(
      (cells) => new Set(cells).size === cells.length && cells.every((cell) => /\d/.test(cell) && cell.length <= 40),
    ),
    'fieldNumber',
  )
  return found
}
