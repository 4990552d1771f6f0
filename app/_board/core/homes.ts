// The documents that are open at the moment: the board always, the office for those who may, a sheet while somebody
// looks at it (and a moment longer, so that going back and forth costs nothing).
import { type AnyRecord, type Change, type Home, homeOf, type Kind, type Records } from '#lib/words'
import { Base, type BaseEvents } from './base.ts'
import type { Stop } from './cell.ts'
import type { Identity, Ports, Shelf } from './ports.ts'

const LINGER_MS = 30_000

type Sheet = { readonly base: Base; users: number; stopLinger: Stop | null }

export class Homes {
  readonly board: Base
  readonly #ports: Ports
  readonly #mayStore: () => boolean
  readonly #eventsFor: (home: Home) => BaseEvents
  readonly #onClosed: (home: Home) => void
  #shelf: Shelf | null = null
  #identity: Identity | null = null
  #office: Base | null = null
  readonly #sheets = new Map<Home, Sheet>()

  constructor(
    ports: Ports,
    mayStore: () => boolean,
    eventsFor: (home: Home) => BaseEvents,
    onClosed: (home: Home) => void,
  ) {
    this.#ports = ports
    this.#mayStore = mayStore
    this.#eventsFor = eventsFor
    this.#onClosed = onClosed
    this.board = this.#make('board')
  }

  /** Says for whom the documents are; from here on copies are read and kept. Resolves to whether a board was stored. */
  async belongTo(identity: Identity, shelf: Shelf): Promise<boolean> {
    this.#shelf = shelf
    this.#identity = identity
    if (identity.role === 'manager' || identity.role === 'preparator') this.#office = this.#make('office')
    let hasBoard = false
    if (this.board.line) this.board.attach(shelf, identity)
    else hasBoard = await this.board.load(shelf, identity)
    await this.#office?.load(shelf, identity)
    for (const sheet of this.#sheets.values()) await sheet.base.load(shelf, identity)
    return hasBoard
  }

  /** Opens the lines of all documents that are wanted. */
  connect(): void {
    this.board.connect()
    if (!this.#identity) return
    this.#office?.connect()
    for (const sheet of this.#sheets.values()) sheet.base.connect()
  }

  /** Keeps a sheet open until stopped. */
  openSheet(home: Home): Stop {
    let sheet = this.#sheets.get(home)
    if (sheet) {
      sheet.users++
      sheet.stopLinger?.()
      sheet.stopLinger = null
    } else {
      const base = this.#make(home)
      sheet = { base, users: 1, stopLinger: null }
      this.#sheets.set(home, sheet)
      if (this.#shelf && this.#identity) void base.load(this.#shelf, this.#identity).then(() => base.connect())
    }
    const open = sheet
    return () => {
      open.users--
      if (open.users > 0 || open.stopLinger) return
      open.stopLinger = this.#ports.clock.after(LINGER_MS, () => {
        if (this.#sheets.get(home) !== open) return
        this.#sheets.delete(home)
        open.base.close()
        this.#onClosed(home)
      })
    }
  }

  /** An open document, or undefined. */
  find(home: Home): Base | undefined {
    if (home === 'board') return this.board
    if (home === 'office') return this.#office ?? undefined
    return this.#sheets.get(home)?.base
  }

  /** Pieces whose sheets are here, in step or as last stored. */
  readySheets(): ReadonlySet<string> {
    const ready = new Set<string>()
    for (const [home, { base }] of this.#sheets) if (base.isReady) ready.add(home.slice('sheet/'.length))
    return ready
  }

  get all(): readonly Base[] {
    return [this.board, ...(this.#office ? [this.#office] : []), ...[...this.#sheets.values()].map(({ base }) => base)]
  }

  close(): void {
    for (const base of this.all) base.close()
    for (const sheet of this.#sheets.values()) sheet.stopLinger?.()
    this.#sheets.clear()
  }

  #make(home: Home): Base {
    return new Base(home, this.#ports, this.#mayStore, this.#eventsFor(home))
  }
}

/** The changes that turn what `held` has of one home into `whole`; an empty whole removes it. */
export function changesTo(home: Home, held: Records, whole: Records | null): readonly Change[] {
  const changes: Change[] = []
  for (const kind of Object.keys(held) as Kind[]) {
    const before = held[kind] as ReadonlyMap<string, AnyRecord>
    const after = whole?.[kind] as ReadonlyMap<string, AnyRecord> | undefined
    for (const [id, record] of before) {
      if (!after?.has(id) && homeOf(kind, record) === home) changes.push({ kind, id, record: null } as Change)
    }
    for (const [id, record] of after ?? []) changes.push({ kind, id, record } as Change)
  }
  return changes
}
