// One lab's way from an op to a receipt. Ops are judged one at a time in the order they came, on records that already
// hold what was judged before; what passed waits for the store in batches, and only when a batch is durable is anybody
// told: first the screens, then the authors.
//
//   submit → judge → waiting ─┬─ (quiet: at once; busy: up to 10 ms) → append, one fsync → screens → receipts
//                             └─ refusals ride along, since what they rest on may not be durable yet
//
// Trouble takes everything undurable out of the records again and keeps the ops in line: nothing was told, nothing
// is lost. Loading a sheet, or opening a document for a first reader, takes its turn in the same line.
import type { When, Who } from '#lib/ops'
import { type Change, type Finding, finding, type Home } from '#lib/words'
import { type GateOp, idOf, judgeAtGate, type OpTable, parseAtGate } from './gate.ts'
import type { HeldRecords } from './held-records.ts'
import type { Entry, Store } from './store/contract.ts'
import type { Clock, Log } from './world.ts'

/** How an op ended. */
export type Answer =
  | { readonly ok: true; readonly seq: number; readonly at: string }
  | { readonly ok: false; readonly findings: readonly Finding[] }

export interface KeptChanges {
  /** Position after them. */
  readonly seq: number
  readonly changes: readonly Change[]
}

export interface GateWorld {
  readonly lab: string
  readonly store: Store
  readonly clock: Clock
  readonly log: Log
  readonly table: OpTable
  readonly records: HeldRecords
  readonly when: () => When
  /** Milliseconds between two batches while the lab is busy. */
  readonly spacingMs: () => number
  /** Durable changes, to be shown. */
  readonly onKept: (kept: KeptChanges) => void
  readonly onState: (state: 'well' | 'read-only') => void
}

type Ask = {
  readonly value: unknown
  /** Who asks, as of the moment of judging; null when they are signed out by then. */
  readonly who: () => Who | null
  readonly answer: (answer: Answer) => void
}
type Turn = { readonly run: () => Promise<void>; readonly fail: (error: Error) => void }
type Judged = Ask & {
  readonly id: string
  readonly by: Who
  /** The same op, come again meanwhile: gets the same answer. */
  readonly again: Ask[]
} & (
    | { readonly entry: Entry; readonly before: readonly Change[]; readonly findings?: never }
    | { readonly entry?: never; readonly before?: never; readonly findings: readonly Finding[] }
  )

/** Ops in line before a lab says it is too much. */
const LINE_MAX = 20_000
/** Answers remembered; older receipts are found in the store. */
const ANSWERS_MAX = 20_000
const RECENT_RECEIPTS = 5_000
/** Ops judged before other work of the process has its turn. */
const JUDGED_AT_ONCE = 64
const BATCH_MAX = 512
const RETRY_MS = 1_000
const READ_PAGE = 500

export class GateQueue {
  readonly #world: GateWorld
  #seq = 0
  #line: (Ask | Turn)[] = []
  #waiting: Judged[] = []
  #inFlight: Judged[] | null = null
  #isTurn = false
  #isTrouble = false
  #told: 'well' | 'read-only' = 'well'
  /** Judged ops without an answer yet, by id. */
  readonly #pending = new Map<string, Judged>()
  #isClosed = false
  #cancelFlush: (() => void) | null = null
  #cancelPump: (() => void) | null = null
  #flushedAt = Number.NEGATIVE_INFINITY
  readonly #answers = new Map<string, Answer>()
  #unsubscribe: () => void = () => {}

  constructor(world: GateWorld) {
    this.#world = world
  }

  /** Durable position. */
  get seq(): number {
    return this.#seq
  }

  get state(): 'well' | 'read-only' {
    return this.#told
  }

  /** True while anything is on its way. */
  get isBusy(): boolean {
    return this.#line.length > 0 || this.#waiting.length > 0 || this.#inFlight !== null || this.#isTurn
  }

