// One home's base: the Yjs document that the server writes, its copy on this device, and the line that keeps it in
// step. The document is only ever read here. When the server's epoch is another, its documents were born again from
// the records: this copy is dropped and taken whole, never merged.
import * as Y from 'yjs'
import { observe, readAll, readMeta } from '#lib/doc'
import type { Change, Records, ServerMessage } from '#lib/words'
import type { Stop } from './cell.ts'
import type { Identity, Line, Other, Ports, Shelf } from './ports.ts'

/** Updates stored one by one before they are folded into one. */
const UPDATES_MAX = 200
/** How often the shelf learns that the copy is still in step. */
const TOUCH_MS = 60_000
/** A server that took the line but does not sync is asked again with the epoch it named. */
const SYNC_WAIT_MS = 3_000
/** After the document is in step: the first paint, and a change of the tab that leads, are over by then. */
const STORE_MS = 1_000
/** Where updates that came from the shelf say they come from, so that they are not stored again. */
const FROM_SHELF = 'shelf'

export type BaseEvents = {
  /** What differs now; `whole` replaces everything this home held before. */
  readonly changed: (change: { readonly changes: readonly Change[] } | { readonly whole: Records }) => void
  /** Hello of this line; false closes it to syncing (somebody else's session). */
  readonly hello: (hello: Extract<ServerMessage, { type: 'hello' }>) => boolean
  /** The line is with this document to stay: ops and the rest may go over it. */
  readonly ready: () => void
  /** Any other message. */
  readonly message: (message: ServerMessage) => void
  readonly down: (isFinal: boolean) => void
  readonly synced: () => void
  readonly others: (others: readonly Other[]) => void
}

export class Base {
  readonly home: string
  readonly #ports: Ports
  readonly #events: BaseEvents
  readonly #mayStore: () => boolean
  #shelf: Shelf | null = null
  #identity: Identity | null = null
  #doc = new Y.Doc()
  #line: Line | null = null
  #epoch = ''
  #stopObserving: Stop = () => {}
  #isClosed = false
  /** True while the screen still shows the document of a former epoch. */
  #isReplacing = false
  #isSynced = false
  /** Updates on the shelf; null while what is there is not this document. */
  #stored: number | null = null
  #heardAt = 0
  #stopTouching: Stop = () => {}
  #stopStoring: Stop = () => {}

  constructor(home: string, ports: Ports, mayStore: () => boolean, events: BaseEvents) {
    this.home = home
    this.#ports = ports
    this.#mayStore = mayStore
    this.#events = events
    this.#watch()
  }

  /** Lays out the stored copy, if it was made under this identity's role. */
  async load(shelf: Shelf, identity: Identity): Promise<boolean> {
    this.#shelf = shelf
    this.#identity = identity
    let copy = null
    try {
      copy = await shelf.copy(this.home)
    } catch (error) {
      this.#ports.report(error)
    }
    if (this.#isClosed || this.#line || !copy || copy.role !== identity.role || copy.updates.length === 0) return false
    try {
      const { updates } = copy
      this.#doc.transact(() => {
        for (const update of updates) Y.applyUpdate(this.#doc, update, FROM_SHELF)
      }, FROM_SHELF)
    } catch (error) {
      // A copy that does not read is worth nothing: the server sends a new one.
      this.#ports.report(error)
      this.#fresh('')
      return false
    }
    this.#epoch = copy.epoch
    this.#stored = copy.updates.length
    this.#heardAt = copy.at
    return true
  }

  /** Keeps the copy on this shelf from the next sync on; for a line that was open before anybody knew for whom. */
  attach(shelf: Shelf, identity: Identity): void {
    this.#shelf = shelf
    this.#identity = identity
    this.keepCopy()
  }

