// The ops made here and not yet answered, in the order of their ids, which is the order they were made in. One outbox
// belongs to a person, not to a tab: every tab holds all of it, one tab (the leader) sends.
//
// Life of an entry:  waiting -> sent -> (refused: gone) | kept -> gone once the documents show it.
// Order: a connection sends every unanswered entry before a later one, whoever sends, so the first arrival of each op
// keeps the order even while the lead passes from tab to tab; ids make the second arrival harmless.
import type { OpId } from '#lib/words'
import type { Stop } from './cell.ts'
import type { Refused, Shelf, TabMessage, Tabs, Waiting } from './ports.ts'

/** Ops under way at once: enough to fill the wire, few enough for the server's limits after an hour offline. */
const FLIGHT_MAX = 50
/** Characters of JSON in one message; the server's frame limit is 1 MiB. */
const MESSAGE_CHARS_MAX = 200_000
/** Answered ids remembered, so that a slow tab does not bring one back. */
const ANSWERED_MAX = 2000

export type Entry = Waiting & {
  state: 'waiting' | 'sent' | 'kept'
  /** Position at which the server kept it; meaningful in state kept. */
  seq: number
}

export type OutboxEvents = {
  /** The entries differ: the draft must be laid again. */
  readonly changed: () => void
  /** This tab sends and stores from now on. */
  readonly led: () => void
  readonly kept: (items: readonly { readonly id: string; readonly seq: number; readonly at: string }[]) => void
  readonly refused: (items: readonly Refused[]) => void
  readonly dismissed: (id: string) => void
  readonly photos: () => void
  readonly signedOut: () => void
  /** Calls after the next paint, or about then. */
  readonly soon: (call: () => void) => Stop
  readonly report: (error: unknown) => void
}

export class Outbox {
  readonly #shelf: Shelf
  readonly #tabs: Tabs
  readonly #events: OutboxEvents
  #entries: Entry[] = []
  readonly #answered = new Set<string>()
  readonly #stops: Stop[] = []
  /** Acts that are only in memory. */
  readonly #unsecured: Waiting[] = []
  #stopSecuring: Stop | null = null
  #isLeading = false
  #send: ((ops: readonly Waiting['op'][]) => boolean) | null = null

  constructor(shelf: Shelf, tabs: Tabs, events: OutboxEvents) {
    this.#shelf = shelf
    this.#tabs = tabs
    this.#events = events
  }

