// Photographs made here and not yet on their Sheets. Each lies on the shelf with its file until the server has kept the
// file and the act that names it, so that a reload, a lost network or an empty battery costs nothing.
//
//   draft (belongs to a form not finished) -> waiting -> counted (hash) -> sent by pieces -> kept -> act -> act kept: gone
//                                                                └ refused for good: stays, with the reason, until dismissed
//
// One tab sends (the leader, as with the outbox), one file at a time; whatever is asked again goes on where it ended.
import type { OpBody } from '#lib/ops'
import {
  type Finding,
  PHOTO_BYTES_MAX,
  PHOTO_HEAD_BYTES,
  type PhotoAnswer,
  type PhotoRefusal,
  photoFormOf,
} from '#lib/words'
import type { Cell, Stop } from './cell.ts'
import type { Acted } from './desk.ts'
import type { Clock, HeldPhoto, PhotoPatch, Refused, Shelf, Tabs, Uploads } from './ports.ts'

/** Bytes of one piece: half a minute on the slowest line that is of use, and no more than that is sent twice. */
const PIECE_BYTES = 512 * 1024
/** Nobody answered, or not now: tried again after this long, or as soon as the line is back. */
const RETRY_MS = 10_000
/** Refusals that pass by themselves. */
const passing: readonly PhotoRefusal[] = ['busy', 'too-many-open', 'too-much-today', 'wrong-offset']
/** The act was done before: by another tab, or before a crash. */
const done = ['photo-there', 'only-added']

/** A held photograph as screens show it. */
export type PhotoShown = HeldPhoto & {
  /** Bytes that the server has; null while nothing is sent. */
  readonly sentBytes: number | null
  /** What it waits for when that is not the network. */
  readonly waitsFor: PhotoRefusal | null
}

export type PhotoQueueParts = {
  readonly shelf: Pick<Shelf, 'photos' | 'putPhoto' | 'dropPhoto'>
  readonly tabs: Pick<Tabs, 'send'>
  readonly uploads: Uploads
  readonly clock: Clock
  readonly shown: Cell<readonly PhotoShown[]>
  readonly act: (body: OpBody) => Acted
  /** True while an act made here is not answered. */
  readonly isWaiting: (opId: string) => boolean
  readonly isLeading: () => boolean
  /** The author need not be told of this refusal. */
  readonly dismiss: (opId: string) => void
  /** How many wait differs. */
  readonly counted: () => void
  readonly report: (error: unknown) => void
}

export class PhotoQueue {
  readonly #parts: PhotoQueueParts
  #held = new Map<string, PhotoShown>()
  #isUp = false
  #isBusy = false
  #isClosed = false
  #stopRetry: Stop | null = null

  constructor(parts: PhotoQueueParts) {
    this.#parts = parts
  }

  /** Brings back what lies on the shelf; again when another tab says that it differs. */
  async read(): Promise<void> {
    const photos = await this.#parts.shelf.photos()
    if (this.#isClosed) return
    this.#held = new Map(
      photos.map((photo) => {
        const { sentBytes = null, waitsFor = null } = this.#held.get(photo.id) ?? {}
        return [photo.id, { ...photo, sentBytes, waitsFor }]
      }),
    )
    this.#show()
    void this.#pump()
  }

