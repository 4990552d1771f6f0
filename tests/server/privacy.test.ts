// What is private is planted as strings and numbers that occur nowhere else; then everybody opens every document, asks
// every question, reads every history, and all that reached them is searched. What they may read must have come, and what
// they may not must not: so the search is known to find.
import { unzipSync } from 'fflate'
import { describe, expect, it } from 'vitest'
import {
  type Change,
  faceFor,
  homeOf,
  type Kind,
  kindNames,
  kinds,
  PersonId,
  project,
  put,
  type Records,
  type Role,
  withChanges,
} from '#lib/words'
import { outFilesOf } from '../../app/out/files.ts'
import { hindsightAsker } from '../../server/foresight.ts'
import { labOps } from '../../server/lab-ops.ts'
import { calendarBehind } from '../../server/out/calendar.ts'
import { outletsOf } from '../../server/out/outlets.ts'
import { readingsOf } from '../../server/readings.ts'
import { safetyAsker } from '../../server/safety.ts'
import { memoryStore } from '../../server/store/memory.ts'
import type { Clock } from '../../server/world.ts'
import { openFake, type Somebody, seed, seedChanges } from '../kit/fake-lab.ts'
import { aTurn } from '../kit/makers.ts'
import { PLANTS, type Reader, readers } from '../kit/private-plants.ts'

const date = '2026-03-11'

/** Every file that anybody is offered. */
const everyFile = [
  ...new Map(
    (['manager', 'preparator', 'volunteer', 'researcher', 'wall'] as const)
      .flatMap(outFilesOf)
      .flatMap(({ files }) => files)
      .map((file) => [file.path, file]),
  ).values(),
]

/** Everything that reaches each reader, as one text: frames as they came, documents read, answers, histories. */
async function heardByAll(changes: readonly Change[]): Promise<ReadonlyMap<Reader, string>> {
  const store = memoryStore()
  await seed(store, [...seedChanges(), ...changes])
  const house = await openFake({
    store,
    ops: labOps,
    asks: { safety: safetyAsker(() => {}), hindsight: hindsightAsker },
    dayOp: null,
  })
  const { clock, lab } = house
  const readings = readingsOf(
    { store, labId: 'fake', lab: { records: () => lab.records } } as unknown as Parameters<typeof readingsOf>[0],
    clock,
  )
  const behind = { store, labId: 'fake', lab: { records: () => lab.records, noteRead: () => {} } }
  const outlets = outletsOf(behind as unknown as Parameters<typeof outletsOf>[0], clock)
  const people = ['mara', 'petra', 'vera', 'viktor', 'sven', 'rosa']
  const homes = ['board', 'office', 'safety', 'archive', 'forecasts', 'sheet/j1', 'sheet/skull']
  const heard = new Map<Reader, string>()
  for (const reader of readers) {
    const clients = homes.map((home) => house.client(reader as Somebody, home))
    await clock.pass(50)
    const [board] = clients
    const asks = [null, ...people].map((about) => ({ what: 'safety', body: { about } }))
    for (const [n, { what, body }] of [...asks, { what: 'hindsight', body: {} }].entries()) {
      board?.say({ type: 'ask', ask: `a${n}`, what, body })
      await clock.pass(20)
    }
    // What is refused says no more than it may either.
    board?.act(house.op('addSample', { sample: { ...sampleOf('viktor'), id: 's1' } }))
    board?.act(house.op('reportIncident', { incident: { ...incidentOf(), id: `x${reader}`, corrects: 'i1' } }))
    await clock.pass(50)
    const who = { personId: reader === 'wall' ? null : reader, role: roleOf(reader) }
    const histories = await Promise.all(
      [...people, 'j1', 'lab', 'b1', 'skull'].map((subject) =>
        readings.history(who as Parameters<typeof readings.history>[0], new URLSearchParams({ subject })),
      ),
    )
    const archive = await readings.archive(
      who as Parameters<typeof readings.archive>[0],
      new URLSearchParams({ q: 'PLANT' }),
    )
    const files: string[] = []
    if (reader !== 'wall') files.push(calendarOf(reader, lab.records, clock))
    for (const { path } of everyFile) {
      const file = outlets(who as Parameters<typeof outlets>[0], path, 'http://lab')
      if (file === null) throw new Error(`no file ${path}`)
      if (file === 'not-allowed') continue
      const parts: Buffer[] = []
      for await (const part of file.parts) parts.push(Buffer.from(part))
      const whole = Buffer.concat(parts)
      // What is packed is looked into.
      const inside = path.endsWith('.zip') ? Object.values(unzipSync(whole)) : [whole]
      files.push(...inside.map((bytes) => Buffer.from(bytes).toString('utf8')))
    }
    heard.set(
      reader,
      [
        ...files,
        ...clients.flatMap((client) => client.bytes.map((frame) => Buffer.from(frame).toString('utf8'))),
        ...clients.map((client) => written(client.records())),
        JSON.stringify(board?.heard ?? []),
        JSON.stringify([histories, archive]),
      ].join('\n'),
    )
  }
  await house.close()
  return heard
}

