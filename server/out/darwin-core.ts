// The Darwin Core archive, zipped while it is sent: what belongs to pieces is gathered first, then each table is one
// more pass over the records, so that an archive of any size goes through a small server.
import { Zip, ZipDeflate } from 'fflate'
import {
  type DarwinTable,
  emlXml,
  type FoundPiece,
  headOf,
  lineOf,
  metaXml,
  occurrenceId,
  photoRow,
  photoTable,
  pieceTables,
} from '#lib/export'
import type { RecordOf } from '#lib/words'
import type { Store } from '../store/contract.ts'
import { as, pagesOf, piecesOn } from './pages.ts'

export interface About {
  readonly lab: string
  readonly dataset: string
  /** ISO instant. */
  readonly at: string
  /** Where the lab is found. */
  readonly origin: string
  readonly techniques: RecordOf<'lab'>['techniques']
}

/** The archive's bytes in parts. */
export async function* darwinCoreOf(store: Store, about: About): AsyncGenerator<Uint8Array> {
  const gathered = await gather(store, about)
  let parts: Uint8Array[] = []
  const zip = new Zip((error, part) => {
    if (error) throw error
    parts.push(part)
  })
  const taken = function* () {
    const now = parts
    parts = []
    yield* now
  }
  const begin = (name: string) => {
    const file = new ZipDeflate(name, { level: 6 })
    file.mtime = about.at
    zip.add(file)
    return (text: string, isLast = false) => file.push(Buffer.from(text), isLast)
  }
  begin('meta.xml')(metaXml(), true)
  begin('eml.xml')(emlXml({ ...about, on: about.at.slice(0, 10) }), true)
  yield* taken()
  for (const table of pieceTables) {
    const write = begin(table.file)
    write(headOf(table))
    for await (const page of pagesOf(store, about.lab)) {
      const pieces = piecesOn(page).map((found) => gathered.complete(found))
      write(pieces.flatMap((piece) => linesOf(table, occurrenceId(piece), table.rows(piece))).join(''))
      yield* taken()
    }
    write('', true)
  }
  const write = begin(photoTable.file)
  write(headOf(photoTable))
  for await (const page of pagesOf(store, about.lab)) {
    const photos = page.flatMap((one) => {
      const photo = as('photo', one)
      return photo && gathered.isShown(photo) ? [photo] : []
    })
    const lines = photos.flatMap((photo) =>
      linesOf(photoTable, `${about.lab}:occurrence:${photo.pieceId}`, [photoRow(photo, about.lab, about.origin)]),
    )
    write(lines.join(''))
    yield* taken()
  }
  write('', true)
  zip.end()
  yield* taken()
}

const linesOf = (table: DarwinTable, occurrence: string, rows: readonly Parameters<typeof lineOf>[2][]) =>
  rows.map((row) => lineOf(table, occurrence, row))

/** What is known of a piece beside its own record. */
async function gather(store: Store, { lab, dataset, techniques }: About) {
  const jackets = new Map<string, NonNullable<FoundPiece['from']>>()
  const pieces = new Set<string>()
  const done = new Map<string, Set<string>>()
  const custody = new Map<string, Pick<RecordOf<'custody'>, 'at' | 'to'>>()
  const corrected = new Set<string>()
  const nameOf = (id: string) => techniques.find((one) => one.id === id)?.name ?? id
  const step = ({ pieceId, state, techniqueId }: RecordOf<'step'>) => {
    if (state !== 'done') return
    const names = done.get(pieceId) ?? new Set()
    done.set(pieceId, names.add(nameOf(techniqueId)))
  }
  const hands = ({ pieceId, at, to }: RecordOf<'custody'>) => {
    const before = custody.get(pieceId)
    if (!before || before.at < at) custody.set(pieceId, { at, to })
  }
  for await (const page of pagesOf(store, lab)) {
    for (const one of page) {
      const [made, left, photo] = [as('step', one), as('custody', one), as('photo', one)]
      if (made) step(made)
      if (left) hands(left)
      if (photo?.corrects) corrected.add(photo.corrects)
    }
    for (const { jacket, specimen, resting } of piecesOn(page)) {
      pieces.add((specimen ?? jacket)?.id ?? '')
      resting?.steps.forEach(step)
      if (resting?.custody) hands(resting.custody)
      if (!jacket) continue
      const { id, fieldNumber, collector, collectedOn, fieldNotes } = jacket
      jackets.set(id, { id, fieldNumber, collector, collectedOn, fieldNotes })
    }
  }
  return {
    complete({ jacket, specimen }: Pick<FoundPiece, 'jacket' | 'specimen'>): FoundPiece {
      const id = (specimen ?? jacket)?.id ?? ''
      const from = jackets.get(specimen ? (specimen.jacketId ?? '') : id) ?? null
      const methods = [...(done.get(id) ?? [])]
      return { lab, dataset, jacket, specimen, from, methods, custody: custody.get(id)?.to ?? null }
    },
    isShown: (photo: RecordOf<'photo'>) => !photo.withdrawn && !corrected.has(photo.id) && pieces.has(photo.pieceId),
  }
}
