// Every record kind, its one schema, and its home: the document it lives in. A home decides who may open it and
// what it costs: the board follows the active work, a sheet is loaded when opened, the archive is searched.
import type * as z from 'zod/mini'
import { Clock } from './clocks.ts'
import { NoShow, Signing, Swap } from './crew.ts'
import { Assessment, Custody, Housing, Rack, Relation } from './custody.ts'
import { Forecast, HoursLearnt } from './forecasts.ts'
import { Fragment, Join, PairTry } from './joins.ts'
import { Day, Lab, Place, Room } from './lab.ts'
import { Lift } from './lifts.ts'
import { Batch, Material } from './materials.ts'
import { Attendance, Contact, Lately, Person, PrivateNote, SignOffAsk, Tally } from './people.ts'
import { Photo } from './photos.ts'
import { Due, Escalation, Jacket, Outlook, Question, Resting, Specimen, Step, Watch } from './pieces.ts'
import { Ack, AirSample, Check, CheckDone, ExposureMonth, Incident } from './safety.ts'
import { Stroke } from './strokes.ts'
import { Assignment, Entry, Forbid, Hold, Log, Reseat, Work } from './work.ts'

/** Version of the records as stored; raised with a migration beside it in lib/doc. */
export const WORDS_VERSION = 1

/** One schema per record kind: the single source for types, the gate, forms, import and export. */
export const kinds = {
  lab: Lab,
  room: Room,
  place: Place,
  day: Day,
  person: Person,
  attendance: Attendance,
  tally: Tally,
  signOffAsk: SignOffAsk,
  jacket: Jacket,
  specimen: Specimen,
  step: Step,
  escalation: Escalation,
  due: Due,
  outlook: Outlook,
  question: Question,
  watch: Watch,
  assignment: Assignment,
  reseat: Reseat,
  work: Work,
  hold: Hold,
  forbid: Forbid,
  contact: Contact,
  lately: Lately,
  privateNote: PrivateNote,
  log: Log,
  entry: Entry,
  resting: Resting,
  forecast: Forecast,
  hours: HoursLearnt,
  check: Check,
  checkDone: CheckDone,
  incident: Incident,
  airSample: AirSample,
  exposureMonth: ExposureMonth,
  ack: Ack,
  assessment: Assessment,
  relation: Relation,
  housing: Housing,
  custody: Custody,
  lift: Lift,
  rack: Rack,
  material: Material,
  batch: Batch,
  clock: Clock,
  fragment: Fragment,
  pairTry: PairTry,
  join: Join,
  photo: Photo,
  stroke: Stroke,
  signing: Signing,
  swap: Swap,
  noShow: NoShow,
} as const

export type Kind = keyof typeof kinds
export type RecordOf<K extends Kind> = Readonly<z.infer<(typeof kinds)[K]>>
export type AnyRecord = { [K in Kind]: RecordOf<K> }[Kind]

export const kindNames = Object.keys(kinds) as readonly Kind[]

const officeKinds: readonly Kind[] = ['hold', 'forbid', 'contact', 'lately', 'privateNote', 'signing', 'noShow']

/** Kinds of the office that managers alone read. */
export const managerKinds: readonly Kind[] = ['privateNote', 'noShow']

/** Health figures and incidents: a home that no role may open. */
const safetyKinds: readonly Kind[] = ['checkDone', 'incident', 'airSample', 'exposureMonth']

/** Kinds that live on their piece's Sheet; all of them are only added to. */
export const sheetKinds = [
  'log',
  'entry',
  'assessment',
  'housing',
  'custody',
  'lift',
  'fragment',
  'pairTry',
  'join',
  'photo',
  'stroke',
] as const satisfies readonly Kind[]

export const isSheetKind = (kind: Kind): kind is (typeof sheetKinds)[number] =>
  (sheetKinds as readonly Kind[]).includes(kind)

/** Where a record lives: `board`, `office`, `archive`, `forecasts`, `safety`, or `sheet/<pieceId>`. */
export type Home = 'board' | 'office' | 'archive' | 'forecasts' | 'safety' | `sheet/${string}`

/** The home of a record. Sheet kinds live with their piece. */
export function homeOf(kind: Kind, record: AnyRecord | null): Home {
  if (officeKinds.includes(kind)) return 'office'
  if (kind === 'resting') return 'archive'
  if (kind === 'forecast') return 'forecasts'
  if (safetyKinds.includes(kind)) return 'safety'
  if (isSheetKind(kind)) {
    if (!record || !('pieceId' in record)) throw new Error('Believed: sheet records are only added to')
    return `sheet/${record.pieceId}`
  }
  return 'board'
}

/** True for a home name as it may come from outside. */
export function isHome(name: string): name is Home {
  return name === 'board' || name === 'office' || name === 'archive' || /^sheet\/[0-9a-z][0-9a-z.-]{0,99}$/.test(name)
}

/** One change of one record: put whole (record) or removed (null). */
export type Change = {
  readonly [K in Kind]: {
    readonly kind: K
    readonly id: string
    readonly record: RecordOf<K> | null
  }
}[Kind]

/** Records by kind and id, as plain values. Reading never fails: an unknown id is undefined. */
export type Records = {
  readonly [K in Kind]: ReadonlyMap<string, RecordOf<K>>
}

/** No records at all: what a new lab starts from. */
export function noRecords(): Records {
  return Object.fromEntries(kindNames.map((kind) => [kind, new Map()])) as unknown as Records
}

/** A put of a record under its own id. */
export function put<K extends Kind>(kind: K, record: RecordOf<K>): Change {
  return { kind, id: record.id, record } as unknown as Change
}

/** The removal of a record. */
export function remove(kind: Kind, id: string): Change {
  return { kind, id, record: null } as Change
}

/** `records` with the changes laid over them; untouched kinds are shared with the old value, nothing is mutated. */
export function withChanges(records: Records, changes: readonly Change[]): Records {
  if (changes.length === 0) return records
  const next: Record<string, Map<string, AnyRecord>> = {}
  for (const change of changes) {
    next[change.kind] ??= new Map(records[change.kind] as ReadonlyMap<string, AnyRecord>)
    if (change.record) next[change.kind]?.set(change.id, change.record)
    else next[change.kind]?.delete(change.id)
  }
  return { ...records, ...next } as unknown as Records
}