  /** Opens the line; the document is brought into step from here on. */
  connect(): void {
    if (this.#isClosed || this.#line) return
    const doc = this.#doc
    this.#line = this.#ports.openLine(this.home, doc, this.#epoch, {
      message: (message) => this.#isClosed || doc !== this.#doc || this.#hear(message),
      down: (isFinal) => {
        if (this.#isClosed || doc !== this.#doc) return
        this.#isSynced = false
        this.#stopTouching()
        this.#events.down(isFinal)
      },
      synced: () => {
        if (!this.#isClosed && doc === this.#doc) this.#synced()
      },
      others: (others) => {
        if (!this.#isClosed && doc === this.#doc) this.#events.others(others)
      },
    })
  }

  get line(): Line | null {
    return this.#line
  }

  /** Up to which position of the server this document speaks. */
  get seq(): number {
    return readMeta(this.#doc)?.seq ?? 0
  }

  get isSynced(): boolean {
    return this.#isSynced
  }

  /** True when the document shows something: in step, or as it was stored. */
  get isReady(): boolean {
    return this.#isSynced || this.#heardAt > 0
  }

  /** When the copy on this device last heard from the server; 0 for never. */
  get heardAt(): number {
    return this.#heardAt
  }

  /** This tab became the one that keeps the copy. */
  keepCopy(): void {
    if (this.#isSynced) this.#storeSoon()
  }

  close(): void {
    this.#isClosed = true
    this.#stopObserving()
    this.#stopTouching()
    this.#stopStoring()
    this.#line?.close()
    this.#doc.destroy()
  }

  #hear(message: ServerMessage): boolean {
    if (message.type !== 'hello') {
      this.#events.message(message)
      return true
    }
    if (!this.#events.hello(message) || this.#isClosed) return false
    if (this.#epoch !== '' && message.epoch !== this.#epoch) {
      this.#again(message.epoch)
      return false
    }
    if (this.#epoch === '') {
      // Nothing held yet, nothing to drop: this document takes the server's from the start.
      this.#epoch = message.epoch
      this.#awaitSync()
    }
    this.#events.ready()
    return true
  }

  /** A new document and line under `epoch`. */
  #again(epoch: string): void {
    this.#fresh(epoch)
    this.connect()
  }

  #awaitSync(): void {
    const doc = this.#doc
    this.#ports.clock.after(SYNC_WAIT_MS, () => {
      if (!this.#isClosed && doc === this.#doc && !this.#isSynced && this.#line) this.#again(this.#epoch)
    })
  }

  #synced(): void {
    this.#isSynced = true
    this.#heardAt = this.#ports.clock.now()
    this.#touchLater()
    if (this.#isReplacing) {
      this.#isReplacing = false
      this.#watch()
      this.#events.changed({ whole: readAll(this.#doc) })
      this.#storeSoon()
    } else if (this.#stored === null || this.#stored > UPDATES_MAX) this.#storeSoon()
    this.#events.synced()
  }

  #touchLater(): void {
    this.#stopTouching()
    this.#stopTouching = this.#ports.clock.after(TOUCH_MS, () => {
      this.#heardAt = this.#ports.clock.now()
      if (this.#mayStore()) {
        this.#shelf?.touchCopy(this.home, this.#epoch, this.#heardAt).catch(this.#ports.report)
      }
      this.#touchLater()
    })
  }

  /** Drops document and line; what they showed stays on screen until the new document is whole. */
  #fresh(epoch: string): void {
    this.#stopObserving()
    this.#line?.close()
    this.#line = null
    this.#doc.destroy()
    this.#doc = new Y.Doc()
    this.#epoch = epoch
    this.#stored = null
    this.#isSynced = false
    this.#stopTouching()
    this.#stopStoring()
    this.#isReplacing = epoch !== ''
    if (!this.#isReplacing) this.#watch()
  }

  #watch(): void {
    this.#stopObserving()
    this.#stopObserving = observe(this.#doc, (changes) => this.#events.changed({ changes }))
    this.#doc.on('update', this.#onUpdate)
  }

  readonly #onUpdate = (update: Uint8Array, origin: unknown): void => {
    if (origin === FROM_SHELF || this.#stored === null || !this.#shelf || !this.#mayStore()) return
    this.#heardAt = this.#ports.clock.now()
    this.#stored++
    if (this.#stored > 2 * UPDATES_MAX) this.#store()
    else this.#shelf.appendCopy(this.home, this.#epoch, update, this.#heardAt).catch(this.#ports.report)
  }

  /** Stores once the screen has had its first paint: encoding a whole board takes longer than painting it. */
  #storeSoon(): void {
    this.#stopStoring()
    this.#stopStoring = this.#ports.clock.after(STORE_MS, () => this.#store())
  }

  /** Puts the whole document on the shelf in place of its many updates. */
  #store(): void {
    if (!this.#shelf || !this.#identity || !this.#mayStore()) return
    this.#stored = 1
    const head = { epoch: this.#epoch, role: this.#identity.role, at: this.#heardAt }
    this.#shelf.replaceCopy(this.home, head, Y.encodeStateAsUpdate(this.#doc)).catch(this.#ports.report)
  }
}
