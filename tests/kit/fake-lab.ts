// A lab as small as the gate's tests need it, with a handful of acts of its own, so that what is tested here is the
// gate and not the lab's rules. Each act is chosen for what it asks of the gate: a race for one thing, private records,
// a sheet that must be loaded, a piece in the archive, roles, the server's own op, and a fault of ours.
import { z } from 'zod'
import { makeId, seededRandom } from '#lib/base'
import type { When, Who } from '#lib/ops'
import {
  type Change,
  type Finding,
  finding,
  kinds,
  PersonId,
  put,
  type RecordOf,
  type Records,
  remove,
} from '#lib/words'
import { type LabsOptions, type OpTable, openLabs } from '../../server/labs.ts'
import type { Store } from '../../server/store/contract.ts'
import { memoryStore } from '../../server/store/memory.ts'
import type { Chance, Log } from '../../server/world.ts'
import { FakeClient, type FakeOp } from './fake-client.ts'
import { type FakeClock, fakeClock } from './fake-clock.ts'
import { aJacket, aLab, aPerson } from './makers.ts'

/** Zone of the fake lab. */
export const zone = 'Europe/Berlin'

export const aJacketRecord = (id: string, patch: Partial<RecordOf<'jacket'>> = {}): RecordOf<'jacket'> =>
  aJacket({ fieldNumber: `F ${id}`, shelf: '', ...patch, id })

export function aRestingRecord(jacket: RecordOf<'jacket'>): RecordOf<'resting'> {
  return kinds.resting.parse({
    id: jacket.id,
    jacket,
    specimen: null,
    steps: [],
    dues: [],
    escalations: [],
    questions: [],
    watches: [],
    since: '2026-01-01',
  })
}

const id = z.string().regex(/^[0-9a-z][0-9a-z-]{0,39}$/)
const Op = z.discriminatedUnion('kind', [
  /** Writes where a jacket is shelved; anybody may, again and again. */
  z.strictObject({ id, kind: z.literal('mark'), pieceId: id, shelf: z.string().max(240) }),
  /** Takes a jacket for today, if nobody has it. */
  z.strictObject({ id, kind: z.literal('take'), pieceId: id }),
  /** Writes a private note into the office; staff alone. */
  z.strictObject({ id, kind: z.literal('whisper'), text: z.string().max(200) }),
  /** Refused because of a private note, and says which. */
  z.strictObject({ id, kind: z.literal('listen') }),
  z.strictObject({ id, kind: z.literal('write'), pieceId: id, text: z.string().max(200) }),
  /** Corrects an entry of a sheet, which must be there. */
  z.strictObject({ id, kind: z.literal('correct'), pieceId: id, entryId: id }),
  z.strictObject({ id, kind: z.literal('rest'), pieceId: id }),
  z.strictObject({ id, kind: z.literal('bring'), pieceId: id }),
  z.strictObject({ id, kind: z.literal('role'), personId: id, role: z.string().nullable() }),
  z.strictObject({ id, kind: z.literal('beginDay'), date: z.string() }),
  /** Our own bug: makes a record that breaks its schema, or throws. */
  z.strictObject({ id, kind: z.literal('fault'), how: z.enum(['schema', 'throw']) }),
])
type Op = z.infer<typeof Op>

const staff = ['manager', 'preparator']

function judge(records: Records, op: Op, who: Who, when: When): readonly Finding[] {
  if (who.role === 'wall' || (who.role === 'researcher' && op.kind !== 'listen')) return [finding('O', 'role')]
  if (who.role !== 'system' && !records.person.get(who.personId)?.isActive) return [finding('O', 'not-of-the-lab')]
  switch (op.kind) {
    case 'take': {
      const taken = [...records.assignment.values()].find((one) => one.pieceId === op.pieceId && one.date === when.date)
      if (!taken) return []
      return [finding('R7', 'has-it', { person: taken.personId, piece: op.pieceId })]
    }
    case 'mark':
    case 'rest':
      return records.jacket.has(op.pieceId) ? [] : [finding('O', 'no-piece', { piece: op.pieceId })]
    case 'whisper':
    case 'role':
      return staff.includes(who.role) ? [] : [finding('O', 'role')]
    case 'listen': {
      const [note] = records.privateNote.values()
      return [
        note
          ? finding('O', 'whispered', { privateNote: note.id }, { letters: note.text.length })
          : finding('O', 'silent'),
      ]
    }
    case 'correct':
      return records.entry.has(op.entryId) ? [] : [finding('R6', 'no-entry', { entry: op.entryId })]
    case 'bring':
      return records.resting.has(op.pieceId) ? [] : [finding('O', 'not-resting', { piece: op.pieceId })]
    case 'beginDay':
      return who.role === 'system' ? [] : [finding('O', 'role')]
    default:
      return []
  }
}

