// The fake lab's acts once more, as a model with nothing in it but maps: what the store's order of ops must come to. It
// shares no code with the gate, the records or the documents.

export interface ModelOp {
  readonly id: string
  readonly kind: string
  readonly pieceId?: string
  readonly shelf?: string
  readonly text?: string
  readonly personId?: string
  readonly role?: string | null
  readonly entryId?: string
}

export class PlainModel {
  readonly shelves = new Map<string, string>()
  readonly resting = new Map<string, string>()
  readonly takers = new Map<string, string>()
  readonly entries = new Map<string, string>()
  readonly notes = new Map<string, string>()
  readonly roles = new Map<string, string>()

  constructor(roles: Readonly<Record<string, string>>, pieces: readonly string[]) {
    for (const [person, role] of Object.entries(roles)) this.roles.set(person, role)
    for (const piece of pieces) this.shelves.set(piece, '')
  }

  /** Does an op; throws when it should never have been kept. */
  do(op: ModelOp, by: string | null): void {
    if (op.kind === 'found' || op.kind === 'beginDay') return
    const role = this.roles.get(by ?? '')
    const isStaff = role === 'manager' || role === 'preparator'
    must(role !== undefined && role !== 'researcher' && role !== 'gone', `${by} may not ${op.kind} as ${role}`)
    const piece = op.pieceId ?? ''
    switch (op.kind) {
      case 'mark':
        must(this.shelves.has(piece), `${piece} is on the board`)
        this.shelves.set(piece, op.shelf ?? '')
        return
      case 'take':
        must(!this.takers.has(piece), `${piece} is free`)
        // One turn a shift: whoever takes another piece lets go of the former.
        for (const [taken, taker] of this.takers) if (taker === by) this.takers.delete(taken)
        this.takers.set(piece, by ?? '')
        return
      case 'whisper':
        must(isStaff, 'staff whispers')
        this.notes.set(op.id, op.text ?? '')
        return
      case 'write':
        this.entries.set(op.id, op.text ?? '')
        return
      case 'correct':
        must(this.entries.has(op.entryId ?? ''), 'what is corrected is there')
        this.entries.set(op.id, 'corrected')
        return
      case 'rest':
        must(this.shelves.has(piece), `${piece} is on the board`)
        this.resting.set(piece, this.shelves.get(piece) ?? '')
        this.shelves.delete(piece)
        return
      case 'bring':
        must(this.resting.has(piece), `${piece} rests`)
        this.shelves.set(piece, this.resting.get(piece) ?? '')
        this.resting.delete(piece)
        return
      case 'role':
        must(isStaff, 'staff gives roles')
        this.roles.set(op.personId ?? '', op.role ?? 'gone')
        return
      default:
        throw new Error(`No such act: ${op.kind}`)
    }
  }
}

function must(fact: boolean, believed: string): void {
  if (!fact) throw new Error(`The model disagrees: ${believed}`)
}
