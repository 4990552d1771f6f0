// What must be true after a history, told by the durable log, by the servers, by every screen and by what clients were
// told, against plain code that shares nothing with the gate: the rules said again, the roles' table, marks on secrets.
import * as Y from 'yjs'
import type { Op } from '#lib/ops'
import {
  type AnyRecord,
  homeOf,
  type Kind,
  kindNames,
  kinds,
  noRecords,
  PersonId,
  type Records,
  withChanges,
} from '#lib/words'
import { verifyLog } from '../../server/sealing.ts'
import type { KeptEntry } from '../../server/store/contract.ts'
import { shown } from '../app/board/kit/world.ts'
import { FakeClient } from '../kit/fake-client.ts'
import { brokenRules, overPlanned } from '../lib/ops/plain-rules.ts'
import { letterOf, mayDo } from '../lib/ops/tables.ts'
import { LAB, type Server } from './house.ts'
import type { Game } from './play.ts'

/** Everything found, in words. */
export interface Found {
  readonly lost: readonly string[]
  readonly doubled: readonly string[]
  readonly diverged: readonly string[]
  readonly broken: readonly string[]
  readonly leaked: readonly string[]
}

export const whats = ['lost', 'doubled', 'diverged', 'broken', 'leaked'] as const

export async function judgeHistory(game: Game, founding: Records): Promise<Found> {
  const { house } = game
  const entries = await house.disk.store.read(LAB, 1, 100_000)
  const after = replay(founding, entries)
  return {
    lost: lost(game, entries),
    doubled: doubled(entries),
    diverged: await diverged(game, after.records, entries),
    broken: [
      ...after.broken,
      ...untrue(game, entries),
      ...(await untied(game)),
      ...house.heard.errors.map((error) => `fault: ${told(error)}`),
    ],
    leaked: house.heard.leaks,
  }
}

const told = (error: unknown) => (error instanceof Error ? (error.stack ?? error.message) : String(error))

/** Told kept and not there, or made and neither answered nor still with its author. */
function lost({ house, made, devices, raws, lives }: Game, entries: readonly KeptEntry[]): readonly string[] {
  const at = new Map(entries.map(({ opId, seq }) => [opId, seq]))
  const wrong: string[] = []
  const toldKept = [...house.heard.kept, ...raws.flatMap(({ kept }) => [...kept])]
  for (const [id, seq] of toldKept)
    if (at.get(id) !== seq) wrong.push(`${made.get(id) ?? ''} ${id} was told kept at ${seq}, the log has ${at.get(id)}`)
  const waiting = new Set(
    devices.flatMap(({ disks }) => [...disks.values()].flatMap(({ waiting }) => [...waiting.keys()])),
  )
  for (const [tab, ids] of lives) {
    const isGone = !house.servers[0]?.lab.records.person.get(tab.device.personId ?? '')?.isActive
    for (const id of ids) {
      if (at.has(id) || house.heard.refused.has(id) || (waiting.has(id) && isGone)) continue
      wrong.push(
        `${made.get(id)} ${id} of ${tab.device.personId} has no answer${waiting.has(id) ? ' yet' : ' and is gone'}`,
      )
    }
  }
  return wrong
}

/** The log is a chain from its first entry after the founding on, through kills, lost writes and two servers. */
async function untied({ house }: Game): Promise<readonly string[]> {
  const { broken, from, entries } = await verifyLog(house.disk.store, LAB)
  const wrong = broken.map(({ seq, what }) => `the chain of the log breaks at ${seq}: ${what}`)
  return entries > 1 && from !== 2 ? [...wrong, `the log is tied from ${from} on`] : wrong
}

function doubled(entries: readonly KeptEntry[]): readonly string[] {
  const seen = new Set<string>()
  return entries.flatMap(({ opId, kind }) => {
    // The same act again, whatever id it was stored under.
    if (!seen.has(opId)) {
      seen.add(opId)
      return []
    }
    return [`${kind} ${opId} is in the log twice`]
  })
}

/** What was told refused left no trace; a lost race says who has it; acts of one tab keep their order. */
function untrue({ house, raws, lives }: Game, entries: readonly KeptEntry[]): readonly string[] {
  const at = new Map(entries.map(({ opId, seq }) => [opId, seq]))
  const wrong: string[] = []
  for (const [id, findings] of [...house.heard.refused, ...raws.flatMap(({ refused }) => [...refused])]) {
    if (at.has(id)) wrong.push(`${id} was told refused (${findings.map(({ code }) => code)}) and is in the log`)
    if (findings.length === 0) wrong.push(`${id} was refused without a reason`)
    for (const { rule, code, ids } of findings)
      if (rule === 'R7' && Object.keys(ids).length === 0) wrong.push(`R7 ${code} names nobody`)
  }
  for (const ids of lives.values()) {
    // A refusal that got lost with its server: the act is asked again, and may be allowed by then, after later ones.
    const order = ids.flatMap((id) => (house.refusedOnce.has(id) ? [] : (at.get(id) ?? [])))
    if (order.some((seq, i) => seq < (order[i - 1] ?? 0))) wrong.push(`acts of one tab changed their order: ${order}`)
  }
  return wrong
}

