// What is private to somebody, planted as strings and numbers that occur nowhere else, each with those whom it is meant for:
// whoever tests a way out of the lab lays these records down and looks for their texts in what came out.
import { type Change, kinds, put } from '#lib/words'
import { aLog, anEntry, aPerson, aWork } from './makers.ts'

const at = '2026-03-11T10:00:00.000Z'
const date = '2026-03-11'
/** Manager, preparator, the one they are about, another volunteer, who looks after safety, researcher, screen in the room. */
export const readers = ['mara', 'petra', 'vera', 'viktor', 'sven', 'rosa', 'wall'] as const
export type Reader = (typeof readers)[number]

/** Private to one person is what `vera` is the subject or author of. `may`: whom it reaches, by any way, and nobody else. */
export const PLANTS: readonly { readonly text: string; readonly may: readonly Reader[]; readonly change: Change }[] = [
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
    // Minutes in the hand: in no document; whom they concern asks for those of the day.
    text: '76543',
    may: ['mara', 'sven', 'vera'],
    change: put('work', aWork({ personId: 'vera', pieceId: 'j1', date, state: 'finished', runningMinutes: 76_543 })),
  },
  {
    // In no document and no answer; the manager has them in the file of the whole lab.
    text: '65432',
    may: ['mara'],
    change: put('log', aLog({ id: 'l-plant', personId: 'vera', pieceId: 'j1', date, runningMinutes: 65_432 })),
  },
  {
    text: '54321',
    may: ['mara'],
    change: put('entry', anEntry({ id: 'e-plant', pieceId: 'j1', by: 'vera', detail: { runningMinutes: 54_321 } })),
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