  /** Reads the lab from the store. */
  async open(): Promise<void> {
    const { store, lab, records } = this.#world
    const board = await store.snapshot(lab, 'board')
    const office = await store.snapshot(lab, 'office')
    records.load('board', board.records)
    records.load('office', office.records)
    // Read apart, so the office may be newer than the board; entries are whole records, laying them twice is no harm.
    this.#seq = Math.min(board.seq, office.seq)
    for (const { opId, seq, at } of await store.recentOps(lab, RECENT_RECEIPTS))
      this.#remember(opId, { ok: true, seq, at })
    await this.#catchUp()
    this.#unsubscribe = store.subscribe(lab, (seq) => {
      if (!this.#inFlight && seq > this.#seq && !this.#isClosed) void this.turn(() => this.#catchUp()).catch(() => {})
    })
  }

  /** Puts an op in line; false when the line is too long and it was not taken. */
  submit(value: unknown, who: () => Who | null, answer: (answer: Answer) => void): boolean {
    if (this.#isClosed || this.#line.length >= LINE_MAX) return false
    this.#line.push({ value, who, answer })
    this.#pump()
    return true
  }

  /** Runs work that must see durable records only, alone, in its turn. */
  turn<T>(work: () => Promise<T> | T): Promise<T> {
    if (this.#isClosed) return Promise.reject(new Error('The lab is closed.'))
    return new Promise((resolve, reject) => {
      this.#line.push({ run: () => Promise.resolve().then(work).then(resolve, reject), fail: reject })
      this.#pump()
    })
  }

  /** Keeps what can still be kept, then takes nothing more. */
  async close(): Promise<void> {
    if (!this.#isClosed && !this.#isTrouble) await this.turn(() => {}).catch(() => {})
    this.#isClosed = true
    this.#unsubscribe()
    this.#cancelFlush?.()
    this.#cancelPump?.()
    for (const next of this.#line) if ('fail' in next) next.fail(new Error('The lab is closed.'))
    this.#line = []
  }

  #pump(): void {
    for (let judged = 0; this.#line.length > 0 && !this.#isTurn && !this.#isTrouble && !this.#isClosed; judged++) {
      if (judged >= JUDGED_AT_ONCE || this.#waiting.length >= BATCH_MAX) {
        // Asked again when the batch in flight is done, or after others had their turn.
        if (!this.#inFlight) this.#pumpLater()
        break
      }
      const next = this.#line[0]
      if (!next) break
      if ('run' in next) {
        if (this.#waiting.length > 0 || this.#inFlight) {
          this.#flushNow()
          return
        }
        this.#line.shift()
        this.#takeTurn(next.run)
        return
      }
      this.#takeOp(next)
    }
    this.#flushSoon()
  }

  #pumpLater(): void {
    this.#cancelPump ??= this.#world.clock.after(0, () => {
      this.#cancelPump = null
      this.#pump()
    })
  }

  #takeTurn(run: () => Promise<void>): void {
    this.#isTurn = true
    void run().finally(() => {
      this.#isTurn = false
      this.#pump()
    })
  }

  /** Judges the first op in line, or changes it into a turn of its own when something must be loaded first. */
  #takeOp(ask: Ask): void {
    const { records, table } = this.#world
    this.#line.shift()
    const who = ask.who()
    // Signed out meanwhile: not answered, so the op stays with its author.
    if (!who) return
    const id = idOf(ask.value)
    const known = id === null ? undefined : this.#formerAnswer(id, who)
    if (known) {
      ask.answer(known)
      return
    }
    const pending = id === null ? undefined : this.#pending.get(id)
    if (pending) {
      if (pending.by.personId === who.personId) pending.again.push(ask)
      // Nobody but its author knows an op's id by honest means.
      else ask.answer({ ok: false, findings: [finding('O', 'malformed')] })
      return
    }
    const parsed = parseAtGate(table, ask.value)
    if (!parsed.op || id === null) {
      ask.answer({ ok: false, findings: parsed.findings ?? [finding('O', 'malformed')] })
      return
    }
    const { op } = parsed
    const missing = table.needs(records.all, op).filter((need) => !records.holds(need.home))
    if (missing.length === 0) {
      this.#judge(ask, id, op, who)
      return
    }
    const run = async () => {
      try {
        await this.#load(missing)
      } catch {
        // The store cannot read: the op keeps its place.
        this.#line.unshift(ask)
        this.#trouble()
        return
      }
      this.#judge(ask, id, op, who)
      for (const { home } of missing) records.release(home)
    }
    this.#line.unshift({ run, fail: () => {} })
  }

  async #load(needs: readonly { readonly home: Home; readonly id?: string }[]): Promise<void> {
    const { store, lab, records } = this.#world
    for (const { home, id } of needs) {
      if (home === 'archive' && id === undefined) throw new Error('Believed: an op names the resting pieces it needs')
      const snapshot = await store.snapshot(lab, home, home === 'archive' ? id : undefined)
      records.load(home, snapshot.records)
    }
  }

  #judge(ask: Ask, id: string, op: GateOp, who: Who): void {
    const { records, table, log } = this.#world
    const when = this.#world.when()
    const verdict = judgeAtGate(table, records.all, op, who, when, log)
    if (!verdict.ok) {
      this.#settle({ ...ask, id, by: who, again: [], findings: verdict.findings })
      return
    }
    const { changes, subjects } = verdict.passed
    const personId = who.role === 'system' || who.role === 'wall' ? null : who.personId
    const entry: Entry = { opId: id, kind: op.kind, op, personId, at: when.at, changes, subjects }
    this.#settle({ ...ask, id, by: who, again: [], entry, before: records.apply(changes) })
  }

  /** A judged op joins what it rests on; a refusal that rests on durable records alone is told at once. */
  #settle(judged: Judged): void {
    this.#pending.set(judged.id, judged)
    if (judged.entry) this.#waiting.push(judged)
    else if (this.#waiting.length > 0) this.#waiting.push(judged)
    else if (this.#inFlight) this.#inFlight.push(judged)
    else void this.#refuse(judged)
  }

  #flushSoon(): void {
    if (this.#inFlight || this.#cancelFlush || this.#waiting.length === 0) return
    const { clock, spacingMs } = this.#world
    const waitMs = this.#flushedAt + spacingMs() - clock.now()
    if (waitMs <= 0 || this.#waiting.length >= BATCH_MAX) this.#flush()
    else this.#cancelFlush = clock.after(waitMs, () => this.#flush())
  }

  #flushNow(): void {
    if (!this.#inFlight && this.#waiting.length > 0) this.#flush()
  }

  #flush(): void {
    this.#cancelFlush?.()
    this.#cancelFlush = null
    if (this.#inFlight || this.#waiting.length === 0) return
    const batch = this.#waiting
    this.#waiting = []
    this.#inFlight = batch
    this.#flushedAt = this.#world.clock.now()
    // The same op twice in one batch, from two connections, is one op.
    const { store, lab } = this.#world
    const entries = batch.flatMap((judged) => (judged.entry ? [judged.entry] : []))
    store.append(lab, this.#seq, entries).then(
      (appended) => {
        if (appended.ok) return this.#kept(batch, entries)
        this.#takeBack()
        this.#takeTurn(() =>
          (appended.why === 'op-twice' ? this.#findReceipts(appended.opIds) : this.#catchUp()).catch(() =>
            this.#trouble(),
          ),
        )
      },
      (error) => {
        this.#world.log('error', `The store could not keep a batch: ${error}`, { lab })
        this.#takeBack()
        this.#trouble()
      },
    )
  }

  #kept(batch: readonly Judged[], entries: readonly Entry[]): void {
    let seq = this.#seq
    this.#seq += entries.length
    this.#inFlight = null
    this.#tell('well')
    this.#world.onKept({ seq: this.#seq, changes: lastOfEach(entries) })
    for (const judged of batch) {
      if (!judged.entry) {
        void this.#refuse(judged)
        continue
      }
      seq++
      const answer: Answer = { ok: true, seq, at: judged.entry.at }
      this.#remember(judged.id, answer)
      this.#answer(judged, answer)
    }
    this.#pump()
  }

  /** An op that was kept long ago and comes again is not refused for what it did itself: its receipt is found. */
  async #refuse(judged: Judged): Promise<void> {
    const { id, by, findings = [] } = judged
    try {
      await this.#findReceipts([id])
    } catch {
      // Not known, so not said yet.
      this.#world.clock.after(RETRY_MS, () => {
        if (!this.#isClosed) void this.#refuse(judged)
      })
      return
    }
    let answer = this.#formerAnswer(id, by)
    if (!answer) {
      answer = { ok: false, findings }
      this.#remember(refusalKey(id, by), answer)
    }
    this.#answer(judged, answer)
  }

  #answer(judged: Judged, answer: Answer): void {
    this.#pending.delete(judged.id)
    judged.answer(answer)
    for (const ask of judged.again) ask.answer(answer)
  }

  #formerAnswer(id: string, by: Who): Answer | undefined {
    return this.#answers.get(id) ?? this.#answers.get(refusalKey(id, by))
  }

  /** Takes all that is not durable out of the records again and puts the ops back in line, in their order. */
  #takeBack(): void {
    const undone = [...(this.#inFlight ?? []), ...this.#waiting]
    for (const { before } of undone.slice().reverse()) if (before) this.#world.records.apply(before)
    this.#inFlight = null
    this.#waiting = []
    for (const { id } of undone) this.#pending.delete(id)
    this.#cancelFlush?.()
    this.#cancelFlush = null
    const asks = undone.flatMap(({ value, who, answer, again }) => [{ value, who, answer }, ...again])
    this.#line = [...asks, ...this.#line]
  }

  async #findReceipts(opIds: readonly string[]): Promise<void> {
    for (const { opId, seq, at } of await this.#world.store.findOps(this.#world.lab, opIds))
      this.#remember(opId, { ok: true, seq, at })
  }

  /** Lays over the records what the store has beyond them, written by another server or by an append whose answer got lost. */
  async #catchUp(): Promise<void> {
    const { store, lab, records } = this.#world
    for (;;) {
      const entries = await store.read(lab, this.#seq, READ_PAGE)
      const last = entries.at(-1)
      if (!last) return
      const changes = lastOfEach(entries)
      records.apply(changes)
      this.#seq = last.seq
      for (const { opId, seq, at } of entries) this.#remember(opId, { ok: true, seq, at })
      this.#world.onKept({ seq: this.#seq, changes })
    }
  }

  #trouble(): void {
    if (this.#isTrouble || this.#isClosed) return
    this.#isTrouble = true
    this.#tell('read-only')
    this.#retryLater()
  }

  /** Reading must work again before anything is tried; well again is said when something was kept, or nothing waits. */
  #retryLater(): void {
    this.#world.clock.after(RETRY_MS, () => {
      if (this.#isClosed) return
      this.#catchUp().then(
        () => {
          this.#isTrouble = false
          if (this.#line.length === 0) this.#tell('well')
          this.#pump()
        },
        () => this.#retryLater(),
      )
    })
  }

  #tell(state: 'well' | 'read-only'): void {
    if (state === this.#told) return
    this.#told = state
    this.#world.onState(state)
  }

  #remember(id: string, answer: Answer): void {
    this.#answers.delete(id)
    this.#answers.set(id, answer)
    if (this.#answers.size <= ANSWERS_MAX) return
    const oldest = this.#answers.keys().next()
    if (!oldest.done) this.#answers.delete(oldest.value)
  }
}

// A refusal may name what only its author may read, so it is remembered for that person alone.
const refusalKey = (id: string, by: Who): string => `${by.personId} ${id}`

/** Changes in their order, of each record the last one alone. */
function lastOfEach(entries: readonly Pick<Entry, 'changes'>[]): readonly Change[] {
  const [only] = entries
  if (only && entries.length === 1 && only.changes.length === 1) return only.changes
  const last = new Map<string, Change>()
  for (const { changes } of entries)
    for (const change of changes) {
      const key = `${change.kind} ${change.id}`
      last.delete(key)
      last.set(key, change)
    }
  return [...last.values()]
}
