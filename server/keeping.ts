// Keeping what the gate let through: judged ops wait for the store in batches, and only when a batch is durable is anybody
// told, first the screens, then the authors. A quiet lab's batch leaves at once, a busy one's keep a distance, so that
// one fsync and one frame serve many. Trouble takes everything undurable out of the records again and gives the ops
// back to the line: nothing was told, nothing is lost.
import type { When, Who } from '#lib/ops'
import type { Change, Finding } from '#lib/words'
import { type Answer, Answers } from './answers.ts'
import type { EditSpans } from './edit-spans.ts'
import type { OpTable } from './gate.ts'
import { type HeldRecords, wholeHomes } from './held-records.ts'
import type { Entry, Store } from './store/contract.ts'
import type { Clock, Log } from './world.ts'

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
  readonly spans: EditSpans
  readonly table: OpTable
  readonly records: HeldRecords
  readonly when: () => When
  /** Milliseconds between two batches while the lab is busy. */
  readonly spacingMs: () => number
  /** Durable changes, to be shown. */
  readonly onKept: (kept: KeptChanges) => void
  readonly onState: (state: 'well' | 'read-only') => void
}

/** An op in line. */
export interface Ask {
  readonly value: unknown
  /** Who asks, as of the moment of judging; null when they may not be heard any more. */
  readonly who: () => Who | null
  readonly answer: (answer: Answer) => void
}

/** An op that was judged. */
export type Judged = Ask & {
  readonly id: string
  readonly by: Who
  /** The same op, come again meanwhile: gets the same answer. */
  readonly again: Ask[]
} & (
    | { readonly entry: Entry; readonly before: readonly Change[]; readonly findings?: never }
    | { readonly entry?: never; readonly before?: never; readonly findings: readonly Finding[] }
  )

/** The line that ops come from and go back to. */
export interface LineOfAsks {
  /** These come before all others again. */
  readonly putBack: (asks: readonly Ask[]) => void
  /** Runs alone, before anything more is judged. */
  readonly alone: (work: () => Promise<void>) => void
  /** Something was kept or is well again: go on. */
  readonly goOn: () => void
  readonly isEmpty: () => boolean
}

const RECENT_RECEIPTS = 5_000
const BATCH_MAX = 512
/** Batches that may leave ahead of their distance, so that edits that meet by chance do not wait for each other. */
const AHEAD = 3
const RETRY_MS = 1_000
const READ_PAGE = 500

export class Keeping {
  readonly #world: GateWorld
  readonly #line: LineOfAsks
  readonly answers = new Answers()
  /** Judged ops without an answer yet, by id. */
  readonly pending = new Map<string, Judged>()
  #seq = 0
  #waiting: Judged[] = []
  #inFlight: Judged[] | null = null
  /** Judged as refused; whether they were kept before is being looked up. */
  #refusing: Judged[] = []
  #isLooking = false
  #isTrouble = false
  #told: 'well' | 'read-only' = 'well'
  #isClosed = false
  #cancelFlush: (() => void) | null = null
  /** Batches sent so far fill the time up to here, at their distance. */
  #paidUntil = Number.NEGATIVE_INFINITY
  #unsubscribe: () => void = () => {}

  constructor(world: GateWorld, line: LineOfAsks) {
    this.#world = world
    this.#line = line
  }

  /** Durable position. */
  get seq(): number {
    return this.#seq
  }

  get state(): 'well' | 'read-only' {
    return this.#told
  }

  get isTrouble(): boolean {
    return this.#isTrouble
  }

  /** True when the records hold nothing that is not durable. */
  get isSettled(): boolean {
    return this.#waiting.length === 0 && this.#inFlight === null
  }

  get isInFlight(): boolean {
    return this.#inFlight !== null
  }

  get isFull(): boolean {
    return this.#waiting.length >= BATCH_MAX
  }

