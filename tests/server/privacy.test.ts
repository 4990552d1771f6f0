// What is private is planted as strings and numbers that occur nowhere else; then everybody opens every document, asks
// every question, reads every history, and all that reached them is searched. What they may read must have come, and what
// they may not must not: so the search is known to find.
import { describe, expect, it } from 'vitest'
import { type Change, faceFor, homeOf, type Kind, kindNames, kinds, project, put, type Role } from '#lib/words'
import { hindsightAsker } from '../../server/foresight.ts'
import { labOps } from '../../server/lab-ops.ts'
import { readingsOf } from '../../server/readings.ts'
import { safetyAsker } from '../../server/safety.ts'
import { memoryStore } from '../../server/store/memory.ts'
import { openFake, type Somebody, seed, seedChanges } from '../kit/fake-lab.ts'
import { aPerson, aWork } from '../kit/makers.ts'

const at = '2026-03-11T10:00:00.000Z'
const date = '2026-03-11'
const readers = ['mara', 'petra', 'vera', 'viktor', 'sven', 'rosa', 'wall'] as const
type Reader = (typeof readers)[number]

/** Private to one person is what `vera` is the subject or author of. */
const PLANTS: readonly { readonly text: string; readonly may: readonly Reader[]; readonly change: Change }[] = [
  {
    text: 'PLANT-phone',
    may: ['mara', 'petra'],
    change: put('contact', kinds.contact.parse({ id: 'vera', phone: 'PLANT-phone', email: '', emergency: '' })),
  },
  {
    text: 'PLANT-emergency',
    may: ['mara', 'petra'],
    change: put('contact', kinds.contact.parse({ id: 'viktor', phone: '', email: '', emergency: 'PLANT-emergency' })),
  },
  {
    text: 'PLANT-note',
    may: ['mara'],
    change: put(
      'privateNote',
      kinds.privateNote.parse({
        id: 'n1',
        aboutPersonId: 'vera',
        aboutPieceId: null,
        text: 'PLANT-note',
        by: 'mara',
        at,
      }),
    ),
  },
  {
    // Who did not come has no words: the day is one that stands nowhere else.
    text: '1999-09-19',
    may: ['mara'],
    change: put(
      'noShow',
      kinds.noShow.parse({
        ...{ id: '1999-09-19.morning.vera', personId: 'vera', date: '1999-09-19', shiftId: 'morning', by: 'mara', at },
      }),
    ),
  },
  {
    text: 'PLANT-incident',
    may: ['mara', 'sven', 'vera'],
    change: put(
      'incident',
      kinds.incident.parse({
        ...{ id: 'i1', kind: 'near miss', date, what: 'PLANT-incident', done: '', personId: 'viktor', placeId: null },
        ...{ pieceId: null, by: 'vera', at, corrects: null },
      }),
    ),
  },
  {
    text: 'PLANT-sample',
    may: ['mara', 'sven', 'vera'],
    change: put(
      'airSample',
      kinds.airSample.parse({
        ...{ id: 's1', personId: 'vera', date, agent: 'acetone', amount: 473_829, unit: 'ppm', minutes: 60 },
        ...{ method: 'PLANT-sample', by: 'sven', at, corrects: null },
      }),
    ),
  },
  {
    text: 'PLANT-tool',
    may: ['mara', 'sven', 'vera'],
    change: put(
      'exposureMonth',
      kinds.exposureMonth.parse({
        ...{ id: '2026-02.vera', personId: 'vera', month: '2026-02' },
        days: [
          {
            ...{ date: '2026-02-03', formula: 1 },
            tools: [
              {
                ...{ techniqueId: 'scribe', name: 'PLANT-tool', minutes: 91_827, vibrationMs2: 4, vibrationSource: '' },
                ...{ noiseDba: null, noiseSource: '' },
              },
            ],
          },
        ],
      }),
    ),
  },
  {
    text: 'PLANT-check',
    may: ['mara', 'sven', 'vera'],
    change: put(
      'checkDone',
      kinds.checkDone.parse({
        id: 'c1',
        checkId: 'arm',
        date,
        shiftId: null,
        by: 'vera',
        at,
        result: 'good',
        note: 'PLANT-check',
      }),
    ),
  },
  {
    text: 'PLANT-family',
    may: ['mara', 'petra', 'vera', 'viktor', 'sven'],
    change: put('person', aPerson({ id: 'sven', name: 'Sven', familyName: 'PLANT-family', isSafety: true })),
  },
  {
    // Everybody reads it: that the search finds what is there is seen on every reader.
    text: 'PLANT-public',
    may: readers,
    change: put('place', {
      ...kinds.place.parse({
        ...{ id: 'b1', code: 'B1', name: 'PLANT-public', kind: 'bench', xM: 1, yM: 1, widthM: 1, depthM: 1 },
        ...{ rotationDeg: 0, seats: 2, features: [], airLines: 0, loadKgMax: 10, isExclusive: false },
        ...{ closedUntil: null, closedReason: '', note: '' },
      }),
    }),
  },
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
    heard.set(
      reader,
      [
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
  it('reaches those it is meant for and nobody else: documents, frames, answers, refusals, histories', async () => {
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

  it('minutes in the hand are told to the crew, who plan by them, and to no guest and no Wall', async () => {
    const record = aWork({ personId: 'vera', pieceId: 'j1', date, state: 'finished', runningMinutes: 76_543 })
    const heard = await heardByAll([put('work', record)])
    const crew = ['mara', 'petra', 'vera', 'viktor']
    expect(readers.filter((reader) => heard.get(reader)?.includes('76543'))).toEqual(crew)
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
