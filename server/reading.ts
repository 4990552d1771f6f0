// The documents of a lab and who reads them: made from durable records when the first reader comes, written as batches
// are kept, born again when worn, dropped when nobody has read them for a while.
import type { Face, Home } from '#lib/words'
import { type FaceDocument, Faces, type Reader } from './faces.ts'
import type { GateQueue } from './gate-queue.ts'
import type { HeldRecords } from './held-records.ts'
import type { KeptChanges } from './keeping.ts'
import type { Store } from './store/contract.ts'
import type { Connection } from './sync/connection.ts'
import { CLOSE } from './sync/socket.ts'
import type { Chance, Clock, Log } from './world.ts'

/** A document nobody reads is kept so long, so that a reload takes a difference and not the whole. */
const UNREAD_MS = 60_000

export interface ReadingWorld {
  readonly lab: string
  readonly store: Store
  readonly clock: Clock
  readonly chance: Chance
  readonly log: Log
  readonly held: HeldRecords
  readonly gate: GateQueue
}

/** One connection's way to a document. */
export interface Read {
  /** Answers a step 1, unless the reader's copy is of another birth. */
  readonly sync: (stateVector: Uint8Array) => void
  readonly leave: () => void
}

export class Reading {
  readonly #world: ReadingWorld
  readonly #faces: Faces
  readonly #unreadSince = new Map<FaceDocument, number>()

  constructor(world: ReadingWorld) {
    this.#world = world
    this.#faces = new Faces(world.chance, '')
  }

  /** Greets a reader with the document's epoch; null when the connection ended meanwhile. */
  async open(
    connection: Connection,
    { home, face, epoch }: { readonly home: Home; readonly face: Face; readonly epoch: string },
    hello: (epoch: string) => void,
  ): Promise<Read | null> {
    const made = this.#faces.find(home, face) ?? (await this.#world.gate.turn(() => this.#make(home, face)))
    if (connection.isEnded) return null
    // It may have been born again since.
    const document = this.#faces.find(home, face) ?? made
    this.#unreadSince.delete(document)
    // A copy of another birth takes nothing from this one.
    let isCurrent = epoch === '' || epoch === document.epoch
    const reader: Reader = {
      send: (frame) => connection.send(frame),
      reborn: (next) => {
        isCurrent = false
        hello(next)
      },
    }
    hello(document.epoch)
    return {
      sync: (stateVector) => {
        if (!isCurrent) return
        if (this.#faces.find(home, face) === document) sync(connection, document, reader, stateVector)
        else connection.close(CLOSE.again, 'again')
      },
      leave: () => {
        document.readers.delete(reader)
        if (document.readers.size === 0) this.#unreadSince.set(document, this.#world.clock.now())
      },
    }
  }

  /** Writes what was kept and sends it to the readers. */
  show({ changes, seq }: KeptChanges): void {
    try {
      for (const worn of this.#faces.write(changes, seq)) this.#rebirth(worn)
    } catch (error) {
      // The records are true all the same; documents are made of them anew.
      this.#world.log('error', `A document could not be written: ${error instanceof Error ? error.stack : error}`)
      for (const document of this.#faces.all) this.#rebirth(document)
    }
  }

  /** Another day: what shows one day alone is born again. */
  turnTo(date: string): void {
    this.#faces.today = date
    const wall = this.#faces.find('board', 'wall')
    if (wall) this.#rebirth(wall)
  }

  /** Drops what nobody has read for a while. */
  dropUnread(): void {
    const now = this.#world.clock.now()
    for (const [document, since] of this.#unreadSince) {
      const isWaitedFor = document.readers.size > 0 || document.home === 'board'
      if (!isWaitedFor && now - since < UNREAD_MS) continue
      this.#unreadSince.delete(document)
      if (isWaitedFor || this.#faces.find(document.home, document.face) !== document) continue
      this.#faces.drop(document)
      if (!this.#faces.all.some(({ home }) => home === document.home)) this.#world.held.release(document.home)
    }
  }

  close(): void {
    for (const document of this.#faces.all) this.#faces.drop(document)
  }

  async #make(home: Home, face: Face): Promise<FaceDocument> {
    const { held, store, lab, gate } = this.#world
    const found = this.#faces.find(home, face)
    if (found) return found
    if (!held.holds(home)) held.load(home, (await store.snapshot(lab, home)).records)
    return this.#faces.make(home, face, held.all, gate.seq)
  }

  #rebirth(document: FaceDocument): void {
    const { held, gate } = this.#world
    const inTurn = gate.turn(() => {
      if (this.#faces.find(document.home, document.face) === document) this.#faces.rebirth(document, held.all, gate.seq)
    })
    // Refused only when the lab closes, and then nobody reads.
    inTurn.catch(() => {})
  }
}

function sync(connection: Connection, document: FaceDocument, reader: Reader, stateVector: Uint8Array): void {
  if (!connection.purse.syncs.take(1)) {
    connection.end('too-much')
    return
  }
  try {
    connection.send(document.answer(stateVector))
  } catch {
    connection.end('bad-message')
    return
  }
  if (!connection.isEnded) document.readers.add(reader)
}