  /** Reads the lab from the store. */
  async open(): Promise<void> {
    const { store, lab, records } = this.#world
    const seqs: number[] = []
    for (const home of wholeHomes) {
      const snapshot = await store.snapshot(lab, home)
      records.load(home, snapshot.records)
      seqs.push(snapshot.seq)
    }
    // Read apart, so some may be newer than others; entries are whole records, laying them twice is no harm.
    this.#seq = Math.min(...seqs)
    this.answers.kept(await store.recentOps(lab, RECENT_RECEIPTS))
    await this.#catchUp()
    this.#unsubscribe = store.subscribe(lab, (seq) => {
      if (!this.#inFlight && seq > this.#seq && !this.#isClosed) this.#line.alone(() => this.#catchUpOrTrouble())
    })
  }

  close(): void {
    this.#isClosed = true
    this.#unsubscribe()
    this.#cancelFlush?.()
  }

  /** A judged op joins what it rests on; a refusal that rests on durable records alone is told at once. */
  settle(judged: Judged): void {
    this.pending.set(judged.id, judged)
    if (judged.entry) this.#waiting.push(judged)
    else if (this.#waiting.length > 0) this.#waiting.push(judged)
    else if (this.#inFlight) this.#inFlight.push(judged)
    else this.#refuse(judged)
  }

  /** Sends the batch when its time has come. */
  flushSoon(): void {
    if (this.#inFlight || this.#cancelFlush) return
    if (this.#waiting.length === 0) {
      // What came back in line was answered without being written: kept already by an append whose answer got lost, or
      // refused by now. Nothing will be kept that could say that all is well.
      if (!this.#isTrouble && this.#line.isEmpty()) this.#tell('well')
      return
    }
    const { clock, spacingMs } = this.#world
    // A clock that is set back must not let the lab wait until it has caught up.
    this.#paidUntil = Math.min(this.#paidUntil, clock.now() + (AHEAD + 1) * spacingMs())
    const waitMs = this.#paidUntil - AHEAD * spacingMs() - clock.now()
    if (waitMs <= 0 || this.#waiting.length >= BATCH_MAX) this.#flush()
    else this.#cancelFlush = clock.after(waitMs, () => this.#flush())
  }

  /** Sends the batch without waiting for more. */
  flushNow(): void {
    if (!this.#inFlight && this.#waiting.length > 0) this.#flush()
  }

  #flush(): void {
    this.#cancelFlush?.()
    this.#cancelFlush = null
    if (this.#inFlight || this.#waiting.length === 0) return
    const batch = this.#waiting
    this.#waiting = []
    this.#inFlight = batch
    const { store, lab, clock, spans, spacingMs } = this.#world
    this.#paidUntil = Math.max(this.#paidUntil, clock.now()) + spacingMs()
    const entries = batch.flatMap((judged) => (judged.entry ? [judged.entry] : []))
    const append = () => store.append(lab, this.#seq, entries)
    spans.append(entries, append).then(
      (appended) => {
        if (appended.ok) return this.#kept(batch, entries)
        this.#takeBack()
        const learn = () =>
          appended.why === 'op-twice' ? this.#findReceipts(appended.opIds) : this.#catchUpOrTrouble()
        this.#line.alone(() => learn().catch(() => this.trouble()))
      },
      (error) => {
        this.#world.log('error', `The store could not keep a batch: ${error}`, { lab })
        this.#takeBack()
        this.trouble()
      },
    )
  }

  #kept(batch: readonly Judged[], entries: readonly Entry[]): void {
    let seq = this.#seq
    this.#seq += entries.length
    this.#inFlight = null
    this.#tell('well')
    this.#world.onKept({ seq: this.#seq, changes: lastOfEach(entries) })
    this.#world.spans.shown()
    for (const judged of batch) {
      if (!judged.entry) {
        this.#refuse(judged)
        continue
      }
      seq++
      const { id, entry } = judged
      this.answers.kept([{ opId: id, seq, at: entry.at }])
      this.#answer(judged, { ok: true, seq, at: entry.at })
    }
    this.#line.goOn()
  }

  /**
   * An op that was kept long ago and comes again is not refused for what it did itself: its receipt is found. One question to
   * the store at a time, for all that wait: edits stand in the same line there.
   */
  #refuse(judged: Judged): void {
    this.#refusing.push(judged)
    if (!this.#isLooking) void this.#lookAndRefuse()
  }

  async #lookAndRefuse(): Promise<void> {
    this.#isLooking = true
    while (this.#refusing.length > 0) {
      const batch = this.#refusing.splice(0, BATCH_MAX)
      try {
        await this.#findReceipts(batch.map(({ id }) => id))
      } catch {
        // Not known, so not said yet.
        this.#refusing.unshift(...batch)
        this.#world.clock.after(RETRY_MS, () => {
          if (!this.#isClosed) void this.#lookAndRefuse()
        })
        return
      }
      for (const judged of batch) {
        const { id, by, findings = [] } = judged
        this.#answer(judged, this.answers.find(id, by) ?? this.answers.refused(id, by, findings))
      }
    }
    this.#isLooking = false
  }

  #answer(judged: Judged, answer: Answer): void {
    this.pending.delete(judged.id)
    judged.answer(answer)
    for (const ask of judged.again) ask.answer(answer)
  }

  /** Takes all that is not durable out of the records again and puts the ops back in line, in their order. */
  #takeBack(): void {
    const undone = [...(this.#inFlight ?? []), ...this.#waiting]
    for (const { before } of undone.slice().reverse()) if (before) this.#world.records.apply(before)
    this.#inFlight = null
    this.#waiting = []
    for (const { id } of undone) this.pending.delete(id)
    this.#cancelFlush?.()
    this.#cancelFlush = null
    const asks = undone.flatMap(({ value, who, answer, again }) => [{ value, who, answer }, ...again])
    this.#line.putBack(asks)
  }

  async #findReceipts(opIds: readonly string[]): Promise<void> {
    this.answers.kept(await this.#world.store.findOps(this.#world.lab, opIds))
  }

  #catchUpOrTrouble(): Promise<void> {
    return this.#catchUp().catch(() => this.trouble())
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
      this.answers.kept(entries)
      this.#world.onKept({ seq: this.#seq, changes })
    }
  }

  /** The store cannot: nothing more is judged until it can. */
  trouble(): void {
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
          if (this.#line.isEmpty()) this.#tell('well')
          this.#line.goOn()
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
}

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
