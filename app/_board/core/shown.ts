// What screens can read of a session, one cell each. The session owns them for its whole life; the desk of whoever is
// signed in writes into them, and they are emptied when the person changes.
import type { Op } from '#lib/ops'
import { noRecords, type PersonId, type Records, type Role } from '#lib/words'
import { Cell } from './cell.ts'
import type { PhotoShown } from './photo-queue.ts'
import type { Refused } from './ports.ts'
import type { Save } from './save.ts'

export type Someone = { readonly personId: PersonId; readonly role: Role; readonly name: string }

/** opening: nobody known yet. in: somebody is signed in. out: nobody is. reload: the server speaks another protocol. */
export type Gate = 'opening' | 'in' | 'out' | 'reload'

export class Shown {
  readonly gate = new Cell<Gate>('opening')
  readonly records = new Cell<Records>(noRecords())
  readonly who = new Cell<Someone | null>(null)
  readonly save = new Cell<Save>({ state: 'opening', count: 0, at: null })
  readonly refused = new Cell<readonly Refused[]>([])
  /** Photographs made here and not yet on their Sheets. */
  readonly photos = new Cell<readonly PhotoShown[]>([])
  readonly undoable = new Cell<Op | null>(null)
  /** Sheets whose documents are here, by piece. */
  readonly sheetsReady = new Cell<ReadonlySet<string>>(new Set())
  /** The server's clock less this device's, ms. */
  readonly skewMs = new Cell(0)

  /** Nobody's any more. */
  empty(gate: Gate): void {
    this.who.set(null)
    this.records.set(noRecords())
    this.refused.set([])
    this.undoable.set(null)
    this.sheetsReady.set(new Set())
    this.gate.set(gate)
  }
}
