// A whole lab as JSON Lines, page by page, so that neither a large archive nor a long history is ever in memory, and
// the lab goes on meanwhile. What is left out on purpose: sessions, PINs and links, which let people in. The files of
// photographs, which their records name by content, lie beside the file (`photo-files.ts`).
import * as Y from 'yjs'
import { migrate } from '#lib/doc'
import { WORDS_VERSION } from '#lib/words'
import { logsOf } from '../reads.ts'
import type { KeptEntry, Store, StoredText } from '../store/contract.ts'
import { NOTE } from '../text-guard.ts'
import { type ExportLine, LINES_FORMAT, schemaLines } from './lines.ts'
import { pagesOf } from './pages.ts'

/** Entries of a founding are large. */
const ENTRIES_A_PAGE = 50

/** The file's text in parts, each of whole lines. `at` is the ISO instant it is taken out at. */
export async function* everythingOf(store: Store, lab: string, name: string, at: string): AsyncGenerator<string> {
  let count = 0
  const written = (lines: readonly ExportLine[]): string => {
    count += lines.length
    return lines.map((line) => `${JSON.stringify(line)}\n`).join('')
  }
  const seq = await store.head(lab)
  yield written([{ line: 'lab', format: LINES_FORMAT, words: WORDS_VERSION, lab, name, at, seq }, ...schemaLines()])
  for await (const page of pagesOf(store, lab))
    yield written(page.map(({ kind, record }) => ({ line: 'record' as const, kind, record })))
  for (const [log, kept] of logsOf(lab))
    for (let after = 0; ; ) {
      const page = await store.read(kept, after, ENTRIES_A_PAGE)
      const entries = page.map((entry) => entryLine(log, entry))
      if (entries.length > 0) yield written(entries)
      after = page.at(-1)?.seq ?? after
      if (page.length < ENTRIES_A_PAGE) break
    }
  for (const text of await store.texts(lab)) yield written([textLine(text, await store.loadText(lab, text))])
  yield written([{ line: 'end', lines: count }])
}

/** Field by field, in one order whatever the store gives; what ties it to the entry before is this store's own. */
function entryLine(log: 'changes' | 'reads', entry: KeptEntry): ExportLine {
  const { seq, opId, kind, personId, at, op, subjects, words } = entry
  const changes = entry.changes.map((one) => ({
    ...{ kind: one.kind, id: one.id, record: one.record && migrate(one.kind, one.record, words) },
  }))
  return { line: 'entry', log, seq, opId, kind, personId, at, op, subjects: [...subjects], changes }
}

function textLine(name: string, { base, updates }: StoredText): ExportLine {
  return {
    line: 'text',
    name,
    says: saidBy(base?.bytes ?? null, updates),
    base: base && { epoch: base.epoch, bytes: to64(base.bytes), holders: base.holders.map(([n, who]) => [n, who]) },
    updates: updates.map(({ bytes, client, personId }) => ({ bytes: to64(bytes), client, personId })),
  }
}

/** What a text says; throws where its updates make none. */
export function saidBy(base: Uint8Array | null, updates: readonly { readonly bytes: Uint8Array }[]): string {
  const doc = new Y.Doc()
  try {
    if (base) Y.applyUpdate(doc, base)
    for (const { bytes } of updates) Y.applyUpdate(doc, bytes)
    return doc.getText(NOTE).toString()
  } finally {
    doc.destroy()
  }
}

const to64 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64')