function apply(records: Records, op: Op, who: Who, when: When): readonly Change[] {
  const person = PersonId.parse(who.personId)
  const entry = (entryId: string, pieceId: string, text: string, corrects: string | null) =>
    put(
      'entry',
      kinds.entry.parse({
        id: entryId,
        pieceId,
        by: person,
        at: when.at,
        kind: 'note',
        techniqueId: null,
        text,
        corrects,
      }),
    )
  switch (op.kind) {
    case 'mark': {
      const jacket = records.jacket.get(op.pieceId)
      return jacket ? [put('jacket', { ...jacket, shelf: op.shelf })] : []
    }
    case 'take':
      return [
        put(
          'assignment',
          kinds.assignment.parse({
            id: `${when.date}.am.${person}`,
            date: when.date,
            shiftId: 'am',
            personId: person,
            pieceId: op.pieceId,
            stepId: 's1',
            placeId: 'p1',
            how: 'claimed',
            by: person,
            at: when.at,
          }),
        ),
      ]
    case 'whisper':
      return [
        put(
          'privateNote',
          kinds.privateNote.parse({
            id: op.id,
            aboutPersonId: null,
            aboutPieceId: null,
            text: op.text,
            by: person,
            at: when.at,
          }),
        ),
      ]
    case 'write':
      return [entry(op.id, op.pieceId, op.text, null)]
    case 'correct':
      return [entry(op.id, op.pieceId, 'corrected', op.entryId)]
    case 'rest': {
      const jacket = records.jacket.get(op.pieceId)
      return jacket ? [remove('jacket', jacket.id), put('resting', aRestingRecord(jacket))] : []
    }
    case 'bring': {
      const jacket = records.resting.get(op.pieceId)?.jacket
      return jacket ? [remove('resting', op.pieceId), put('jacket', jacket)] : []
    }
    case 'role': {
      const one = records.person.get(op.personId)
      if (!one) return []
      const role = kinds.person.shape.role.safeParse(op.role)
      return [put('person', role.success ? { ...one, role: role.data, isActive: true } : { ...one, isActive: false })]
    }
    case 'beginDay':
      return [...records.assignment.values()]
        .filter((one) => one.date < op.date)
        .map((one) => remove('assignment', one.id))
    case 'fault':
      if (op.how === 'throw') throw new Error('a bug')
      // What the types would forbid, as a bug would make it.
      return [put('jacket', { ...aJacketRecord('bad'), lengthM: -1 })]
    default:
      return []
  }
}

/** The fake lab's acts. */
export const fakeOps: OpTable = {
  parse: (value) => {
    const parsed = Op.safeParse(value)
    return parsed.success ? { op: parsed.data } : { findings: [finding('O', 'malformed')] }
  },
  // The gate hands back what parse made.
  needs: (_, given) => {
    const op = given as Op
    if (op.kind === 'correct') return [{ home: `sheet/${op.pieceId}` }]
    return op.kind === 'bring' ? [{ home: 'archive', id: op.pieceId }] : []
  },
  judge: (records, op, who, when) => judge(records, op as Op, who, when),
  apply: (records, op, who, when) => apply(records, op as Op, who, when),
  subjects: (_, op) => ('pieceId' in op ? [String(op.pieceId)] : []),
}

/** People of the fake lab, and how many jackets it has. */
export const people = {
  mara: 'manager',
  petra: 'preparator',
  vera: 'volunteer',
  viktor: 'volunteer',
  rosa: 'researcher',
} as const
export type Somebody = keyof typeof people | 'wall'
export const jackets = ['j1', 'j2', 'j3', 'j4', 'j5', 'j6', 'j7', 'j8']

export function seedChanges(): readonly Change[] {
  return [
    put('lab', aLab({ zone })),
    ...Object.entries(people).map(([id, role]) =>
      put('person', aPerson({ id, role, name: `Name of ${id}`, familyName: `Family of ${id}` })),
    ),
    ...jackets.map((jacket) => put('jacket', aJacketRecord(jacket))),
  ]
}

/** Writes the fake lab into a store, if it is not there. */
export async function seed(store: Store, changes: readonly Change[] = seedChanges()): Promise<void> {
  if ((await store.head('fake')) > 0) return
  await store.append('fake', 0, [
    { opId: 'found', kind: 'found', op: {}, personId: null, at: '2026-01-01T00:00:00.000Z', changes, subjects: [] },
  ])
}

/** Chance from a seed. */
export function fakeChance(number: number): Chance {
  const random = seededRandom(number)
  return { bytes: (count) => Uint8Array.from({ length: count }, () => random.below(256)) }
}

export interface FakeHouse {
  readonly clock: FakeClock
  readonly store: Store
  readonly said: string[]
  readonly lab: Awaited<ReturnType<ReturnType<typeof openLabs>['lab']>>
  readonly close: () => Promise<void>
  /** A client of somebody, connected. */
  readonly client: (who: Somebody, place?: string, session?: string) => FakeClient
  readonly op: (kind: string, fields?: object) => FakeOp
}

/** A server around the fake lab, without a network, over a clock of its own. */
export async function openFake(
  options: Partial<LabsOptions> & { clock?: FakeClock; store?: Store; seed?: number; delayMs?: () => number } = {},
): Promise<FakeHouse> {
  const clock = options.clock ?? fakeClock()
  const store = options.store ?? memoryStore()
  await seed(store)
  const said: string[] = []
  const log: Log = (level, what) => said.push(`${level}: ${what}`)
  const dice = seededRandom(options.seed ?? 1)
  const labs = openLabs({
    chance: fakeChance(options.seed ?? 1),
    log,
    ops: fakeOps,
    dayOp: (date) => ({ id: `begin-day-${date}`, kind: 'beginDay', date }) as { id: string; kind: string },
    ...options,
    clock,
    store,
  })
  const lab = await labs.lab('fake')
  let sessions = 0
  return {
    clock,
    store,
    said,
    lab,
    close: () => labs.close(),
    client: (who, place = 'board', session = `${who}-${sessions++}`) => {
      const personId = who === 'wall' ? null : PersonId.parse(who)
      const client = new FakeClient({ id: session, personId }, place, clock, options.delayMs)
      client.connect(lab)
      return client
    },
    op: (kind, fields = {}) => ({ ...fields, id: makeId(clock.now(), () => dice.below(32)), kind }),
  }
}
