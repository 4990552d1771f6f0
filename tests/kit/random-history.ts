// One random history of a small lab: people act, connections break, the store fails now and then, the server is killed
// and started again, at times two servers run on one lab. Everything follows from the seed.
import * as Y from 'yjs'
import { seededRandom } from '#lib/base'
import { readMeta } from '#lib/doc'
import type { Lab, OpTable } from '../../server/labs.ts'
import { type Store, StoreTrouble } from '../../server/store/contract.ts'
import { memoryStore } from '../../server/store/memory.ts'
import type { FakeClient, FakeOp } from './fake-client.ts'
import { fakeClock } from './fake-clock.ts'
import { type FakeHouse, fakeOps, jackets, openFake, people, type Somebody } from './fake-lab.ts'
import { type ModelOp, PlainModel } from './plain-model.ts'

export interface HistoryCounts {
  ops: number
  kept: number
  refused: number
  cuts: number
  kills: number
  faults: number
}

const STEPS = 40
const roles = ['manager', 'preparator', 'volunteer', 'researcher', null]

/** Plays a history and checks what must hold; throws with the seed when it does not. */
export async function playHistory(seed: number, counts: HistoryCounts): Promise<void> {
  const random = seededRandom(seed)
  const one = <T>(list: readonly T[]): T => list[random.below(list.length)] as T
  const clock = fakeClock()
  let faultsLeft = 0
  const fault = (call: string) => {
    if (faultsLeft === 0 || call === 'read') return
    faultsLeft--
    counts.faults++
    throw new StoreTrouble('io', 'by chance')
  }
  let isAfter = false
  const disk = memoryStore({
    before: (call) => {
      if (!isAfter) fault(call)
    },
    after: (call) => {
      if (isAfter) fault(call)
    },
  })
  const made: { op: FakeOp & ModelOp; by: FakeClient }[] = []
  const delayMs = () => random.below(30)
  // An op that was refused while its author was away, and comes again after a restart, is judged anew: the author was told
  // nothing, so nothing untrue was said, but it may now be kept later than what was made after it.
  const onceRefused = new Set<string>()
  const ops: OpTable = {
    ...fakeOps,
    judge: (records, op, by, when) => {
      const findings = fakeOps.judge(records, op, by, when)
      if (findings.length > 0) onceRefused.add(op.id)
      return findings
    },
  }
  let process = killable(disk)
  let house = await openFake({ clock, store: process.store, seed, delayMs, ops })
  const seconds: FakeHouse[] = []
  const who: Somebody[] = ['mara', 'petra', 'vera', 'viktor', 'rosa', 'vera']
  const clients = who.map((name) => house.client(name))
  const homes = new Map<FakeClient, () => Lab>(clients.map((client) => [client, () => house.lab]))

  for (let step = 0; step < STEPS; step++) {
    const dice = random.below(100)
    const client = one(clients)
    if (dice < 70) {
      const op = house.op(...anAct(random, one, made)) as FakeOp & ModelOp
      made.push({ op, by: client })
      counts.ops++
      client.act(op)
      // Said twice by a network that stutters.
      if (random.below(10) === 0 && client.isOpen) client.say({ type: 'ops', ops: [op] })
    } else if (dice < 82) {
      counts.cuts++
      client.wire?.cut()
    } else if (dice < 90) {
      if (!client.isOpen) client.connect(homes.get(client)?.() ?? house.lab)
    } else if (dice < 94) {
      isAfter = random.below(2) === 0
      faultsLeft = 1 + random.below(3)
    } else if (dice < 97) {
      counts.kills++
      process.kill()
      for (const other of clients) other.wire?.cut()
      process = killable(disk)
      faultsLeft = 0
      house = await openFake({ clock, store: process.store, seed: seed * 1000 + step + 1, delayMs, ops })
    } else if (dice < 98 && seconds.length === 0) {
      const handle = killable(disk)
      faultsLeft = 0
      const second = await openFake({ clock, store: handle.store, seed: seed * 1000 + 999, delayMs, ops })
      seconds.push(second)
      homes.set(client, () => second.lab)
      client.wire?.cut()
      client.connect(second.lab)
    } else await clock.pass(random.below(3000))
    if (random.below(2) === 0) await clock.pass(random.below(60))
    const head = await disk.head('fake').catch(() => null)
    for (const { doc } of clients) {
      const seq = readMeta(doc)?.seq ?? 0
      if (head !== null && seq > head) throw new Error(`R8: a screen shows position ${seq}, the store has ${head}`)
    }
  }
  faultsLeft = 0
  for (let round = 0; round < 4; round++) {
    for (const client of clients) if (!client.isOpen) client.connect(homes.get(client)?.() ?? house.lab)
    await clock.pass(2500)
  }
  await checkHistory(
    disk,
    clients,
    made.filter(({ op }) => !onceRefused.has(op.id)),
    house,
    seconds,
  )
  for (const client of clients) {
    counts.kept += client.kept.size
    counts.refused += client.refused.size
  }
}

