// What may enter a text document. Yjs takes nearly anything that decodes, forged authors and gaps included, and notices
// late or never; so an update is read here first and must be plain typing: runs of text in the one text, and deletions
// of what is there, under a client id that belongs to the sender, without a gap. Nothing else has a use in a note.
import * as Y from 'yjs'

/** The one shared type of a text document. */
export const NOTE = 'note'

/** Bytes of one update, letters of the whole text, ranges one update may delete. */
const UPDATE_BYTES_MAX = 128 * 1024
const TEXT_LETTERS_MAX = 20_000
const DELETE_RANGES_MAX = 5_000
// Yjs client ids are 32 bits, clocks count letters.
const CLIENT_MAX = 2 ** 32
const CLOCK_MAX = 2 ** 31

export type TextVerdict =
  /** `client` is the id under which new structs stand; null when the update adds none. */
  | { readonly ok: true; readonly client: number | null }
  /** `gap`: the sender knows more than we do and is asked for it. `bad`: no honest client sends this. */
  | { readonly ok: false; readonly why: 'gap' | 'not-yours' | 'too-long' | 'bad' }

const bad = { ok: false, why: 'bad' } as const

/**
 * Judges an update against the document it is for. Never changes the document and never throws.
 * @param mayUse tells whether the sender may write under a Yjs client id
 */
export function judgeUpdate(doc: Y.Doc, update: Uint8Array, mayUse: (client: number) => boolean): TextVerdict {
  if (update.length > UPDATE_BYTES_MAX) return { ok: false, why: 'too-long' }
  let decoded: ReturnType<typeof Y.decodeUpdate>
  try {
    decoded = Y.decodeUpdate(update)
  } catch {
    return bad
  }
  // How far each client's structs reach once this update is in.
  const reach = Y.decodeStateVector(Y.encodeStateVector(doc))
  const known = (client: number): number => reach.get(client) ?? 0
  let author: number | null = null
  let added = 0
  let isGap = false
  for (const struct of decoded.structs) {
    const { client, clock } = struct.id
    if (!(client < CLIENT_MAX) || !(clock + struct.length < CLOCK_MAX) || struct.length < 1) return bad
    if (!(struct instanceof Y.Item) || !isTyping(struct)) return bad
    // Of known structs too: Yjs looks for their neighbours before it sees that it has them. A neighbour of one's own must
    // have been typed before; Yjs believes that unchecked.
    for (const origin of [struct.origin, struct.rightOrigin]) {
      if (origin && origin.client === client && !(origin.clock < clock)) return bad
      if (origin && !(origin.clock < known(origin.client))) isGap = true
    }
    if (clock + struct.length <= known(client)) continue
    if (clock > known(client)) return { ok: false, why: 'gap' }
    if (!mayUse(client)) return { ok: false, why: 'not-yours' }
    if (author !== null && author !== client) return { ok: false, why: 'not-yours' }
    author = client
    if (struct.content instanceof Y.ContentString) added += struct.length
    reach.set(client, clock + struct.length)
  }
  if (isGap) return { ok: false, why: 'gap' }
  const ranges = judgeDeletes(decoded.ds.clients, known)
  if (ranges !== null) return ranges
  if (added + doc.getText(NOTE).length > TEXT_LETTERS_MAX) return { ok: false, why: 'too-long' }
  return { ok: true, client: author }
}

/** Text in the note, or text that was typed and deleted before it was sent. */
function isTyping(item: Y.Item): boolean {
  const { content, parent, parentSub } = item
  if (!(content instanceof Y.ContentString) && !(content instanceof Y.ContentDeleted)) return false
  if (parentSub !== null) return false
  // A struct with neighbours takes its parent from them, and all of them lie in the note; one without names it. The
  // decoder leaves the name where the type will be.
  const name: unknown = parent
  return item.origin || item.rightOrigin ? name === null : name === NOTE
}

function judgeDeletes(
  clients: ReadonlyMap<number, readonly { readonly clock: number; readonly len: number }[]>,
  known: (client: number) => number,
): TextVerdict | null {
  let ranges = 0
  for (const [client, deletes] of clients)
    for (const { clock, len } of deletes) {
      ranges++
      if (ranges > DELETE_RANGES_MAX || !(len >= 1) || !(clock >= 0)) return bad
      if (!(clock + len <= known(client))) return { ok: false, why: 'gap' }
    }
  return null
}
