// One person's desk: the documents they may read, what they made that is not answered yet, and the draft of both that
// their screens show. It lives as long as the person does; when somebody else signs in, the desk goes with all on it.
//
//   act -> judged on the draft -> outbox + draft at once -> line -> the server's gate
//   documents change -> gathered until the next frame -> base, then the waiting ops again -> screens
//   kept -> the entry stays until the documents show its position -> gone
//   refused -> the entry goes, its words stay in `refused` with the reason, later ops are laid again
import { localAt, makeId, timeOfId } from '#lib/base'
import { inverseOf, needsOf, type Op, type OpBody, parseOp, type When, type Who } from '#lib/ops'
import {
  type Finding,
  finding,
  type Home,
  homeOf,
  isSheetKind,
  noRecords,
  type OpId,
  PROTOCOL_VERSION,
  type Records,
  type ServerMessage,
} from '#lib/words'
import type { BaseEvents } from './base.ts'
import { Draft } from './draft.ts'
import { Homes } from './homes.ts'
import { Inbox, type News } from './inbox.ts'
import { type Entry, lastIdOf, Outbox } from './outbox.ts'
import { PhotoQueue } from './photo-queue.ts'
import type { Identity, Line, Ports, Refused, Shelf } from './ports.ts'
import type { Shown } from './shown.ts'
import { Undo } from './undo.ts'

/** A kept op whose documents do not say so is believed after this long. */
const SETTLE_MS = 2000

/** A press is painted first; then it is put on the shelf. Shorter than anybody closes a page after pressing. */
const SECURE_MS = 20

export type Acted =
  | { readonly ok: true; readonly id: OpId }
  | { readonly ok: false; readonly findings: readonly Finding[] }

/** What the desk tells the session. */
export type DeskEvents = {
  readonly board: Pick<BaseEvents, 'hello' | 'ready' | 'message' | 'down' | 'others'>
  /** How many ops wait, or when one was last kept, differs. */
  readonly counted: (keptAt: number | null) => void
  /** Another tab of this browser signed out. */
  readonly signedOut: () => void
}

export class Desk {
  readonly #ports: Ports
  readonly #shown: Shown
  readonly #events: DeskEvents
  readonly #homes: Homes
  readonly #draft: Draft
  readonly #undo = new Undo()
  #identity: Identity | null = null
  #shelf: Shelf | null = null
  #outbox: Outbox | null = null
  #refused: readonly Refused[] = []
  #lastId: string | null = null
  #photos: PhotoQueue | null = null
  readonly #inbox = new Inbox()
  #isDirty = false
  #isFlushAsked = false
  #isActing = false
  #isRevealed = false
  #isClosed = false