function anAct(
  random: ReturnType<typeof seededRandom>,
  one: <T>(list: readonly T[]) => T,
  made: readonly { op: FakeOp & ModelOp }[],
): [kind: string, fields: object] {
  const pieceId = one(jackets.slice(0, 4))
  const dice = random.below(20)
  if (dice < 7) return ['mark', { pieceId, shelf: `shelf ${random.below(1000)}` }]
  if (dice < 11) return ['take', { pieceId }]
  if (dice < 13) return ['write', { pieceId, text: `text ${random.below(1000)}` }]
  if (dice < 15) {
    const written = made.filter(({ op }) => op.kind === 'write').map(({ op }) => op)
    const right = written.length > 0 ? one(written) : null
    return ['correct', { pieceId: right?.pieceId ?? pieceId, entryId: right?.id ?? 'none' }]
  }
  if (dice < 16) return ['rest', { pieceId }]
  if (dice < 17) return ['bring', { pieceId }]
  if (dice < 18) return ['whisper', { text: 'hush' }]
  if (dice < 19) return ['role', { personId: one(['viktor', 'petra', 'rosa']), role: one(roles) }]
  return ['listen', {}]
}

/** A process's own way to the store: once it is killed, nothing it asks for happens or comes back any more. */
function killable(store: Store): { store: Store; kill: () => void } {
  let isDead = false
  const wrapped = new Proxy(store, {
    get: (target, name) => {
      const value: unknown = Reflect.get(target, name)
      if (typeof value !== 'function' || name === 'subscribe') return value
      return async (...args: unknown[]) => {
        if (isDead) return new Promise(() => {})
        const result: unknown = await Reflect.apply(value, target, args)
        return isDead ? new Promise(() => {}) : result
      }
    },
  })
  return {
    store: wrapped,
    kill: () => {
      isDead = true
    },
  }
}

async function checkHistory(
  disk: Store,
  clients: readonly FakeClient[],
  made: readonly { op: FakeOp & ModelOp; by: FakeClient }[],
  house: FakeHouse,
  seconds: readonly FakeHouse[],
): Promise<void> {
  const entries = await disk.read('fake', 0, 10_000)
  const seqs = new Map(entries.map(({ opId, seq }) => [opId, seq]))
  if (seqs.size !== entries.length) throw new Error('An op is in the history twice')
  for (const client of clients) {
    const gone = client.closedWith?.code === 4401
    if (!gone && client.outbox.length > 0) throw new Error(`${client.outbox.length} ops without an answer`)
    for (const [opId, seq] of client.kept)
      if (seqs.get(opId) !== seq) throw new Error(`Kept ${opId} at ${seq}, the store has ${seqs.get(opId)}`)
    for (const opId of client.refused.keys()) if (seqs.has(opId)) throw new Error(`Refused ${opId} is in the history`)
    const order = made.filter(({ op, by }) => by === client && seqs.has(op.id)).map(({ op }) => seqs.get(op.id) ?? 0)
    if (order.some((seq, i) => seq < (order[i - 1] ?? 0))) throw new Error('Ops of one person changed their order')
  }
  const model = new PlainModel(people, jackets)
  for (const { op, kind, personId } of entries) model.do({ ...(op as ModelOp), kind }, personId)
  const servers = [house, ...seconds]
  for (const { lab, client, clock } of servers) {
    const fresh = [client('mara'), client('wall')]
    await clock.pass(500)
    const [crew, wall] = fresh.map(({ doc }) => doc)
    if (!crew || !wall) throw new Error('Believed: two came')
    compare(lab.records, model)
    const guest = fresh[0]?.records()
    if (guest) compare(guest, model)
    const bytes = (doc: Y.Doc) => Buffer.from(Y.encodeStateAsUpdate(doc)).toString('base64')
    for (const one of clients) {
      const isOfCrew = model.roles.get(one.session.personId ?? '') !== 'researcher'
      if (!one.isOpen || !isOfCrew || one.epoch !== fresh[0]?.epoch) continue
      if (bytes(one.doc) !== bytes(crew))
        throw new Error(`The screen of ${one.session.personId} differs from the server`)
    }
    for (const one of fresh) one.wire?.cut()
  }
}

function compare(records: ReturnType<FakeClient['records']>, model: PlainModel): void {
  const got = {
    shelves: [...records.jacket.values()].map(({ id, shelf }) => `${id} ${shelf}`).sort(),
    takers: [...records.assignment.values()].map(({ pieceId, personId }) => `${pieceId} ${personId}`).sort(),
    roles: [...records.person.values()].map(({ id, role, isActive }) => `${id} ${isActive ? role : 'gone'}`).sort(),
  }
  const wanted = {
    shelves: [...model.shelves].map(([piece, shelf]) => `${piece} ${shelf}`).sort(),
    takers: [...model.takers].map(([piece, person]) => `${piece} ${person}`).sort(),
    roles: [...model.roles].map(([person, role]) => `${person} ${role}`).sort(),
  }
  if (JSON.stringify(got) !== JSON.stringify(wanted))
    throw new Error(`Records differ from the model:\n${JSON.stringify(got)}\n${JSON.stringify(wanted)}`)
}
