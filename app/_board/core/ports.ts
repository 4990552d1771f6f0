// The effects the core needs, as small interfaces: net, disk, clock, chance, the other tabs, the next frame. The
// browser gives the real ones (../browser), tests and the simulation give memory twins; the code between is the same.
import type * as Y from 'yjs'
import type { Op, OpOf, When } from '#lib/ops'
import type {
  ClientMessage,
  Finding,
  PersonId,
  PhotoAnswer,
  PhotoRefusal,
  PieceId,
  Role,
  ServerMessage,
} from '#lib/words'
import type { Stop } from './cell.ts'

/** Who this browser acts for, as the server said last; a wall has no person. `lab` is the lab's name. */
export type Identity = { readonly lab: string; readonly personId: PersonId | null; readonly role: Role }

/** Under which name a person's things lie on the device. Ids of people are unique; a lab may be renamed, a wall's cannot be told apart otherwise. */
export const keyOf = ({ lab, personId }: Identity): string => personId ?? `wall of ${lab}`

/** The same person in the same role: the same things may be shown. */
export const isSameIdentity = (a: Identity, b: Identity): boolean => keyOf(a) === keyOf(b) && a.role === b.role

/** An op made here and not yet answered, with the moment it was made. */
export type Waiting = { readonly op: Op; readonly when: When }

/** An op that was refused, kept until its author has seen why. */
export type Refused = { readonly op: Op; readonly findings: readonly Finding[]; readonly at: number }

/** What somebody says about where they are; the server adds who they are. */
export type Here = { readonly at: string; readonly field?: string }

/** Somebody else's state as the server passed it on. */
export type Other = {
  readonly key: number
  readonly personId: PersonId
  readonly name: string
  readonly at: string
  readonly field: string | null
}

export interface Clock {
  /** Milliseconds since 1970. */
  now(): number
  /** Calls once after `ms` unless stopped. */
  after(ms: number, call: () => void): Stop
}

/** A home's document as stored here. */
export type Copy = {
  readonly epoch: string
  /** The face differs by role: a copy made under another role is never shown. */
  readonly role: Role
  /** When the copy last heard from the server. */
  readonly at: number
  readonly updates: readonly Uint8Array[]
}

/** An unfinished note: what the server had when it was last in step, and what stands in the field here. */
export type HeldNote = { readonly pieceId: string; readonly synced: string; readonly local: string }

/** What is said of a photograph beside its file. */
export type PhotoSaid = Pick<
  OpOf<'addPhoto'>,
  'entryId' | 'view' | 'scaleBarMm' | 'caption' | 'takenAt' | 'takenBy' | 'owner' | 'licence'
>

/** A photograph that lies here until its file and its record are kept. */
export type HeldPhoto = {
  /** Its record's id to be; sortable, so held photographs come in the order they were made. */
  readonly id: string
  readonly pieceId: PieceId
  readonly file: Blob
  readonly said: PhotoSaid
  /** The form it waits for, while that is not finished. */
  readonly draftOf: string | null
  /** Hash of the file; null until it was counted. */
  readonly hash: string | null
  /** The act that names it, once made. */
  readonly opId: string | null
  /** Why it cannot be kept: of the file, or of the act. */
  readonly refused: PhotoRefusal | readonly Finding[] | null
}

/** What a form says of its photograph when it is finished. */
export type PhotoPatch = { readonly pieceId?: PieceId; readonly said?: Partial<PhotoSaid> }

/** The server's door for files; null where nobody answers. */
export interface Uploads {
  /** Fails for a file that cannot be read; null when what counts cannot be fetched just now. */
  hash(file: Blob): Promise<string | null>
  ask(hash: string, size: number): Promise<PhotoAnswer | null>
  send(hash: string, size: number, offset: number, piece: Blob): Promise<PhotoAnswer | null>
}