  /** How many are on their way. */
  get count(): number {
    return [...this.#held.values()].filter(({ draftOf, refused }) => draftOf === null && refused === null).length
  }

  /** Takes a file in; answers why not, or null when it lies on the shelf. */
  async add(photo: Omit<HeldPhoto, 'hash' | 'opId' | 'refused'>): Promise<PhotoRefusal | null> {
    const why = await wrongWith(photo.file)
    if (why !== null) return why
    const held = { ...photo, hash: null, opId: null, refused: null }
    try {
      await this.#parts.shelf.putPhoto(held)
    } catch (error) {
      this.#parts.report(error)
      return 'no-room'
    }
    this.#parts.tabs.send({ type: 'photos' })
    this.#set({ ...held, sentBytes: null, waitsFor: null })
    void this.#pump()
    return null
  }

  /** The form that a draft belongs to is finished: it goes on its way, with what the form says of it. */
  async release(id: string, { pieceId, said }: PhotoPatch): Promise<void> {
    const photo = this.#held.get(id)
    if (photo)
      await this.#keep({
        ...photo,
        pieceId: pieceId ?? photo.pieceId,
        draftOf: null,
        said: { ...photo.said, ...said },
      })
    void this.#pump()
  }

  /** Tries one again that was refused. Its hash is counted anew: a wrong one would be refused for ever. */
  async again(id: string): Promise<void> {
    const photo = this.#held.get(id)
    if (photo) await this.#keep({ ...photo, hash: null, refused: null, opId: null })
    void this.#pump()
  }

  /** Lets one go that is not on its Sheet. */
  async drop(id: string): Promise<void> {
    this.#held.delete(id)
    this.#show()
    await this.#parts.shelf.dropPhoto(id)
    this.#parts.tabs.send({ type: 'photos' })
  }

  /** The board's line is open, or gone. */
  connect(isUp: boolean): void {
    this.#isUp = isUp
    if (isUp) void this.#pump()
  }

  /** This tab sends from now on. */
  led(): void {
    // The former leader may have sent some of it meanwhile.
    this.read().catch(this.#parts.report)
  }

  /** Acts that the server has kept. */
  kept(opIds: ReadonlySet<string>): void {
    for (const { id, opId } of this.#held.values())
      if (opId !== null && opIds.has(opId)) this.drop(id).catch(this.#parts.report)
  }

  /** Acts that the server has refused: the photograph stays here, with the reason. */
  refused(items: readonly Refused[]): void {
    for (const { op, findings } of items) {
      const photo = [...this.#held.values()].find(({ opId }) => opId === op.id)
      if (!photo) continue
      // Told where the photograph lies, and once.
      this.#parts.dismiss(op.id)
      this.#refuse(photo, findings).catch(this.#parts.report)
    }
  }

  close(): void {
    this.#isClosed = true
    this.#stopRetry?.()
    this.#parts.shown.set([])
  }

  async #pump(): Promise<void> {
    if (this.#isBusy) return
    this.#isBusy = true
    try {
      for (;;) {
        const next = this.#isUp && !this.#isClosed && this.#parts.isLeading() ? this.#next() : undefined
        if (!next) return
        if (await this.#bring(next)) continue
        this.#stopRetry?.()
        this.#stopRetry = this.#parts.clock.after(RETRY_MS, () => void this.#pump())
        return
      }
    } catch (error) {
      this.#parts.report(error)
    } finally {
      this.#isBusy = false
    }
  }

  #next(): PhotoShown | undefined {
    return [...this.#held.values()].find(
      ({ draftOf, refused, opId }) =>
        draftOf === null && refused === null && (opId === null || !this.#parts.isWaiting(opId)),
    )
  }

  /** One photograph as far as it goes; false when it has to wait. */
  async #bring(photo: PhotoShown): Promise<boolean> {
    let now = photo
    if (now.hash === null) {
      const hash = await this.#parts.uploads.hash(now.file).catch(() => 'unreadable' as const)
      if (hash === 'unreadable') return this.#refuse(now, hash)
      // Out of reach, not unreadable: it stays as it is and is tried again.
      if (hash === null) return false
      now = await this.#keep({ ...now, hash })
    }
    const answer = await this.#send(now, now.hash ?? '')
    // Let go meanwhile, or somebody else's turn at this device.
    if (this.#isClosed || !this.#held.has(now.id)) return true
    if (answer === null) {
      this.#set({ ...now, sentBytes: null })
      return false
    }
    if (answer.state === 'coming') return false
    if (answer.state === 'refused') {
      if (!passing.includes(answer.why)) return this.#refuse(now, answer.why)
      this.#set({ ...now, sentBytes: null, waitsFor: answer.why })
      return false
    }
    return this.#name(now, answer.photo)
  }

  /** Sends what is missing; the last answer, null when nobody answered. */
  async #send(photo: PhotoShown, hash: string): Promise<PhotoAnswer | null> {
    const { uploads } = this.#parts
    const { file } = photo
    let answer = await uploads.ask(hash, file.size)
    // Ends: each round sends a piece that was not there, and a place to go on from is told once in a row.
    for (let isLost = false; answer !== null; ) {
      const offset = answer.state === 'kept' ? null : (answer.offset ?? null)
      if (answer.state === 'refused' && (answer.why !== 'wrong-offset' || isLost)) return answer
      isLost = answer.state === 'refused'
      if (offset === null || offset >= file.size || this.#isClosed || !this.#held.has(photo.id)) return answer
      this.#set({ ...(this.#held.get(photo.id) ?? photo), sentBytes: offset, waitsFor: null })
      answer = await uploads.send(hash, file.size, offset, file.slice(offset, offset + PIECE_BYTES))
    }
    return answer
  }

  /** The file is kept: the act that names it. */
  async #name(photo: PhotoShown, kept: Extract<PhotoAnswer, { state: 'kept' }>['photo']): Promise<boolean> {
    const { id: photoId, pieceId, said } = photo
    const { hash, size: bytes, form, widthPx, heightPx } = kept
    const acted = this.#parts.act({
      ...{ kind: 'addPhoto', photoId, pieceId, hash, bytes, form, widthPx, heightPx },
      ...said,
    })
    if (!acted.ok) {
      if (acted.findings.some(({ code }) => code === 'not-open')) return false
      return this.#refuse(photo, acted.findings)
    }
    await this.#keep({ ...photo, opId: acted.id, sentBytes: bytes })
    return true
  }

  async #refuse(photo: PhotoShown, why: NonNullable<HeldPhoto['refused']>): Promise<boolean> {
    if (typeof why !== 'string' && why.every(({ code }: Finding) => done.includes(code))) await this.drop(photo.id)
    else await this.#keep({ ...photo, refused: why, opId: null, sentBytes: null, waitsFor: null })
    return true
  }

  async #keep(photo: PhotoShown): Promise<PhotoShown> {
    this.#set(photo)
    const { sentBytes: _sent, waitsFor: _waits, ...held } = photo
    await this.#parts.shelf.putPhoto(held)
    return photo
  }

  #set(photo: PhotoShown): void {
    this.#held.set(photo.id, photo)
    this.#show()
  }

  #show(): void {
    if (this.#isClosed) return
    this.#parts.shown.set([...this.#held.values()])
    this.#parts.counted()
  }
}

/** What the server would refuse at once, told before a byte is kept here. */
async function wrongWith(file: Blob): Promise<PhotoRefusal | null> {
  if (file.size > PHOTO_BYTES_MAX) return 'too-big'
  try {
    const head = new Uint8Array(await file.slice(0, PHOTO_HEAD_BYTES).arrayBuffer())
    if (head.length === 0) return 'empty'
    return photoFormOf(head) === null ? 'not-an-image' : null
  } catch {
    return 'unreadable'
  }
}
