// The Darwin Core archive against the published term list (tests/data/dwc says which): each term is one of the list and
// stands in its class, each file that is named is there, each row belongs to an occurrence. Our own check, written from
// the Darwin Core text guide; what reads the CSV shares nothing with what writes it.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import { strFromU8, unzipSync } from 'fflate'
import { beforeAll, describe, expect, test } from 'vitest'
import { kinds, put, Stage } from '#lib/words'
import { darwinCoreOf } from '../../../server/out/darwin-core.ts'
import { memoryStore } from '../../../server/store/memory.ts'
import { aJacket, aLab, aSpecimen, aStep } from '../../kit/makers.ts'
import { root } from '../../kit/server.ts'

const at = '2026-03-12T09:00:00.000Z'
const listed = (name: string) =>
  parse(readFileSync(join(root, 'tests/data/dwc', name), 'utf8'), { columns: true }) as Record<string, string>[]
const classOf = new Map(listed('terms.csv').map(({ class: of = '', term = '' }) => [term, of]))
const audiovisual = new Set(listed('audiovisual.csv').map(({ term }) => term))

const jacket = aJacket({
  ...{ id: 'j1', fieldNumber: 'GX 07-3', contents: 'limb bones', locality: 'Far gully', horizon: 'Grey Bed, lower' },
  ...{
    collector: 'A party, "the other" one',
    collectedOn: '2019-05-04',
    fieldNotes: 'two lines\nof notes',
    state: 'opened',
  },
  partOf: { n: 1, total: 2 },
} as Parameters<typeof aJacket>[0])
const skull = aSpecimen({
  ...{ id: 'skull', number: 'N 12', name: '=Skull', jacketId: 'j1', catalogueNumber: 'C 9', locality: 'Far gully' },
  ...{ taxon: 'small archosaur', element: 'skull', stage: 'joining' },
} as Parameters<typeof aSpecimen>[0])
const loaned = aSpecimen({ id: 'rib', number: 'N 13', name: 'Rib', jacketId: null } as Parameters<typeof aSpecimen>[0])
const custody = kinds.custody.parse({
  ...{ id: 'c1', pieceId: 'rib', by: 'wilma', at, on: '2026-03-01', to: 'loan', holder: 'Another lab', receivedBy: '' },
  ...{ until: null, condition: '', isPurposeMet: true, isLabelled: true, photographs: '', missing: [], reason: '' },
})
const photo = (over: object) =>
  kinds.photo.parse({
    ...{ id: 'p1', pieceId: 'skull', entryId: null, hash: 'a'.repeat(64), form: 'jpeg', widthPx: 40, heightPx: 30 },
    ...{ bytes: 9, view: 'dorsal', scaleBarMm: 50, caption: 'before', takenAt: at, takenBy: 'wilma', by: 'wilma', at },
    ...{ owner: 'The lab', licence: 'CC BY 4.0', corrects: null, withdrawn: false },
    ...over,
  })

interface Table {
  readonly rowType: string
  readonly isCore: boolean
  readonly terms: readonly string[]
  readonly rows: readonly Record<string, string>[]
}
let files: Record<string, string>
let tables: ReadonlyMap<string, Table>

beforeAll(async () => {
  const store = memoryStore()
  const resting = kinds.resting.parse({
    ...{ id: 'rib', jacket: null, specimen: loaned, steps: [], dues: [], escalations: [], questions: [], watches: [] },
    since: '2026-03-01',
  })
  const step = (over: object) =>
    put('step', aStep({ pieceId: 'skull', state: 'done', ...over } as Parameters<typeof aStep>[0]))
  const changes = [
    ...[
      put('lab', aLab()),
      put('jacket', jacket),
      put('specimen', skull),
      put('resting', resting),
      put('custody', custody),
    ],
    ...[step({ id: 's1', techniqueId: 'needle' }), step({ id: 's2', techniqueId: 'needle' })],
    step({ id: 's3', techniqueId: 'joining', state: 'waiting' }),
    ...[put('photo', photo({})), put('photo', photo({ id: 'p2', caption: 'after', corrects: 'p1' }))],
    put('photo', photo({ id: 'p3', withdrawn: true })),
  ]
  await store.append('lab1', 0, [{ opId: 'o1', kind: 'found', op: {}, personId: null, at, changes, subjects: [] }])
  const parts: Uint8Array[] = []
  const about = {
    lab: 'lab1',
    dataset: 'A & B <lab>',
    at,
    origin: 'https://lab.example',
    techniques: aLab().techniques,
  }
  for await (const part of darwinCoreOf(store, about)) parts.push(part)
  files = Object.fromEntries(
    Object.entries(unzipSync(Buffer.concat(parts))).map(([name, bytes]) => [name, strFromU8(bytes)]),
  )
  tables = readMeta(files)
})

/** What `meta.xml` says is in the archive, and the rows it leads to. */
function readMeta(archive: Record<string, string>): ReadonlyMap<string, Table> {
  const meta = archive['meta.xml'] ?? ''
  const found = new Map<string, Table>()
  for (const [, kind, attributes = '', body = ''] of meta.matchAll(/<(core|extension)([^>]*)>([\s\S]*?)<\/\1>/g)) {
    const file = /<location>(.*?)<\/location>/.exec(body)?.[1] ?? ''
    const idAt = Number(/<(?:id|coreid) index="(\d+)"\/>/.exec(body)?.[1])
    const fields = [...body.matchAll(/<field index="(\d+)" term="([^"]+)"\/>/g)]
    const lines = parse(archive[file] ?? '', { delimiter: ',', quote: '"', record_delimiter: '\r\n' }) as string[][]
    const [head = [], ...rows] = lines
    for (const row of rows) expect([file, row.length]).toEqual([file, head.length])
    found.set(file, {
      rowType: /rowType="([^"]+)"/.exec(attributes)?.[1] ?? '',
      isCore: kind === 'core',
      terms: fields.map(([, , term = '']) => term),
      rows: rows.map((row) => ({
        of: row[idAt] ?? '',
        ...Object.fromEntries(fields.map(([, n, term = '']) => [term.split('/').at(-1), row[Number(n)] ?? ''])),
      })),
    })
    // The line of names says the same as meta.xml.
    for (const [, n, term = ''] of fields) expect(head[Number(n)]).toBe(term.split('/').at(-1))
  }
  return found
}