  /** Joins the other tabs and brings back what an earlier visit left. */
  async open(): Promise<void> {
    this.#stops.push(this.#tabs.listen((message) => this.#hear(message)))
    await this.#read()
    this.#stops.push(
      this.#tabs.lead((isLeading) => {
        this.#isLeading = isLeading
        if (!isLeading) return
        this.#tabs.send({ type: 'leading' })
        this.#events.led()
        // The former leader may have gone without a word: what it left on the shelf is ours to send.
        void this.#read().then(() => this.#pump())
        this.#pump()
      }),
    )
  }

  /** All entries in order, kept ones that the documents do not show yet included. */
  get entries(): readonly Entry[] {
    return this.#entries
  }

  /** How many ops the server has not kept yet. */
  get count(): number {
    return this.#entries.reduce((sum, entry) => sum + (entry.state === 'kept' ? 0 : 1), 0)
  }

  get isLeading(): boolean {
    return this.#isLeading
  }

  /** Takes an op made in this tab. It is on the wire at once; shelf and tabs can wait for the paint. */
  add(waiting: Waiting): void {
    this.#insert([waiting])
    this.#pump()
    this.#unsecured.push(waiting)
    this.#stopSecuring ??= this.#events.soon(() => this.secure())
  }

  /** Puts on the shelf what is not there yet: soon after an act, and when the page may be going. */
  secure(): void {
    this.#stopSecuring?.()
    this.#stopSecuring = null
    // An answer may have been quicker than the paint.
    const waiting = this.#unsecured.splice(0).filter(({ op }) => !this.#answered.has(op.id))
    if (waiting.length === 0) return
    for (const one of waiting) this.#shelf.putWaiting(one).catch(this.#events.report)
    this.#tabs.send({ type: 'acted', waiting })
  }

  /** A connection is open and may take ops, or (null) is not. What was under way goes again on the next one. */
  connect(send: ((ops: readonly Waiting['op'][]) => boolean) | null): void {
    this.#send = send
    for (const entry of this.#entries) if (entry.state === 'sent') entry.state = 'waiting'
    this.#pump()
  }

  /** The server kept these. */
  kept(items: readonly { readonly id: string; readonly seq: number; readonly at: string }[]): void {
    this.#tabs.send({ type: 'kept', items })
    this.#shelf.dropWaiting(items.map((item) => item.id)).catch(this.#events.report)
    this.#takeKept(items)
    this.#pump()
  }

  /** The server refused these; ids that are not ours are dropped. */
  refused(items: readonly Refused[]): void {
    this.#tabs.send({ type: 'refused', items })
    const ids = items.map((item) => item.op.id)
    // First the refusal, then the op: a crash between the two asks the server again instead of losing the words.
    this.#shelf
      .putRefused(items)
      .then(() => this.#shelf.dropWaiting(ids))
      .catch(this.#events.report)
    this.#takeRefused(items)
    this.#pump()
  }

  /** Drops kept entries that the documents show now; whoever calls lays the draft again. */
  settle(isShown: (entry: Entry) => boolean): void {
    this.#entries = this.#entries.filter((entry) => entry.state !== 'kept' || !isShown(entry))
  }

  find(id: string): Entry | undefined {
    return this.#entries.find((entry) => entry.op.id === id)
  }

  /** Tells the other tabs. */
  tell(message: TabMessage): void {
    this.#tabs.send(message)
  }

  close(): void {
    this.secure()
    this.#send = null
    this.#isLeading = false
    for (const stop of this.#stops.splice(0)) stop()
  }

  async #read(): Promise<void> {
    try {
      this.#insert(await this.#shelf.waiting())
    } catch (error) {
      this.#events.report(error)
    }
  }

  #insert(list: readonly Waiting[]): void {
    const news = list.filter(({ op }) => !this.#answered.has(op.id) && !this.find(op.id))
    if (news.length === 0) return
    for (const { op, when } of news) this.#entries.push({ op, when, state: 'waiting', seq: 0 })
    this.#entries.sort((a, b) => (a.op.id < b.op.id ? -1 : a.op.id > b.op.id ? 1 : 0))
    this.#events.changed()
  }

  #hear(message: TabMessage): void {
    switch (message.type) {
      case 'acted':
        this.#insert(message.waiting)
        this.#pump()
        return
      case 'leading':
        // The new leader may have read the shelf just before our last op was on it.
        if (this.#entries.length > 0) {
          const waiting = this.#entries.filter((entry) => entry.state !== 'kept')
          if (waiting.length > 0) {
            this.#tabs.send({ type: 'acted', waiting: waiting.map(({ op, when }) => ({ op, when })) })
          }
        }
        return
      case 'kept':
        this.#takeKept(message.items)
        return
      case 'refused':
        this.#takeRefused(message.items)
        return
      case 'dismissed':
        this.#events.dismissed(message.id)
        return
      case 'photos':
        this.#events.photos()
        return
      case 'signed-out':
        this.#events.signedOut()
    }
  }

  #takeKept(items: readonly { readonly id: string; readonly seq: number; readonly at: string }[]): void {
    for (const item of items) {
      this.#answer(item.id)
      const entry = this.find(item.id)
      if (!entry) continue
      entry.state = 'kept'
      entry.seq = item.seq
    }
    this.#events.kept(items)
  }

  #takeRefused(items: readonly Refused[]): void {
    const ids = new Set<string>(items.map((item) => item.op.id))
    for (const id of ids) this.#answer(id)
    this.#entries = this.#entries.filter((entry) => !ids.has(entry.op.id))
    this.#events.refused(items)
    this.#events.changed()
  }

  #answer(id: string): void {
    this.#answered.add(id)
    if (this.#answered.size <= ANSWERED_MAX) return
    for (const oldest of this.#answered) {
      this.#answered.delete(oldest)
      return
    }
  }

  #pump(): void {
    if (!this.#isLeading || !this.#send) return
    for (;;) {
      const underWay = this.#entries.reduce((sum, entry) => sum + (entry.state === 'sent' ? 1 : 0), 0)
      const batch: Entry[] = []
      let chars = 0
      for (const entry of this.#entries) {
        if (entry.state !== 'waiting') continue
        if (underWay + batch.length >= FLIGHT_MAX) break
        chars += JSON.stringify(entry.op).length
        if (batch.length > 0 && chars > MESSAGE_CHARS_MAX) break
        batch.push(entry)
      }
      if (batch.length === 0 || !this.#send(batch.map((entry) => entry.op))) return
      for (const entry of batch) entry.state = 'sent'
    }
  }
}

/** The greatest id among entries, so that a new one can be made to sort after all that its author saw. */
export const lastIdOf = (entries: readonly Entry[]): OpId | null => entries.at(-1)?.op.id ?? null