  constructor(ports: Ports, shown: Shown, events: DeskEvents) {
    this.#ports = ports
    this.#shown = shown
    this.#events = events
    this.#draft = new Draft(noRecords(), {
      who: () => this.who,
      canJudge: (op) =>
        needsOf(this.#draft.records, op).every((need) => need.gateOnly || this.#homes.find(need.home)?.isReady),
      report: ports.report,
    })
    this.#homes = new Homes(
      ports,
      () => this.#outbox?.isLeading === true,
      (home) => this.#eventsOf(home),
      (home) => this.#take({ home, whole: null }),
    )
  }

  get homes(): Homes {
    return this.#homes
  }

  get identity(): Identity | null {
    return this.#identity
  }

  get shelf(): Shelf | null {
    return this.#shelf
  }

  get photos(): PhotoQueue | null {
    return this.#photos
  }

  /** Ops and photographs that the server has not kept yet. */
  get count(): number {
    return (this.#outbox?.count ?? 0) + (this.#photos?.count ?? 0)
  }

  /** Who acts here, in the form that judging takes; null while nobody is known. */
  get who(): Who | null {
    if (!this.#identity) return null
    const { personId, role } = this.#identity
    // A wall has no person; it carries its role's name instead, which no person's id can be mistaken for.
    return { personId: personId ?? ('wall' as Who['personId']), role }
  }

  /** Lays out what this person left on the device, and opens the lines. */
  async belongTo(identity: Identity): Promise<void> {
    this.#identity = identity
    const shelf = await this.#ports.openShelf(identity)
    if (this.#isClosed) return shelf.close()
    this.#shelf = shelf
    const tabs = this.#ports.openTabs(identity)
    const outbox = new Outbox(shelf, tabs, {
      changed: () => {
        if (!this.#isActing) this.#lay()
        this.#events.counted(null)
      },
      led: () => {
        for (const base of this.#homes.all) base.keepCopy()
        this.#photos?.led()
      },
      kept: (items) => this.#kept(items),
      refused: (items) => this.#takeRefused(items),
      dismissed: (id) => this.#takeDismissed(id),
      photos: () => this.#photos?.read().catch(this.#ports.report),
      signedOut: this.#events.signedOut,
      soon: (call) => this.#ports.clock.after(SECURE_MS, call),
      report: this.#ports.report,
    })
    this.#outbox = outbox
    this.#photos = new PhotoQueue({
      ...{ shelf, tabs, uploads: this.#ports.uploads, clock: this.#ports.clock, report: this.#ports.report },
      shown: this.#shown.photos,
      act: (body) => this.act(body),
      isWaiting: (id) => outbox.find(id) !== undefined,
      isLeading: () => outbox.isLeading,
      dismiss: (id) => this.dismiss(id),
      counted: () => this.#events.counted(null),
    })
    const [refused] = await Promise.all([
      shelf.refused().catch((error: unknown) => {
        this.#ports.report(error)
        return []
      }),
      this.#homes.belongTo(identity, shelf),
      outbox.open(),
    ])
    this.#photos.read().catch(this.#ports.report)
    if (this.#isClosed) return
    this.#refused = [...refused, ...this.#refused]
    this.#homes.connect()
    this.#lay()
  }

  /** The board's line is open (or, null, gone). */
  connect(line: Line | null): void {
    this.#photos?.connect(line !== null)
    this.#outbox?.connect(line && ((ops) => line.send({ type: 'ops', ops: [...ops] })))
  }

  /** From here on screens may see what lies here. */
  reveal(): void {
    if (this.#isRevealed) return
    this.#isRevealed = true
    this.flush()
    this.#show()
  }

  /** The moment as the server's clock has it, in the lab's zone. */
  now(): When {
    const ms = this.#ports.clock.now() + this.#shown.skewMs.get()
    const zone = this.#draft.records.lab.get('lab')?.zone ?? 'UTC'
    return { at: new Date(ms).toISOString(), ...localAt(zone, ms) }
  }

  /** A fresh id for a record or an op, sorting after every op made or seen here before. */
  newId(): string {
    const now = this.#ports.clock.now() + this.#shown.skewMs.get()
    const seen = lastIdOf(this.#outbox?.entries ?? [])
    const last = seen && this.#lastId && seen < this.#lastId ? this.#lastId : (seen ?? this.#lastId)
    this.#lastId = makeId(last ? Math.max(now, timeOfId(last) + 1) : now, this.#ports.chance)
    return this.#lastId
  }

  /** Does what a screen asks for: judged early here, shown at once, kept by the server later or given back. */
  act(body: OpBody, isUndo = false): Acted {
    const outbox = this.#outbox
    const who = this.who
    if (!who || !outbox || !this.#isRevealed || !this.#homes.board.isReady)
      return { ok: false, findings: [finding('O', 'not-open')] }
    this.flush()
    const parsed = parseOp({ ...body, id: this.newId() })
    if (!parsed.op) return { ok: false, findings: parsed.findings }
    const waiting = { op: parsed.op, when: this.now() }
    const findings = this.#draft.judge(waiting.op, waiting.when)
    if (findings.length > 0) return { ok: false, findings }
    const before = this.#draft.records
    const inverse = isUndo ? null : this.#inverse(before, waiting.op, who)
    const changes = this.#draft.push(waiting)
    if (inverse) this.#undo.add(waiting.op, inverse, before, changes)
    this.#isActing = true
    outbox.add(waiting)
    this.#isActing = false
    this.#show()
    return { ok: true, id: waiting.op.id }
  }

  /** What would stand against an act, without doing it. */
  wouldRefuse(body: OpBody): readonly Finding[] {
    if (!this.who || !this.#isRevealed || !this.#homes.board.isReady) return [finding('O', 'not-open')]
    const parsed = parseOp({ ...body, id: 'early' })
    return parsed.op ? this.#draft.judge(parsed.op, this.now()) : parsed.findings
  }

  /** Takes back one's own last edit; null when there is none. */
  undo(): Acted | null {
    this.flush()
    const last = this.#undo.take(this.#draft.records)
    this.#show()
    if (!last) return null
    if (last.isOvertaken) return { ok: false, findings: [finding('O', 'changed-since')] }
    return this.act(last.inverse, true)
  }

  /** The author has seen why this op was refused. */
  dismiss(id: string): void {
    this.#outbox?.tell({ type: 'dismissed', id })
    this.#shelf?.dropRefused(id).catch(this.#ports.report)
    this.#takeDismissed(id)
  }

  /** Receipts and refusals from the board's line. */
  hear(message: ServerMessage): void {
    if (message.type === 'kept') this.#outbox?.kept(message.items)
    if (message.type === 'refused') {
      const at = this.#ports.clock.now()
      const items = message.items.flatMap(({ id, findings }) => {
        const entry = this.#outbox?.find(id)
        return entry ? [{ op: entry.op, findings, at }] : []
      })
      if (items.length > 0) this.#outbox?.refused(items)
    }
  }

  /** The page may be going: what is only in memory goes on the shelf. */
  secure(): void {
    this.#outbox?.secure()
  }

  /** Tells the other tabs that this browser signed out. */
  tellSignedOut(): void {
    this.#outbox?.tell({ type: 'signed-out' })
  }

  /** Brings the draft up to date with everything that has come in. */
  flush(): void {
    if (!this.#isDirty || !this.#isRevealed) return
    this.#isDirty = false
    this.#outbox?.settle((entry) => this.#isInDocuments(entry))
    this.#draft.take(this.#inbox.take(this.#draft.base), this.#outbox?.entries ?? [])
  }

  close(): void {
    this.#isClosed = true
    this.#outbox?.close()
    this.#photos?.close()
    this.#homes.close()
  }

  #eventsOf(home: Home): BaseEvents {
    const board = home === 'board' ? this.#events.board : null
    return {
      changed: (change) => this.#take({ home, ...change }),
      hello: (hello) => {
        if (board) return board.hello(hello)
        // Another line may reconnect first after the person changed; only the board's line decides what follows.
        return (
          hello.version === PROTOCOL_VERSION &&
          hello.personId === this.#identity?.personId &&
          hello.role === this.#identity?.role
        )
      },
      ready: () => board?.ready(),
      message: (message) => board?.message(message),
      down: (isFinal) => board?.down(isFinal),
      synced: () => this.#lay(),
      others: (others) => board?.others(others),
    }
  }

  #take(news: News): void {
    this.#inbox.put(news)
    this.#lay()
  }

  /** Asks for one flush before the next paint. */
  #lay(): void {
    this.#isDirty = true
    if (this.#isFlushAsked || this.#isClosed) return
    this.#isFlushAsked = true
    this.#ports.nextFrame(() => {
      this.#isFlushAsked = false
      if (this.#isClosed || !this.#isRevealed) return
      this.flush()
      this.#show()
    })
  }

  #show(): void {
    if (!this.#isRevealed || this.#isClosed) return
    const { records } = this.#draft
    this.#shown.refused.set(this.#refused)
    this.#shown.undoable.set(this.#undo.top)
    this.#shown.records.set(records)
    const ready = this.#homes.readySheets()
    const before = this.#shown.sheetsReady.get()
    if (ready.size !== before.size || [...ready].some((id) => !before.has(id))) this.#shown.sheetsReady.set(ready)
    // Somebody is here once acting is possible: with a shelf for what they make.
    if (!this.#identity || !this.#outbox) return
    const { personId, role } = this.#identity
    const name = personId ? (records.person.get(personId)?.name ?? '') : ''
    const who = this.#shown.who.get()
    if (who && who.personId === personId && who.role === role && who.name === name) return
    this.#shown.who.set({ personId: this.who?.personId ?? ('wall' as Who['personId']), role, name })
  }

  /** True when every open document that a kept op changes speaks for its position or a later one. */
  #isInDocuments(entry: Entry): boolean {
    return this.#draft.changesOf(entry.op.id).every(({ kind, record }) => {
      const isSheetRemoval = record === null && isSheetKind(kind)
      const base = isSheetRemoval ? undefined : this.#homes.find(homeOf(kind, record))
      return !base?.isSynced || base.seq >= entry.seq
    })
  }

  #kept(items: readonly { readonly id: string; readonly at: string }[]): void {
    const ids = new Set(items.map((item) => item.id))
    // An op sent twice may be refused on one line and kept on the other: kept is what is true for everybody.
    for (const { op } of this.#refused) if (ids.has(op.id)) this.#takeDismissed(op.id)
    this.#photos?.kept(ids)
    this.#events.counted(this.#ports.clock.now())
    this.#ports.clock.after(SETTLE_MS, () => {
      this.#outbox?.settle((entry) => ids.has(entry.op.id))
      this.#lay()
    })
    this.#lay()
  }

  #takeRefused(items: readonly Refused[]): void {
    const known = new Set<string>(this.#refused.map((item) => item.op.id))
    this.#refused = [...this.#refused, ...items.filter((item) => !known.has(item.op.id))]
    for (const item of items) this.#undo.drop(item.op.id)
    this.#photos?.refused(items)
    this.#lay()
  }

  #takeDismissed(id: string): void {
    this.#refused = this.#refused.filter((item) => item.op.id !== id)
    this.#lay()
  }

  #inverse(records: Records, op: Op, who: Who): OpBody | null {
    try {
      return inverseOf(records, op, op.id, who)
    } catch (error) {
      this.#ports.report(error)
      return null
    }
  }
}
