// The lab's pieces as Darwin Core (terms of 2023-09-18): one table for each class, each term in the table of its class, all
// tied to the occurrence. A piece's stage of work is a fact of its own and no `disposition`; the field number is the
// collecting event's, and the record number what the find was given there. Nobody of the lab is named in it.
import type { RecordOf } from '#lib/words'
import { csvNumber } from './csv.ts'

/** The version of the term list that the tables keep to. */
const DARWIN_CORE = '2023-09-18'

/** A jacket or a specimen with what the tables say of it. */
export interface FoundPiece {
  /** Where its ids are unique: the lab's own. */
  readonly lab: string
  readonly dataset: string
  readonly jacket: RecordOf<'jacket'> | null
  readonly specimen: RecordOf<'specimen'> | null
  /** The jacket it came in, itself for a jacket; null where that is not known. */
  readonly from: Pick<RecordOf<'jacket'>, 'id' | 'fieldNumber' | 'collector' | 'collectedOn' | 'fieldNotes'> | null
  /** Names of the techniques of its finished steps. */
  readonly methods: readonly string[]
  /** Whose hands it left into; null while the lab has it. */
  readonly custody: RecordOf<'custody'>['to'] | null
}

/** One row, cell by term; the first term of a table is its id. */
type Row = Readonly<Record<string, string>>

export interface DarwinTable {
  readonly file: string
  /** The class that a row is one of. */
  readonly rowType: string
  /** Full names of its columns. */
  readonly terms: readonly string[]
}

/** A table that is made of pieces. */
export interface PieceTable extends DarwinTable {
  readonly rows: (piece: FoundPiece) => readonly Row[]
}

const DWC = 'http://rs.tdwg.org/dwc/terms/'
const table = (
  file: string,
  rowType: string,
  terms: string,
  rows: (piece: FoundPiece) => readonly Row[],
): PieceTable => ({ file, rowType, terms: terms.split(' ').map((term) => DWC + term), rows })

const pieceOf = ({ jacket, specimen }: FoundPiece) => {
  const piece = specimen ?? jacket
  if (!piece) throw new Error('Believed: a row is of a piece')
  return piece
}
const idOf = (of: FoundPiece, what: string, id: string = pieceOf(of).id) => `${of.lab}:${what}:${id}`

/** The id of a piece's occurrence: what ties all tables together. */
export const occurrenceId = (of: FoundPiece): string => idOf(of, 'occurrence')

const dispositions: Readonly<Record<RecordOf<'custody'>['to'], string>> = {
  collection: 'in collection',
  loan: 'on loan',
  exhibit: 'on exhibit',
  lab: '',
}

const occurrences = table(
  'occurrence.csv',
  `${DWC}Occurrence`,
  'occurrenceID basisOfRecord datasetName catalogNumber recordNumber recordedBy otherCatalogNumbers occurrenceRemarks',
  (of) => [
    {
      occurrenceID: occurrenceId(of),
      basisOfRecord: 'FossilSpecimen',
      datasetName: of.dataset,
      catalogNumber: of.specimen?.catalogueNumber ?? '',
      recordNumber: of.from?.fieldNumber ?? '',
      recordedBy: of.from?.collector ?? '',
      otherCatalogNumbers: of.specimen?.number ?? '',
      occurrenceRemarks: of.specimen?.name ?? of.jacket?.contents ?? '',
    },
  ],
)

const materials = table(
  'materialentity.csv',
  `${DWC}MaterialEntity`,
  'materialEntityID preparations disposition materialEntityRemarks',
  (of) => [
    {
      materialEntityID: idOf(of, 'material'),
      preparations: [of.specimen ? 'fossil' : `fossil in a ${of.jacket?.container ?? 'jacket'}`, ...of.methods].join(
        ' | ',
      ),
      disposition: of.custody === null ? '' : dispositions[of.custody],
      materialEntityRemarks: [
        of.jacket?.partOf ? `${of.jacket.partOf.n} of ${of.jacket.partOf.total}` : '',
        of.specimen?.element ?? '',
      ]
        .filter((part) => part !== '')
        .join('; '),
    },
  ],
)

const events = table('event.csv', `${DWC}Event`, 'eventID fieldNumber eventDate fieldNotes', (of) =>
  of.from === null
    ? []
    : [
        {
          eventID: idOf(of, 'event', of.from.id),
          fieldNumber: of.from.fieldNumber,
          eventDate: of.from.collectedOn ?? '',
          fieldNotes: of.from.fieldNotes ?? '',
        },
      ],
)

