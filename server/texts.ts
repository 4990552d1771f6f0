// Texts typed together: the one place where clients send Yjs updates. Each is judged by form (text-guard.ts) and role,
// laid into the document, kept in the store, and only then shown to the others. Updates of one text take turns; what
// is asked meanwhile waits, so that nobody is ever shown a letter that a crash could take back.
import * as Y from 'yjs'
import type { Store, TextUpdate } from './store/contract.ts'
import { type Frame, step1Frame, step2Frame, updateFrame } from './sync/frames.ts'
import { judgeUpdate, NOTE, type TextVerdict } from './text-guard.ts'
import { type Chance, type Log, unguessable } from './world.ts'

/** Whoever has a text open. */
export interface TextReader {
  readonly personId: string
  readonly send: (frame: Frame) => void
  readonly mayWrite: () => boolean
  /** No honest client sends what this one sent. */
  readonly refuse: (why: 'bad' | 'too-much') => void
  /** Our copy of the text was lost or is another one now: come again. */
  readonly again: () => void
}

/** Stored updates after which they are folded into one. */
const COMPACT_AFTER = 200

export interface TextWorld {
  readonly lab: string
  readonly store: Store
  readonly chance: Chance
  readonly log: Log
}

type Job = { readonly update: Uint8Array; readonly reader: TextReader }
type Laid = Job & { readonly client: number | null }

/** One text document while somebody has it open. */
export class Text {
  readonly name: string
  readonly #world: TextWorld
  readonly readers = new Set<TextReader>()
  /** Readers that were answered their step 1 and get what comes. */
  readonly #synced = new Set<TextReader>()
  readonly #holders = new Map<number, string>()
  #doc = new Y.Doc()
  #epoch = ''
  #upTo = 0
  #stored = 0
  #jobs: Job[] = []
  #asked: (() => void)[] = []
  #isWriting = false
  /** Yjs failed within the document. */
  #isBroken = false

  private constructor(name: string, world: TextWorld) {
    this.name = name
    this.#world = world
  }

  static async open(name: string, world: TextWorld): Promise<Text> {
    const text = new Text(name, world)
    await text.#load()
    return text
  }

  get epoch(): string {
    return this.#epoch
  }

