// What the screen shows: the base (what the server said) with the waiting ops laid over it by the same code that
// will decide about them. Only touched kinds are copied, untouched records stay the same objects; with nothing
// waiting the draft is the base itself.
import { applyOp, judgeOp, type Op, type When, type Who } from '#lib/ops'
import type { AnyRecord, Change, Finding, Kind, Records } from '#lib/words'
import type { Waiting } from './ports.ts'
import { isSame } from './same.ts'

/** What the draft must know about its surroundings. */
export type DraftContext = {
  readonly who: () => Who | null
  /** False when judge would read documents that are not open here: then only the server can judge. */
  readonly canJudge: (op: Op) => boolean
  readonly report: (error: unknown) => void
}

type Table = Map<string, AnyRecord>

/** Records under construction: each kind is copied at most once, then written in place until `done`. */
class Layer {
  #records: Records
  readonly #own = new Map<Kind, Table>()

  constructor(records: Records) {
    this.#records = records
  }

  get records(): Records {
    return this.#records
  }

  lay(changes: readonly Change[]): void {
    for (const { kind, id, record } of changes) {
      let table = this.#own.get(kind)
      if (!table) {
        table = new Map(this.#records[kind] as ReadonlyMap<string, AnyRecord>)
        this.#own.set(kind, table)
        this.#records = { ...this.#records, [kind]: table }
      }
      if (record) table.set(id, record)
      else table.delete(id)
    }
  }
}

export class Draft {
  #base: Records
  #records: Records
  /** What each waiting op changes at present. */
  readonly #laid = new Map<string, readonly Change[]>()
  readonly #context: DraftContext

  constructor(base: Records, context: DraftContext) {
    this.#base = base
    this.#records = base
    this.#context = context
  }

  /** What the server said. */
  get base(): Records {
    return this.#base
  }

  /** Base with everything that waits laid over it. */
  get records(): Records {
    return this.#records
  }

  /** Takes what the server said, then lays the waiting ops over it again. */
  take(changes: readonly Change[], waiting: readonly Waiting[]): void {
    const layer = new Layer(this.#base)
    for (const change of changes) {
      // Read from the layer: a record may come and go within one list.
      const before = layer.records[change.kind].get(change.id)
      if (change.record === null) {
        if (before) layer.lay([change])
        continue
      }
      if (before && isSame(before, change.record)) continue
      // The draft often foresaw this record to the letter; keeping its object spares every screen a repaint.
      const foreseen = this.#records[change.kind].get(change.id)
      const record = foreseen && isSame(foreseen, change.record) ? foreseen : change.record
      layer.lay([{ ...change, record } as Change])
    }
    this.#base = layer.records
    this.rebuild(waiting)
  }

  /** Lays the waiting ops over the base, in order; an op that no longer stands is left out until the server answers. */
  rebuild(waiting: readonly Waiting[]): void {
    const before = this.#records
    const layer = new Layer(this.#base)
    this.#laid.clear()
    for (const { op, when } of waiting) {
      const changes = this.#changesOf(layer.records, op, when)
      this.#laid.set(op.id, changes)
      layer.lay(changes)
    }
    this.#records = shareWith(before, layer.records)
  }

  /** Judges an op on what the screen shows. */
  judge(op: Op, when: When): readonly Finding[] {
    const who = this.#context.who()
    if (!who || !this.#context.canJudge(op)) return []
    return judgeOp(this.#records, op, who, when)
  }

  /** Lays one more op over the draft, just judged by `judge`, and says what it changed. */
  push({ op, when }: Waiting): readonly Change[] {
    const changes = this.#changesOf(this.#records, op, when, true)
    const layer = new Layer(this.#records)
    layer.lay(changes)
    this.#records = layer.records
    this.#laid.set(op.id, changes)
    return changes
  }

  /** What a waiting op changes at present: nothing when it no longer stands or the base shows it already. */
  changesOf(id: string): readonly Change[] {
    return this.#laid.get(id) ?? []
  }

  #changesOf(records: Records, op: Op, when: When, isJudged = false): readonly Change[] {
    const who = this.#context.who()
    if (!who) return []
    let canJudge = false
    try {
      canJudge = this.#context.canJudge(op)
      if (canJudge && !isJudged && judgeOp(records, op, who, when).length > 0) return []
      return applyOp(records, op, who, when)
    } catch (error) {
      // An op whose documents are not open here may find less than it relies on, and one that a tab of another version
      // left on this device may be of a kind that this one does not know; the server's answer will show it.
      if (canJudge) this.#context.report(error)
      return []
    }
  }
}

/** `after` with the records of `before` wherever they say the same: a rebuild makes new objects for old facts. */
function shareWith(before: Records, after: Records): Records {
  const shared: Record<string, ReadonlyMap<string, AnyRecord>> = {}
  let isAllShared = true
  for (const kind of Object.keys(after) as Kind[]) {
    const old = before[kind] as ReadonlyMap<string, AnyRecord>
    const now = after[kind] as ReadonlyMap<string, AnyRecord>
    shared[kind] = now === old ? old : shareTable(old, now as Table)
    if (shared[kind] !== old) isAllShared = false
  }
  return isAllShared ? before : (shared as unknown as Records)
}

function shareTable(old: ReadonlyMap<string, AnyRecord>, now: Table): ReadonlyMap<string, AnyRecord> {
  let isSameTable = old.size === now.size
  for (const [id, record] of now) {
    const former = old.get(id)
    if (former === record) continue
    if (former && isSame(former, record)) now.set(id, former)
    else isSameTable = false
  }
  return isSameTable ? old : now
}