const locations = table('location.csv', 'http://purl.org/dc/terms/Location', 'locationID locality', (of) =>
  pieceOf(of).locality === '' ? [] : [{ locationID: idOf(of, 'location'), locality: pieceOf(of).locality }],
)

const contexts = table(
  'geologicalcontext.csv',
  `${DWC}GeologicalContext`,
  'geologicalContextID lithostratigraphicTerms',
  (of) =>
    pieceOf(of).horizon === ''
      ? []
      : [{ geologicalContextID: idOf(of, 'context'), lithostratigraphicTerms: pieceOf(of).horizon }],
)

const identifications = table(
  'identification.csv',
  `${DWC}Identification`,
  'identificationID verbatimIdentification identificationRemarks',
  (of) =>
    of.specimen?.taxon
      ? [
          {
            identificationID: idOf(of, 'identification'),
            verbatimIdentification: of.specimen.taxon,
            identificationRemarks: 'as guessed in the preparation lab',
          },
        ]
      : [],
)

const measurements = table(
  'measurementorfact.csv',
  `${DWC}MeasurementOrFact`,
  'measurementID measurementType measurementValue measurementUnit measurementDeterminedDate measurementMethod',
  (of) => {
    const piece = pieceOf(of)
    const { mass } = piece
    const facts: [type: string, value: string, unit: string, date: string, method: string][] = [
      ...(['lengthM', 'widthM', 'heightM'] as const).flatMap((key): typeof facts =>
        piece[key] > 0 ? [[key.slice(0, -1), csvNumber(piece[key]), 'm', '', '']] : [],
      ),
      ...(mass.weighedKg === null
        ? []
        : [['mass', csvNumber(mass.weighedKg), 'kg', mass.weighedOn ?? '', 'weighed'] as (typeof facts)[number]]),
      ...(mass.highKg > 0
        ? ([
            ['mass, lower estimate', csvNumber(mass.lowKg), 'kg', '', 'from size and density of rock'],
            ['mass, upper estimate', csvNumber(mass.highKg), 'kg', '', 'from size and density of rock'],
          ] as typeof facts)
        : []),
      ...factsOf(of.specimen),
      ...(of.jacket ? [['stage of preparation', of.jacket.state, '', '', ''] as (typeof facts)[number]] : []),
    ]
    return facts.map(([type, value, unit, date, method], n) => ({
      measurementID: idOf(of, 'fact', `${piece.id}:${n + 1}`),
      ...{ measurementType: type, measurementValue: value, measurementUnit: unit },
      ...{ measurementDeterminedDate: date, measurementMethod: method },
    }))
  },
)

function factsOf(one: RecordOf<'specimen'> | null): [string, string, string, string, string][] {
  if (!one) return []
  const { ratings } = one
  return [
    ['stage of preparation', one.stage, '', one.stageSince, ''],
    ...(['rockHardness', 'contrast', 'soundness', 'breakage'] as const).map(
      (key): [string, string, string, string, string] => [
        key === 'rockHardness' ? 'hardness of rock' : key,
        csvNumber(ratings[key]),
        '1 to 5',
        ratings.on,
        'rated by eye and hand',
      ],
    ),
    ...(one.housedKg === undefined
      ? []
      : [['mass with housing', csvNumber(one.housedKg), 'kg', '', ''] as [string, string, string, string, string]]),
  ]
}

/** The core, then the tables tied to it. */
export const pieceTables: readonly PieceTable[] = [
  ...[occurrences, materials, events, locations, contexts, identifications, measurements],
]

/** Photographs, in terms of Audiovisual Core. */
export const photoTable: DarwinTable = {
  file: 'multimedia.csv',
  rowType: 'http://rs.tdwg.org/ac/terms/Multimedia',
  terms: [
    'http://purl.org/dc/terms/identifier',
    'http://purl.org/dc/elements/1.1/type',
    'http://purl.org/dc/elements/1.1/format',
    'http://rs.tdwg.org/ac/terms/accessURI',
    'http://rs.tdwg.org/ac/terms/caption',
    'http://rs.tdwg.org/ac/terms/subjectOrientationLiteral',
    'http://ns.adobe.com/xap/1.0/CreateDate',
    'http://ns.adobe.com/xap/1.0/rights/Owner',
    'http://ns.adobe.com/xap/1.0/rights/UsageTerms',
    'http://ns.adobe.com/exif/1.0/PixelXDimension',
    'http://ns.adobe.com/exif/1.0/PixelYDimension',
    'http://rs.tdwg.org/ac/terms/hashFunction',
    'http://rs.tdwg.org/ac/terms/hashValue',
    'http://rs.tdwg.org/ac/terms/comments',
    'http://rs.tdwg.org/ac/terms/metadataLanguageLiteral',
  ],
}