/** What somebody's own calendar program is answered; everybody has a turn to be in it. */
function calendarOf(reader: Reader, records: Records, clock: Clock): string {
  const id = PersonId.parse(reader)
  const turn = put('assignment', aTurn({ personId: reader, placeId: 'b1', pieceId: 'j1', date }))
  const house = {
    door: { calendars: { whose: () => records.person.get(id) } },
    lab: { records: () => withChanges(records, [turn]) },
  }
  const text = calendarBehind(house as unknown as Parameters<typeof calendarBehind>[0], clock)('secret') ?? ''
  expect(text, reader).toContain('BEGIN:VEVENT')
  return text
}

const written = (records: ReturnType<ReturnType<Awaited<ReturnType<typeof openFake>>['client']>['records']>) =>
  JSON.stringify(kindNames.map((kind) => [...records[kind].values()]))

const roleOf = (reader: Reader): Role =>
  (({ mara: 'manager', petra: 'preparator', rosa: 'researcher', wall: 'wall' }) as Partial<Record<Reader, Role>>)[
    reader
  ] ?? 'volunteer'

const sampleOf = (personId: string) => ({
  ...{ personId, date, agent: 'acetone', amount: 1, unit: 'ppm', minutes: 60, method: '', corrects: null },
})
const incidentOf = () => ({
  ...{ kind: 'near miss', date, what: 'x', done: '', personId: null, placeId: null, pieceId: null },
})

/** `PLANT-x → reader` for all that came to the wrong one, `PLANT-x ✗ reader` for what should have come and did not. */
function wrongOf(
  plants: readonly { readonly text: string; readonly may: readonly Reader[] }[],
  heard: ReadonlyMap<Reader, string>,
): readonly string[] {
  return plants.flatMap(({ text, may }) =>
    readers.flatMap((reader) => {
      const isThere = heard.get(reader)?.includes(text) ?? false
      if (isThere === may.includes(reader)) return []
      return [`${text} ${isThere ? '→' : '✗'} ${reader}`]
    }),
  )
}

describe('what is private', () => {
  it('reaches those it is meant for and nobody else: documents, frames, answers, refusals, histories, files, calendars', async () => {
    const heard = await heardByAll(PLANTS.map(({ change }) => change))
    expect(wrongOf(PLANTS, heard)).toEqual([])
    // The raw figures beside the words.
    for (const reader of readers) {
      const may = ['mara', 'sven', 'vera'].includes(reader)
      for (const figure of ['473829', '91827'])
        expect([reader, figure, heard.get(reader)?.includes(figure)]).toEqual([reader, figure, may])
    }
  })

  it('is found by this very search when it leaks', async () => {
    const leaky = put('jacket', {
      ...kinds.jacket.parse(seedChanges().find(({ kind, id }) => kind === 'jacket' && id === 'j1')?.record),
      note: 'PLANT-note again: PLANT-phone',
    })
    const heard = await heardByAll([...PLANTS.map(({ change }) => change), leaky])
    expect(wrongOf(PLANTS, heard)).toEqual([
      'PLANT-phone → vera',
      'PLANT-phone → viktor',
      'PLANT-phone → sven',
      'PLANT-phone → rosa',
      'PLANT-note → petra',
      'PLANT-note → vera',
      'PLANT-note → viktor',
      'PLANT-note → sven',
      'PLANT-note → rosa',
    ])
  })
})

/** Kinds that are about persons and not about pieces, said by hand. */
const ofPersons: readonly Kind[] = [
  ...(['contact', 'privateNote', 'lately', 'hold', 'forbid', 'tally', 'signOffAsk', 'forecast', 'ack'] as const),
  ...(['incident', 'airSample', 'exposureMonth', 'checkDone', 'check', 'reseat', 'noShow'] as const),
]

describe('each kind of record', () => {
  const record = { id: 'x', pieceId: 'p', personId: 'vera', date } as never
  const isShown = (role: Role, kind: Kind) => {
    const face = faceFor(role, homeOf(kind, record))
    return face !== null && project(face, kind, record, date) !== null
  }

  it('about persons is shown to no researcher and no Wall, nor is one that nobody has thought of', () => {
    for (const kind of [...ofPersons, 'notYetThought' as Kind])
      expect([kind, isShown('researcher', kind), isShown('wall', kind)]).toEqual([kind, false, false])
    expect(isShown('researcher', 'place')).toBe(true)
  })
})