/** Lays the log over the founding, entry by entry, and asks the plain rules after each. */
function replay(founding: Records, entries: readonly KeptEntry[]): { records: Records; broken: readonly string[] } {
  let records = founding
  let today = ''
  const broken: string[] = []
  for (const { seq, op, kind, personId, at, changes } of entries) {
    const before = records
    records = withChanges(before, changes)
    const date = localDate(before, at)
    if (date > today) today = date
    const say = (what: string) => broken.push(`${what} after ${kind} at ${seq}`)
    const person = personId === null ? undefined : before.person.get(personId)
    if (personId !== null && (!person?.isActive || !mayDo[kind as Op['kind']]?.includes(letterOf[person.role])))
      say(`role: ${personId} is ${person?.role ?? 'nobody'}`)
    for (const wrong of brokenRules(records, today)) say(wrong)
    if (person && date === today)
      for (const wrong of overPlanned(records, op as Op, { personId: person.id, role: person.role })) say(wrong)
    for (const one of ['log', 'entry'] as const)
      for (const [id, record] of before[one])
        if (JSON.stringify(records[one].get(id)) !== JSON.stringify(record))
          say(`R6 ${one} ${id} is no more what it was`)
    for (const change of changes)
      if (change.record && !kinds[change.kind].safeParse(change.record).success)
        say(`form of ${change.kind} ${change.id}`)
  }
  return { records, broken }
}

function localDate(records: Records, at: string): string {
  const timeZone = records.lab.get('lab')?.zone ?? 'UTC'
  return new Intl.DateTimeFormat('en-CA', { timeZone }).format(Date.parse(at))
}

/** Every server equals the log, every screen its server, every copy of a document the server's, byte for byte. */
async function diverged(game: Game, truth: Records, entries: readonly KeptEntry[]): Promise<readonly string[]> {
  // Who left is signed out for good: when that is undone, they come in again by hand, which nobody does here.
  const left = new Set(
    entries.flatMap(({ changes }) =>
      changes.flatMap((one) => (one.kind === 'person' && one.record?.isActive === false ? [one.id] : [])),
    ),
  )
  const { house, tabs } = game
  const wrong: string[] = []
  for (const [at, server] of house.servers.entries())
    if (server && textOf(ofBoard(server.lab.records)) !== textOf(ofBoard(truth)))
      wrong.push(`server ${at} differs from the log`)
  for (const { device, session, docs, servers, isOpen } of tabs) {
    const server = servers.get('board')
    const visitor = { id: 'witness', personId: device.personId === null ? null : PersonId.parse(device.personId) }
    const role = server?.lab.roleOf(visitor)
    if (!isOpen || !server || !role) continue
    if (session.shown.gate.get() === 'out' && left.has(device.personId ?? '')) continue
    const name = `${device.personId ?? 'wall'} (${role})`
    const { state, count } = session.shown.save.get()
    if (state !== 'kept' || count > 0) wrong.push(`${name} shows ${state}, ${count} waiting`)
    const today = server.lab.when().date
    if (textOf(ofBoard(session.shown.records.get())) !== textOf(ofBoard(shown(server.lab.records, role, today))))
      wrong.push(`the screen of ${name} differs from its server`)
    for (const [home, doc] of docs) {
      const theirs = servers.get(home)
      const difference = theirs && (await differs(game, theirs, visitor, home, doc))
      if (difference) wrong.push(`${home} of ${name} ${difference}`)
    }
  }
  return wrong
}

async function differs(
  { house }: Game,
  { lab }: Server,
  visitor: FakeClient['session'],
  home: string,
  doc: Y.Doc,
): Promise<string | null> {
  if (!lab.mayOpen(visitor, home)) return null
  const witness = new FakeClient(visitor, home, house.clock)
  witness.connect(lab)
  await house.clock.pass(20)
  const [own, fresh] = [doc, witness.doc].map((one) => Buffer.from(Y.encodeStateAsUpdate(one)))
  witness.wire?.cut()
  return own && fresh && own.equals(fresh)
    ? null
    : `is not the server's, byte for byte (${own?.length}, ${fresh?.length})`
}

function ofBoard(records: Records): Records {
  const result = noRecords() as unknown as Record<Kind, Map<string, AnyRecord>>
  for (const kind of kindNames)
    for (const [id, record] of records[kind] as ReadonlyMap<string, AnyRecord>) {
      const home = homeOf(kind, record)
      if ((home === 'board' || home === 'office') && kind !== 'hours') result[kind].set(id, record)
    }
  return result as unknown as Records
}

function textOf(records: Records): string {
  return JSON.stringify(
    kindNames.map((kind) =>
      [...(records[kind] as ReadonlyMap<string, AnyRecord>)]
        .sort(([a], [b]) => (a < b ? -1 : 1))
        .map(([, record]) => Object.entries(record).sort(([a], [b]) => (a < b ? -1 : 1))),
    ),
  )
}