  /** Fulfils when nothing is on its way to the store. */
  settled(): Promise<void> {
    return new Promise((resolve) => this.#whenDurable(resolve))
  }

  /** Answers a reader's step 1 from what is durable, and asks for what the reader has beyond it. */
  sync(reader: TextReader, stateVector: Uint8Array): void {
    this.#whenDurable(() => {
      if (!this.readers.has(reader)) return
      try {
        reader.send(step2Frame(Y.encodeStateAsUpdate(this.#doc, stateVector)))
      } catch {
        reader.refuse('bad')
        return
      }
      this.#synced.add(reader)
      if (reader.mayWrite()) reader.send(step1Frame(Y.encodeStateVector(this.#doc)))
    })
  }

  /** Takes an update in line. */
  write(reader: TextReader, update: Uint8Array): void {
    // The bytes are a window on the frame they came in; they outlive it.
    this.#jobs.push({ reader, update: update.slice() })
    if (!this.#isWriting) void this.#work()
  }

  leave(reader: TextReader): void {
    this.readers.delete(reader)
    this.#synced.delete(reader)
  }

  destroy(): void {
    this.#doc.destroy()
  }

  async #load(): Promise<void> {
    const { store, lab, chance } = this.#world
    const { base, updates, upTo } = await store.loadText(lab, this.name)
    this.#doc.destroy()
    this.#doc = new Y.Doc()
    this.#doc.getText(NOTE)
    if (base) Y.applyUpdate(this.#doc, base.bytes)
    for (const { bytes } of updates) Y.applyUpdate(this.#doc, bytes)
    this.#epoch = base?.epoch || this.#epoch || unguessable(chance)
    this.#holders.clear()
    for (const [client, personId] of base?.holders ?? []) this.#holders.set(client, personId)
    for (const { client, personId } of updates) if (client !== null) this.#holders.set(client, personId)
    this.#upTo = upTo
    this.#stored = updates.length
    // The epoch outlives a restart, or a client's offline typing would be thrown away for nothing.
    if (!base) await this.#fold()
  }

  async #work(): Promise<void> {
    this.#isWriting = true
    while (this.#jobs.length > 0) {
      const jobs = this.#jobs
      this.#jobs = []
      const passed: Laid[] = []
      try {
        for (const job of jobs) {
          const laid = this.#lay(job)
          if (laid) passed.push(laid)
          if (this.#isBroken) break
        }
        if (passed.length > 0) await this.#keep(passed)
      } catch (error) {
        this.#world.log('error', `A text could not be kept: ${error}`, { lab: this.#world.lab })
        await this.#startOver()
        break
      }
      for (const { reader, update } of passed) {
        const frame = updateFrame(update)
        for (const other of this.#synced) if (other !== reader) other.send(frame)
      }
      if (this.#isBroken) await this.#startOver()
      for (const ask of this.#asked.splice(0)) ask()
    }
    this.#isWriting = false
    for (const ask of this.#asked.splice(0)) ask()
  }

  /** Judges one update and lays it into the document; null when nothing of it was taken. */
  #lay({ reader, update }: Job): Laid | null {
    if (!this.readers.has(reader)) return null
    const verdict = judgeUpdate(this.#doc, update, (client) => this.#mayUse(client, reader))
    if (!verdict.ok) {
      this.#refuse(reader, verdict)
      return null
    }
    // Said again, as each reconnection does: nothing to keep, and no right needed.
    if (verdict.client === null && this.#changesNothing(update)) return null
    if (!reader.mayWrite()) return null
    try {
      Y.applyUpdate(this.#doc, update)
    } catch (error) {
      // Yjs throws half-way: what it left behind is not to be trusted.
      this.#world.log('error', `An update that was judged well made Yjs fail: ${error}`, { lab: this.#world.lab })
      reader.refuse('bad')
      this.#isBroken = true
      return null
    }
    if (verdict.client !== null) this.#holders.set(verdict.client, reader.personId)
    return { reader, update, client: verdict.client }
  }

  async #keep(passed: readonly Laid[]): Promise<void> {
    const { store, lab } = this.#world
    const updates = passed.map(
      ({ update, reader, client }): TextUpdate => ({ bytes: update, client, personId: reader.personId }),
    )
    await store.appendText(lab, this.name, updates)
    this.#upTo += updates.length
    this.#stored += updates.length
    if (this.#stored >= COMPACT_AFTER) await this.#fold()
  }

  /** Folds what is stored into one base. */
  async #fold(): Promise<void> {
    const { store, lab } = this.#world
    const bytes = Y.encodeStateAsUpdate(this.#doc)
    await store.compactText(lab, this.name, this.#upTo, { epoch: this.#epoch, bytes, holders: [...this.#holders] })
    this.#stored = 0
  }

  #mayUse(client: number, reader: TextReader): boolean {
    const holder = this.#holders.get(client)
    return holder === undefined || holder === reader.personId
  }

  #changesNothing(update: Uint8Array): boolean {
    const { ds } = Y.decodeUpdate(update)
    for (const [client, ranges] of ds.clients)
      for (const { clock, len } of ranges)
        for (let at = clock; at < clock + len; ) {
          const struct = Y.getItem(this.#doc.store, Y.createID(client, at))
          if (!struct.deleted) return false
          at = struct.id.clock + struct.length
        }
    return true
  }

  #refuse(reader: TextReader, { why }: Extract<TextVerdict, { ok: false }>): void {
    switch (why) {
      case 'gap':
        reader.send(step1Frame(Y.encodeStateVector(this.#doc)))
        return
      case 'not-yours':
        // The same browser tab after a change of person: a fresh copy gets a fresh client id.
        reader.again()
        return
      case 'too-long':
        reader.refuse('too-much')
        return
      case 'bad':
        reader.refuse('bad')
    }
  }

  #whenDurable(run: () => void): void {
    if (this.#isWriting) this.#asked.push(run)
    else run()
  }

  /** The document is not what the store has: everybody comes again, and the next one loads it. */
  async #startOver(): Promise<void> {
    this.#isBroken = false
    this.#jobs = []
    for (const reader of [...this.readers]) reader.again()
    this.readers.clear()
    this.#synced.clear()
    try {
      await this.#load()
    } catch {
      // Trouble of the store: the next opening tries again, since nobody is left here.
    }
  }
}