/** A photograph's row; `origin` is where the lab is found. Whoever follows the address must be let in there. */
export function photoRow(photo: RecordOf<'photo'>, lab: string, origin: string): Row {
  return {
    identifier: `${lab}:photo:${photo.id}`,
    type: 'StillImage',
    format: `image/${photo.form}`,
    accessURI: `${origin}/api/photos/${photo.hash}?of=${photo.pieceId}`,
    caption: photo.caption,
    subjectOrientationLiteral: photo.view,
    CreateDate: photo.takenAt ?? '',
    Owner: photo.owner,
    UsageTerms: photo.licence,
    PixelXDimension: String(photo.widthPx),
    PixelYDimension: String(photo.heightPx),
    hashFunction: 'SHA-256',
    hashValue: photo.hash,
    comments: photo.scaleBarMm === null ? '' : `scale bar ${csvNumber(photo.scaleBarMm)} mm`,
    metadataLanguageLiteral: 'eng',
  }
}

const localName = (term: string): string => term.split('/').at(-1) ?? term

/** The line of names, with the id of the occurrence before it in all tables but the core. */
export const headOf = ({ terms, file }: DarwinTable): string =>
  line([...(file === occurrences.file ? [] : ['occurrenceID']), ...terms.map(localName)])

/** One row as a line. */
export const lineOf = ({ terms, file }: DarwinTable, occurrence: string, row: Row): string =>
  line([...(file === occurrences.file ? [] : [occurrence]), ...terms.map((term) => row[localName(term)] ?? '')])

/** RFC 4180 with every cell quoted. Line breaks in a cell become spaces: readers of archives go by lines. */
const line = (cells: readonly string[]): string =>
  `${cells.map((cell) => `"${cell.replaceAll('"', '""').replace(/\s*[\r\n]+\s*/g, ' ')}"`).join(',')}\r\n`

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;')

/** `meta.xml` after the Darwin Core text guide: which file holds which class, which column which term. */
export function metaXml(): string {
  const format =
    'encoding="UTF-8" fieldsTerminatedBy="," linesTerminatedBy="\\r\\n" fieldsEnclosedBy="&quot;" ignoreHeaderLines="1"'
  const file = ({ file: name, rowType, terms }: DarwinTable): string => {
    const isCore = name === occurrences.file
    const kind = isCore ? 'core' : 'extension'
    const fields = terms.map((term, n) => `    <field index="${isCore ? n : n + 1}" term="${term}"/>`)
    return [
      `  <${kind} ${format} rowType="${rowType}">`,
      `    <files><location>${name}</location></files>`,
      isCore ? '    <id index="0"/>' : '    <coreid index="0"/>',
      ...fields,
      `  </${kind}>`,
    ].join('\n')
  }
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<archive xmlns="http://rs.tdwg.org/dwc/text/" metadata="eml.xml">',
    ...[...pieceTables, photoTable].map(file),
    '</archive>',
    '',
  ].join('\n')
}

/** `eml.xml`: whose data this is and of when (EML 2.2.0). */
export function emlXml({
  lab,
  dataset,
  on,
}: {
  readonly lab: string
  readonly dataset: string
  readonly on: string
}): string {
  const name = escaped(dataset)
  const who = `<organizationName>${name}</organizationName>`
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<eml:eml xmlns:eml="https://eml.ecoinformatics.org/eml-2.2.0" packageId="${escaped(`${lab}.${on}`)}" system="talus" xml:lang="en">`,
    '  <dataset>',
    `    <title>Pieces of ${name}</title>`,
    `    <creator>${who}</creator>`,
    `    <pubDate>${on}</pubDate>`,
    '    <language>en</language>',
    `    <abstract><para>Jackets, blocks and specimens of a fossil preparation lab, in terms of Darwin Core of ${DARWIN_CORE}.</para></abstract>`,
    '    <intellectualRights><para>The lab has stated no licence.</para></intellectualRights>',
    `    <contact>${who}</contact>`,
    '  </dataset>',
    '</eml:eml>',
    '',
  ].join('\n')
}
