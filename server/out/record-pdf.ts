// Records of several pieces as one PDF: gathered as whoever asks may read them, set in a thread of its own, one file at a
// time, since each is held whole until it is sent.
import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { Worker } from 'node:worker_threads'
import { localAt } from '#lib/base'
import { migrate } from '#lib/doc'
import { type RecordForm, recordForm } from '#lib/export'
import {
  type AnyRecord,
  type Change,
  type Face,
  type Kind,
  noRecords,
  PieceId,
  project,
  put,
  type RecordOf,
  type Records,
  withChanges,
} from '#lib/words'
import type { House } from '../house.ts'
import { oneAtATime } from '../one-at-a-time.ts'
import type { PhotoStore } from '../photos/contract.ts'

/** Pieces of one file, and pictures of one piece: what of a record is more stays on its Sheet. */
const PDF_PIECES_MAX = 50
const PICTURES_MAX = 6
/** A file that takes longer is given up. */
const CEILING_MS = 60_000

export interface PdfJob {
  readonly forms: readonly { readonly form: RecordForm; readonly pictures: readonly (Uint8Array | null)[] }[]
  readonly fonts: { readonly plain: Uint8Array; readonly strong: Uint8Array }
  readonly lab: string
  /** The lab's local date. */
  readonly on: string
}

export interface PdfSource extends Pick<House, 'store' | 'labId'> {
  readonly records: Records
  readonly photos: PhotoStore
  readonly nowMs: number
  /** What the reader may read. */
  readonly face: Face
}

const oneFile = oneAtATime()

/**
 * The PDF's bytes; null where none of the pieces is there. `worker` is the thread's script where it is not the built one.
 * Whoever asks while another file is made waits with nothing gathered yet, so memory holds one file at most.
 */
export function recordPdf(
  source: PdfSource,
  pieceIds: readonly string[],
  worker: URL = new URL('./out-pdf-worker.mjs', import.meta.url),
): Promise<Uint8Array | null> {
  return oneFile(() => gatherAndSet(source, pieceIds, worker))
}

async function gatherAndSet(source: PdfSource, pieceIds: readonly string[], worker: URL): Promise<Uint8Array | null> {
  const { records, photos, nowMs, face } = source
  const lab = records.lab.get('lab')
  const on = localAt(lab?.zone ?? 'UTC', nowMs).date
  const forms: PdfJob['forms'][number][] = []
  for (const id of new Set(pieceIds.slice(0, PDF_PIECES_MAX))) {
    if (!PieceId.safeParse(id).success) continue
    const found = recordForm(await withSheet(source, id, face, on), id)
    if (!found) continue
    const shown = found.photos.slice(-PICTURES_MAX)
    const pictures: (Uint8Array | null)[] = []
    for (const { hash } of shown) pictures.push(await bytesOf(photos, hash))
    forms.push({ form: { ...found, photos: shown }, pictures })
  }
  return forms.length === 0 ? null : setIn(worker, { forms, fonts: fonts(), lab: lab?.name ?? '', on })
}

/** The board with a piece's Sheet, and the piece itself where it rests, each as the face may read it. */
async function withSheet(source: PdfSource, id: string, face: Face, today: string): Promise<Records> {
  const { store, labId, records } = source
  const laid: Change[] = []
  const lay = (kind: Kind, record: AnyRecord) => {
    const read = project(face, kind, record, today)
    // Projected records are of their kind; the compiler cannot follow a key through the mapped types.
    if (read) laid.push(put(kind, read as RecordOf<typeof kind>))
  }
  // A person whose face names them by their first name alone stands so in the file too.
  for (const person of records.person.values()) lay('person', person)
  if (!records.specimen.has(id) && !records.jacket.has(id)) {
    const [found] = (await store.snapshot(labId, 'archive', id)).records
    const resting =
      found && found.kind === 'resting' ? (migrate('resting', found.record, found.words) as RecordOf<'resting'>) : null
    if (resting?.jacket) lay('jacket', resting.jacket)
    if (resting?.specimen) lay('specimen', resting.specimen)
    for (const one of resting?.questions ?? []) lay('question', one)
  }
  for (const { kind, record, words } of (await store.snapshot(labId, `sheet/${id}`)).records)
    lay(kind, migrate(kind, record, words) as AnyRecord)
  return withChanges(withChanges(noRecords(), boardOf(records)), laid)
}

/** What of the board stands in a record. */
function boardOf(records: Records): readonly Change[] {
  return [
    ...[...records.lab.values()].map((one) => put('lab', one)),
    ...[...records.specimen.values()].map((one) => put('specimen', one)),
    ...[...records.jacket.values()].map((one) => put('jacket', one)),
    ...[...records.question.values()].map((one) => put('question', one)),
  ]
}

async function bytesOf(photos: PhotoStore, hash: string): Promise<Uint8Array | null> {
  const found = await photos.small(hash, 1600)
  if (!found) return null
  const parts: Buffer[] = []
  for await (const part of found.stream()) parts.push(part as Buffer)
  return new Uint8Array(Buffer.concat(parts))
}

function setIn(script: URL, job: PdfJob): Promise<Uint8Array> {
  return new Promise((done, fail) => {
    const thread = new Worker(script, { workerData: job, name: 'pdf' })
    const timer = setTimeout(() => void thread.terminate(), CEILING_MS)
    thread.once('message', done)
    thread.once('error', fail)
    thread.once('exit', () => {
      clearTimeout(timer)
      fail(new Error('The file was not finished in time.'))
    })
  })
}

/** The cuts of our own faces, from the clone's folder whether this runs bundled or not. */
function fonts(): PdfJob['fonts'] {
  for (let folder = dirname(fileURLToPath(import.meta.url)); folder !== dirname(folder); folder = dirname(folder)) {
    const at = join(folder, 'app/_parts/fonts')
    if (!existsSync(join(at, 'paper-regular.ttf'))) continue
    const read = (name: string) => new Uint8Array(readFileSync(join(at, name)))
    return { plain: read('paper-regular.ttf'), strong: read('paper-strong.ttf') }
  }
  throw new Error('Believed: the fonts lie in the clone')
}