/** What one person keeps on this device for one lab. */
export interface Shelf {
  waiting(): Promise<readonly Waiting[]>
  putWaiting(waiting: Waiting): Promise<void>
  dropWaiting(ids: readonly string[]): Promise<void>
  refused(): Promise<readonly Refused[]>
  putRefused(refused: readonly Refused[]): Promise<void>
  dropRefused(id: string): Promise<void>
  copy(home: string): Promise<Copy | null>
  /** Puts a whole document in place of what was stored of this home. */
  replaceCopy(home: string, copy: Omit<Copy, 'updates'>, update: Uint8Array): Promise<void>
  /** Adds one update; does nothing when the stored copy has another epoch. */
  appendCopy(home: string, epoch: string, update: Uint8Array, at: number): Promise<void>
  /** The stored copy is still what the server has at this moment. */
  touchCopy(home: string, epoch: string, at: number): Promise<void>
  dropCopy(home: string): Promise<void>
  note(pieceId: string): Promise<HeldNote | null>
  putNote(note: HeldNote): Promise<void>
  dropNote(pieceId: string): Promise<void>
  photos(): Promise<readonly HeldPhoto[]>
  putPhoto(photo: HeldPhoto): Promise<void>
  dropPhoto(id: string): Promise<void>
  /** Forgets the copies of what the server sent; what was typed here stays. */
  clearCopies(): Promise<void>
  /** Forgets everything of this person. */
  clear(): Promise<void>
  close(): void
}

/** What tabs of one person tell each other. */
export type TabMessage =
  | { readonly type: 'acted'; readonly waiting: readonly Waiting[] }
  | { readonly type: 'leading' }
  | {
      readonly type: 'kept'
      readonly items: readonly { readonly id: string; readonly seq: number; readonly at: string }[]
    }
  | { readonly type: 'refused'; readonly items: readonly Refused[] }
  | { readonly type: 'dismissed'; readonly id: string }
  /** The held photographs differ. */
  | { readonly type: 'photos' }
  | { readonly type: 'signed-out' }

/** The other tabs of the same person and lab in this browser. */
export interface Tabs {
  send(message: TabMessage): void
  listen(hear: (message: TabMessage) => void): Stop
  /** Asks to be the one tab that sends; tells when this becomes so and when another took over. */
  lead(changed: (isLeading: boolean) => void): Stop
}

/** What a line tells whoever opened it. */
export interface LineEvents {
  /** A message of ours. After `hello`, the answer says whether the document may be synced over this line. */
  message(message: ServerMessage): boolean
  /** The connection is gone; the line tries again by itself unless `isFinal`. */
  down(isFinal: boolean): void
  synced(): void
  others(others: readonly Other[]): void
  /** The server said how far its document is, and asked for more; only text documents do. */
  asked?(): void
}

/** One connection to one home, which mends itself. */
export interface Line {
  /** True when it was handed to an open connection. */
  send(message: ClientMessage): boolean
  here(state: Here | null): void
  /** Asks the server how far it is; it answers when everything sent before is durable. */
  check(): void
  /** Woken up, back online: look at once whether the connection still lives. */
  nudge(): void
  close(): void
}

/** Opens the line of a home; `epoch` is what the document holds, '' when it is empty. */
export type OpenLine = (home: string, doc: Y.Doc, epoch: string, events: LineEvents) => Line

/** The answer to "who am I" over HTTP: null when nobody answers. */
export type AskWho = () => Promise<{ readonly signedOut: true } | { readonly identity: Identity } | null>

/** Everything the core needs from outside. */
export type Ports = {
  readonly clock: Clock
  /** Whole numbers from 0 to 31, for ids. */
  readonly chance: () => number
  readonly openLine: OpenLine
  readonly openShelf: (identity: Identity) => Promise<Shelf>
  readonly openTabs: (identity: Identity) => Tabs
  readonly uploads: Uploads
  readonly askWho: AskWho
  /** Whom this browser acted for last; survives a reload, cleared on sign-out. */
  readonly last: { get(): Identity | null; set(identity: Identity | null): void }
  /** Calls before the next paint, once for all that came in between. */
  readonly nextFrame: (call: () => void) => void
  /** Our own bugs, told to whoever looks at the console; never shown as a refusal. */
  readonly report: (error: unknown) => void
  /** Cached pages and the like, dropped when the person changes. */
  readonly forgetPages: () => void
}
