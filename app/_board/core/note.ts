// One note that several people type at once: a Y.Text of its own, merged letter by letter. Clients send plain Yjs
// updates here, so there are no receipts; after a pause the server is asked how far it is, and its answer comes only
// when everything sent before is durable.
//
// Until the document is here (opening, offline) and when it is born again, the text is a plain one with the base it
// grew from; once the document is in step, the difference is laid into it. So the hour offline, the reload and the new
// epoch are one case, and no update under a foreign client id is ever sent.
import * as Y from 'yjs'
import { PROTOCOL_VERSION } from '#lib/words'
import { Cell, type Stop } from './cell.ts'
import type { HeldNote, Line, Ports, Shelf } from './ports.ts'
import { type DeltaStep, rebased, type Splice, spliced } from './splice.ts'

/** The name of the text within its document. */
const NOTE = 'note'
/** The server answers one such question each two seconds. */
const CHECK_MS = 2500
/** Keystrokes gathered before the shelf is written. */
const HOLD_MS = 300
const LOCAL = 'field'

export type NoteShown = {
  readonly text: string
  /** The document is here: others' typing shows. */
  readonly isReady: boolean
  readonly save: 'kept' | 'sending' | 'offline' | 'opening'
}

/** What changed under the field, and the whole text after it. */
export type NoteChanged = (delta: readonly DeltaStep[], text: string) => void

export class Note {
  readonly pieceId: string
  readonly shown = new Cell<NoteShown>({ text: '', isReady: false, save: 'opening' })
  readonly #ports: Pick<Ports, 'clock' | 'openLine' | 'report'>
  readonly #shelf: Shelf
  readonly #mayOpen: (personId: string | null) => boolean
  readonly #listeners = new Set<NoteChanged>()
  #doc = new Y.Doc()
  #line: Line | null = null
  #epoch = ''
  /** The text while no document is in step. */
  #plain: { base: string; local: string } | null = { base: '', local: '' }
  /** The text the server had when it last said that it has everything. */
  #synced = ''
  #edits = 0
  #keptEdits = 0
  #checkedEdits: number | null = null
  #isUp = false
  #wasUp = false
  #isClosed = false
  #stopCheck: Stop | null = null
  #stopHold: Stop | null = null

  constructor(
    pieceId: string,
    ports: Pick<Ports, 'clock' | 'openLine' | 'report'>,
    shelf: Shelf,
    mayOpen: (personId: string | null) => boolean,
  ) {
    this.pieceId = pieceId
    this.#ports = ports
    this.#shelf = shelf
    this.#mayOpen = mayOpen
  }