const rowsOf = (file: string) => tables.get(file)?.rows ?? []

describe('the archive', () => {
  test('has one core, every file it names, and a description of itself', () => {
    expect(files['meta.xml']).toMatch(
      /^<\?xml version="1.0" encoding="UTF-8"\?>\n<archive xmlns="http:\/\/rs.tdwg.org\/dwc\/text\/" metadata="eml.xml">/,
    )
    expect([...tables.values()].filter(({ isCore }) => isCore)).toHaveLength(1)
    expect(Object.keys(files).toSorted()).toEqual(['eml.xml', 'meta.xml', ...tables.keys()].toSorted())
    const elements = [...(files['eml.xml'] ?? '').matchAll(/^ {4}<(\w+)>/gm)].map(([, name]) => name)
    // In the order of the EML 2.2.0 schema; title, creator and contact are required.
    expect(elements).toEqual(['title', 'creator', 'pubDate', 'language', 'abstract', 'intellectualRights', 'contact'])
    expect(files['eml.xml']).toContain('A &amp; B &lt;lab&gt;')
  })

  test('uses terms of the published list alone, each in its class', () => {
    for (const [file, { rowType, terms, isCore }] of tables) {
      if (file === 'multimedia.csv') {
        expect(terms.filter((term) => !audiovisual.has(term))).toEqual([])
        continue
      }
      for (const term of terms) {
        const [, name = ''] = /^http:\/\/rs\.tdwg\.org\/dwc\/terms\/(\w+)$/.exec(term) ?? []
        const wanted = [rowType.split('/').at(-1), ...(isCore ? ['Record-level'] : [])]
        expect([file, term, wanted]).toEqual([file, term, expect.arrayContaining([classOf.get(name)])])
      }
    }
    const classes = [...tables.values()].map(({ rowType }) => rowType.split('/').at(-1))
    expect(classes).toEqual(
      expect.arrayContaining([
        'Occurrence',
        'MaterialEntity',
        'Event',
        'GeologicalContext',
        'MeasurementOrFact',
        'Multimedia',
      ]),
    )
  })

  test('ties every row to an occurrence of its own', () => {
    const ids = rowsOf('occurrence.csv').map(({ occurrenceID }) => occurrenceID)
    expect(new Set(ids).size).toBe(3)
    for (const [file, { rows }] of tables)
      for (const { of } of rows) expect([file, ids.includes(of)]).toEqual([file, true])
    const facts = rowsOf('measurementorfact.csv').map(({ measurementID }) => measurementID)
    expect(new Set(facts).size).toBe(facts.length)
  })
})

describe('what it says', () => {
  const of = (file: string, piece: string) => rowsOf(file).filter((row) => row.of === `lab1:occurrence:${piece}`)

  test('field number and record number are where they belong, the catalogue’s number beside the lab’s own', () => {
    expect(of('event.csv', 'skull')).toEqual([
      expect.objectContaining({ fieldNumber: 'GX 07-3', eventDate: '2019-05-04', fieldNotes: 'two lines of notes' }),
    ])
    // One event for all that came out of one jacket.
    expect(of('event.csv', 'skull')[0]?.eventID).toBe(of('event.csv', 'j1')[0]?.eventID)
    expect(of('event.csv', 'rib')).toEqual([])
    expect(of('occurrence.csv', 'skull')[0]).toMatchObject({
      ...{ recordNumber: 'GX 07-3', recordedBy: 'A party, "the other" one', catalogNumber: 'C 9' },
      ...{ otherCatalogNumbers: 'N 12', basisOfRecord: 'FossilSpecimen', occurrenceRemarks: '=Skull' },
    })
  })

  test('the stage of work is a fact and never a disposition; a loan is one', () => {
    expect(of('materialentity.csv', 'rib')[0]?.disposition).toBe('on loan')
    expect(of('materialentity.csv', 'skull')[0]).toMatchObject({ disposition: '', preparations: 'fossil | needle' })
    const stages: readonly string[] = Stage.options
    expect(rowsOf('materialentity.csv').filter(({ disposition = '' }) => stages.includes(disposition))).toEqual([])
    const facts = of('measurementorfact.csv', 'skull')
    expect(facts.find(({ measurementType }) => measurementType === 'stage of preparation')?.measurementValue).toBe(
      'joining',
    )
  })

  test('a photograph is there once, as it was last described, and names nobody', () => {
    expect(rowsOf('multimedia.csv').map(({ caption, comments }) => [caption, comments])).toEqual([
      ['after', 'scale bar 50 mm'],
    ])
    // The address is the one that the server answers: a picture is asked for of a piece.
    const [only] = rowsOf('multimedia.csv')
    expect(new URL(only?.accessURI ?? '').searchParams.get('of')).toBe(photo({}).pieceId)
    expect(JSON.stringify(files)).not.toContain('wilma')
  })
})
