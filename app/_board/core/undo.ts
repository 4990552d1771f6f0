// One's own last edits, each with the op that takes it back. An edit that somebody has changed since is not taken
// back over their head: the fields that it wrote must still hold what it wrote.
import type { Op, OpBody } from '#lib/ops'
import type { AnyRecord, Change, Records } from '#lib/words'
import { isSame } from './same.ts'

const UNDO_MAX = 50
/** Stamps differ between the early view and the server's truth by design. */
const STAMPS: ReadonlySet<string> = new Set(['at', 'by', 'since', 'stageSince', 'startedAt', 'postedAt', 'times'])

type Wrote = {
  readonly kind: Change['kind']
  readonly id: string
  readonly fields: Readonly<Record<string, unknown>> | null
}
type Done = { readonly op: Op; readonly inverse: OpBody; readonly wrote: readonly Wrote[] }

export class Undo {
  #done: readonly Done[] = []

  /** The last edit that can be taken back. */
  get top(): Op | null {
    return this.#done.at(-1)?.op ?? null
  }

  /** Remembers an edit; `before` are the records it was made on. */
  add(op: Op, inverse: OpBody, before: Records, changes: readonly Change[]): void {
    const wrote = changes.map((change) => wroteOf(before[change.kind].get(change.id), change))
    this.#done = [...this.#done, { op, inverse, wrote }].slice(-UNDO_MAX)
  }

  /** Forgets an edit: it was refused. */
  drop(id: string): void {
    this.#done = this.#done.filter((done) => done.op.id !== id)
  }

  /** Takes the last edit off the list; `isOvertaken` when somebody has changed what it wrote. */
  take(now: Records): { readonly op: Op; readonly inverse: OpBody; readonly isOvertaken: boolean } | null {
    const last = this.#done.at(-1)
    if (!last) return null
    this.#done = this.#done.slice(0, -1)
    return { op: last.op, inverse: last.inverse, isOvertaken: !last.wrote.every((wrote) => stillHolds(now, wrote)) }
  }
}

function wroteOf(before: AnyRecord | undefined, { kind, id, record }: Change): Wrote {
  if (!record) return { kind, id, fields: null }
  const old = before as Readonly<Record<string, unknown>> | undefined
  const fields: Record<string, unknown> = {}
  for (const [name, value] of Object.entries(record)) {
    if (!STAMPS.has(name) && !(old && isSame(old[name], value))) fields[name] = value
  }
  return { kind, id, fields }
}

function stillHolds(now: Records, { kind, id, fields }: Wrote): boolean {
  const record = now[kind].get(id) as Readonly<Record<string, unknown>> | undefined
  if (!fields) return !record
  return record !== undefined && Object.entries(fields).every(([name, value]) => isSame(record[name], value))
}
