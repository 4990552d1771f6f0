// Records as a PDF, read back by a reader that shares nothing with the writer: each piece on pages of its own, accents,
// corrections, what a guest may not read.
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import sharp from 'sharp'
import { beforeAll, expect, test } from 'vitest'
import { type Change, type Face, noRecords, put, withChanges } from '#lib/words'
import { recordPdf } from '../../../server/out/record-pdf.ts'
import type { PhotoStore } from '../../../server/photos/contract.ts'
import { memoryStore } from '../../../server/store/memory.ts'
import { aLab, anEntry, aPerson, aSpecimen } from '../../kit/makers.ts'
import { aPhoto } from '../../kit/makers-photos.ts'
import { bundle } from '../../kit/store-worker.ts'

const at = '2026-03-12T09:00:00.000Z'
let worker: URL
let picture: Buffer

beforeAll(async () => {
  worker = await bundle('server/out/pdf-worker.ts', 'out-pdf-worker')
  picture = await sharp({ create: { width: 60, height: 40, channels: 3, background: '#a86' } })
    .jpeg()
    .toBuffer()
})

const photos = {
  small: async (hash: string) => (hash === '1a'.repeat(32) ? { stream: () => [picture] } : null),
} as unknown as PhotoStore

const entry = (id: string, text: string, over: object = {}) =>
  put('entry', anEntry({ id, pieceId: 'skull', kind: 'treatment', text, at, ...over } as Parameters<typeof anEntry>[0]))

/** The file's text page by page, and how many pictures are drawn. */
async function read(pieceIds: readonly string[], more: readonly Change[] = [], face: Face = 'crew') {
  const store = memoryStore()
  const board = [
    put('lab', aLab()),
    put('person', aPerson({ id: 'ana', name: 'Ana', familyName: 'Hidden' } as Parameters<typeof aPerson>[0])),
    put(
      'specimen',
      aSpecimen({ id: 'skull', number: 'N 12', name: 'Größe, šíp, Łódź' } as Parameters<typeof aSpecimen>[0]),
    ),
    put('specimen', aSpecimen({ id: 'rib', number: 'N 13', name: 'Rib' } as Parameters<typeof aSpecimen>[0])),
  ]
  const entryOf = { opId: 'o1', kind: 'found', op: {}, personId: null, at, subjects: [] }
  await store.append('lab1', 0, [{ ...entryOf, changes: [...board, ...more] }])
  const source = { store, labId: 'lab1', photos, face, nowMs: Date.parse(at), records: withChanges(noRecords(), board) }
  const bytes = await recordPdf(source, pieceIds, worker)
  if (!bytes) return null
  const pdf = await getDocument({ data: bytes, useSystemFonts: false, verbosity: 0 }).promise
  const pages: string[] = []
  for (let n = 1; n <= pdf.numPages; n++) {
    const { items } = await (await pdf.getPage(n)).getTextContent()
    pages.push(items.map((item) => ('str' in item ? item.str : '')).join(' '))
  }
  return pages
}

test('each piece begins on a page of its own, with its record in order and its number at the foot', async () => {
  const lines = [
    entry('e1', 'Two coats, palate edge.'),
    entry('e2', 'Three coats, not two.', { corrects: 'e1', at: '2026-03-12T10:00:00.000Z' }),
    put('photo', aPhoto({ caption: 'The left orbit' })),
    put('photo', aPhoto({ id: 'photo2', hash: '2b'.repeat(32), caption: 'Lost' })),
  ]
  const pages = await read(['skull', 'rib'], lines)
  expect(pages).toHaveLength(2)
  const [first = '', second = ''] = pages ?? []
  for (const word of ['N 12', 'Größe, šíp, Łódź', 'Treatment record', 'The left orbit', 'scale bar 50 mm'])
    expect(first).toContain(word)
  expect(first).toContain('Lost')
  expect(first).toContain('(picture not here)')
  expect(first.indexOf('Two coats')).toBeLessThan(first.indexOf('Corrects 2026-03-12'))
  expect(first).toContain('page 1 of 2')
  expect(second).toContain('N 13')
  expect(second).not.toContain('Two coats')
})

test('a long record goes over pages, whole', async () => {
  const lines = Array.from({ length: 160 }, (_, n) =>
    entry(`e${n}`, `Line ${n} ends here. ${'A long note. '.repeat(12)}`),
  )
  const pages = (await read(['skull'], lines)) ?? []
  expect(pages.length).toBeGreaterThan(5)
  for (let n = 0; n < 160; n++) expect(pages.join(' ')).toContain(`Line ${n} ends here.`)
  for (const [n, page] of pages.entries()) expect(page).toContain(`page ${n + 1} of ${pages.length}`)
})

test('what no lab has makes no file, and running minutes and family names are in none', async () => {
  expect(await read(['nobody', '../office', ''])).toBeNull()
  const held = entry('e1', 'Scribed.', { detail: { runningMinutes: 77 } })
  for (const face of ['crew', 'guest'] as const) {
    const text = (await read(['skull'], [held], face))?.join(' ') ?? ''
    expect(text).toContain('Scribed.')
    expect(text).not.toMatch(/77|Hidden/)
  }
})