  /** Brings back what was typed here before, then opens the document. */
  async open(): Promise<void> {
    let held: HeldNote | null = null
    try {
      held = await this.#shelf.note(this.pieceId)
    } catch (error) {
      this.#ports.report(error)
    }
    if (this.#isClosed) return
    if (held && this.#plain) {
      const typed = rebased('', this.#plain.local, held.local)
      this.#plain = { base: held.synced, local: typed ? spliced(held.local, typed) : held.local }
      this.#synced = held.synced
      this.#edits++
      this.#tell([], true)
    }
    this.#connect()
  }

  get text(): string {
    return this.#plain ? this.#plain.local : this.#doc.getText(NOTE).toString()
  }

  /** Does what a field did to its text. */
  edit({ at, remove, insert }: Splice): void {
    if (this.#isClosed || (remove === 0 && insert === '')) return
    this.#edits++
    if (this.#plain) this.#plain.local = spliced(this.#plain.local, { at, remove, insert })
    else {
      const text = this.#doc.getText(NOTE)
      this.#doc.transact(() => {
        if (remove > 0) text.delete(at, remove)
        if (insert !== '') text.insert(at, insert)
      }, LOCAL)
    }
    this.#holdSoon()
    this.#checkSoon()
    this.#show()
  }

  /** Empties the note: its words have gone into a record. */
  clear(): void {
    const { text } = this
    if (text === '') return
    this.edit({ at: 0, remove: text.length, insert: '' })
    this.#tell([{ delete: text.length }], true)
  }

  /** Tells of every change that did not come from `edit`. */
  listen(changed: NoteChanged): Stop {
    this.#listeners.add(changed)
    return () => {
      this.#listeners.delete(changed)
    }
  }

  nudge(): void {
    this.#line?.nudge()
  }

  /** The page may be going: what was typed just now goes on the shelf. */
  secure(): void {
    if (!this.#stopHold) return
    this.#stopHold()
    this.#stopHold = null
    this.#hold()
  }

  close(): void {
    if (this.#isClosed) return
    this.#isClosed = true
    this.#stopCheck?.()
    this.secure()
    this.#line?.close()
    this.#doc.destroy()
  }

  #connect(): void {
    const doc = this.#doc
    const isPresent = () => !this.#isClosed && doc === this.#doc
    doc.getText(NOTE).observe((event, transaction) => {
      if (!isPresent() || this.#plain || transaction.origin === LOCAL) return
      this.#tell(event.delta as readonly DeltaStep[], false)
    })
    this.#line = this.#ports.openLine(`text/${this.pieceId}`, doc, this.#epoch, {
      message: (message) => {
        if (!isPresent()) return false
        if (message.type !== 'hello') return true
        if (message.version !== PROTOCOL_VERSION || !this.#mayOpen(message.personId)) return false
        this.#isUp = true
        this.#wasUp = true
        if (this.#epoch !== '' && this.#epoch !== message.epoch) {
          this.#again(message.epoch)
          return false
        }
        this.#epoch = message.epoch
        this.#show()
        return true
      },
      down: () => {
        if (!isPresent()) return
        this.#isUp = false
        this.#wasUp = true
        this.#checkedEdits = null
        this.#show()
      },
      synced: () => {
        if (isPresent()) this.#inStep()
      },
      others: () => {},
      asked: () => {
        if (isPresent()) this.#asked()
      },
    })
  }

  /** The document was born again: take it whole, with what is typed here carried over as text. */
  #again(epoch: string): void {
    this.#plain = { base: this.#plain?.base ?? this.#synced, local: this.text }
    this.#line?.close()
    this.#doc.destroy()
    this.#doc = new Y.Doc()
    this.#epoch = epoch
    this.#connect()
  }

  #inStep(): void {
    const plain = this.#plain
    if (plain) {
      const theirs = this.#doc.getText(NOTE).toString()
      const own = rebased(plain.base, plain.local, theirs)
      this.#plain = null
      this.#synced = theirs
      if (own) this.edit(own)
      else this.#keptEdits = this.#edits
      if (this.text !== plain.local) this.#tell([], true)
    }
    if (this.#edits > this.#keptEdits) this.#checkSoon()
    else this.#drop()
    this.#show()
  }

  /** The server says how far it is. */
  #asked(): void {
    if (this.#checkedEdits === null) return
    this.#keptEdits = Math.max(this.#keptEdits, this.#checkedEdits)
    this.#checkedEdits = null
    if (this.#keptEdits === this.#edits) {
      this.#synced = this.text
      this.#drop()
    } else this.#checkSoon()
    this.#show()
  }

  #checkSoon(): void {
    if (this.#stopCheck || this.#isClosed) return
    this.#stopCheck = this.#ports.clock.after(CHECK_MS, () => {
      this.#stopCheck = null
      if (this.#plain || !this.#isUp || this.#keptEdits === this.#edits) return
      this.#checkedEdits = this.#edits
      this.#line?.check()
      // An answer that got lost is asked for again.
      this.#checkSoon()
    })
  }

  #holdSoon(): void {
    this.#stopHold ??= this.#ports.clock.after(HOLD_MS, () => {
      this.#stopHold = null
      this.#hold()
    })
  }

  #hold(): void {
    if (this.#keptEdits === this.#edits) return
    const note = { pieceId: this.pieceId, synced: this.#plain?.base ?? this.#synced, local: this.text }
    this.#shelf.putNote(note).catch(this.#ports.report)
  }

  #drop(): void {
    this.#stopHold?.()
    this.#stopHold = null
    this.#shelf.dropNote(this.pieceId).catch(this.#ports.report)
  }

  /** Tells the fields; `isWhole` when the text must be compared rather than the delta followed. */
  #tell(delta: readonly DeltaStep[], isWhole: boolean): void {
    const { text } = this
    for (const listener of [...this.#listeners]) listener(isWhole ? [] : delta, text)
    this.#show()
  }

  #show(): void {
    const save = !this.#isUp
      ? this.#wasUp
        ? 'offline'
        : 'opening'
      : this.#edits > this.#keptEdits
        ? 'sending'
        : this.#plain
          ? 'opening'
          : 'kept'
    const before = this.shown.get()
    const next: NoteShown = { text: this.text, isReady: this.#plain === null, save }
    if (before.text === next.text && before.isReady === next.isReady && before.save === next.save) return
    this.shown.set(next)
  }
}
