// Random small labs for the season's properties: every field that a season hangs on takes odd values now and then. Made
// from a few records that passed their schemas, changed in plain fields, since ten thousand of them are wanted.
import { addDays, type Random, seededRandom } from '#lib/base'
import { noRecords, type RecordOf, type Records } from '#lib/words'
import {
  aDue,
  aJacket,
  aLab,
  anAirTool,
  aPerson,
  aPlace,
  aSpecimen,
  aStep,
  aTechnique,
  skilled,
} from '../../kit/makers.ts'

export const FROM = '2026-03-11'
export const WEEKS = 6

const lab = aLab({
  techniques: [
    aTechnique({ id: 'brush', force: 1 }),
    aTechnique({ id: 'needle', force: 4, needs: ['microscope'], hazards: ['sharp'] }),
    anAirTool({ id: 'scribe', needs: ['air line'] }),
    aTechnique({ id: 'resin', force: null, group: 'consolidating', hazards: ['solvent'], needs: ['extraction'] }),
    aTechnique({ id: 'joining', force: null, group: 'joining', hazards: ['solvent'] }),
    aTechnique({ id: 'acid', force: 5, needs: ['acid tank'], hazards: ['acid'] }),
    aTechnique({ id: 'opening', force: null, group: 'opening' }),
  ],
})
const techniques = lab.techniques.map(({ id }) => id)
const person = aPerson()
const place = aPlace()
const specimen = aSpecimen()
const jacket = aJacket()
const step = aStep()
const due = aDue()
const features = ['microscope', 'air line', 'extraction', 'acid tank'] as const

/** The lab of a seed. */
export function randomSeason(seed: number): Records {
  const random = seededRandom(seed)
  const records = {
    ...noRecords(),
    lab: new Map([['lab', randomLab(random)]]),
    person: byId(many(random, 1, 6, (i) => randomPerson(random, i))),
    place: byId(many(random, 1, 5, (i) => randomPlace(random, i))),
  }
  const placeIds = [...records.place.keys()]
  const pieces = many(random, 1, 6, (i) => randomPiece(random, i, placeIds))
  const steps = pieces.flatMap((piece) => randomSteps(random, piece.id))
  const dues = pieces.flatMap((piece) =>
    random.below(3) === 0
      ? []
      : [
          {
            ...due,
            id: `due-${piece.id}`,
            pieceId: piece.id,
            date: addDays(FROM, random.below(50) - 3),
            isHard: random.below(2) === 0,
            state: random.below(4) === 0 ? 'asked' : 'accepted',
          },
        ],
  )
  // Branded ids and unions: the values are as the schemas want them.
  return {
    ...records,
    specimen: byId(pieces.filter((piece) => 'stage' in piece)),
    jacket: byId(pieces.filter((piece) => !('stage' in piece))),
    step: byId(steps),
    due: byId(dues),
  } as unknown as Records
}

const byId = <T extends { readonly id: string }>(list: readonly T[]): Map<string, T> =>
  new Map(list.map((one) => [one.id, one]))

function many<T>(random: Random, least: number, most: number, make: (index: number) => T): T[] {
  return Array.from({ length: least + random.below(most - least + 1) }, (_, i) => make(i))
}

const pick = <T>(random: Random, list: readonly T[]): T => {
  const one = list[random.below(list.length)]
  if (one === undefined) throw new Error('an empty list')
  return one
}

function randomLab(random: Random): RecordOf<'lab'> {
  return {
    ...lab,
    shifts: lab.shifts.map((shift) => ({
      ...shift,
      weekdays: [1, 2, 3, 4, 5, 6, 7].filter(() => random.below(5) > 0),
    })),
    compressor: { deliveryLpm: 60 * random.below(5), dutyPct: 100 },
    closed: many(random, 0, 4, () => addDays(FROM, random.below(WEEKS * 7))),
    limits: { ...lab.limits, vibrationPoints: pick(random, [40, 100]), noiseDba: pick(random, [80, 85]) },
  }
}

function randomPerson(random: Random, index: number) {
  const levels = Object.fromEntries(techniques.map((id) => [id, random.below(5)]))
  return {
    ...person,
    id: `p${index}`,
    skills: skilled(levels),
    pattern: [1, 2, 3, 4, 5, 6, 7].flatMap((weekday) =>
      ['morning', 'afternoon'].filter(() => random.below(3) === 0).map((shiftId) => ({ weekday, shiftId })),
    ),
    exceptions: many(random, 0, 4, () => ({
      date: addDays(FROM, random.below(WEEKS * 7)),
      shiftId: pick(random, [null, 'morning', 'afternoon']),
      kind: pick(random, ['away', 'extra'] as const),
    })),
    isActive: random.below(12) > 0,
  }
}

function randomPlace(random: Random, index: number) {
  return {
    ...place,
    id: `b${index}`,
    xM: 1 + index * 2,
    seats: random.below(4),
    features: features.filter(() => random.below(2) === 0),
    airLines: random.below(3),
    isExclusive: random.below(2) === 0,
    loadKgMax: pick(random, [50, 90, 500]),
    closedUntil: random.below(5) === 0 ? addDays(FROM, random.below(20)) : null,
  }
}

function randomPiece(random: Random, index: number, placeIds: readonly string[]) {
  const isTied = random.below(8) === 0
  const lying = {
    placeId: isTied || random.below(3) === 0 ? pick(random, placeIds) : null,
    isTied,
    mass: { lowKg: 10, highKg: pick(random, [20, 45, 120]), weighedKg: null },
    lengthM: pick(random, [0.3, 0.8, 1.5]),
  }
  return random.below(4) === 0
    ? { ...jacket, ...lying, id: `j${index}`, state: pick(random, ['sealed', 'opened'] as const) }
    : {
        ...specimen,
        ...lying,
        id: `s${index}`,
        isPriority: random.below(4) === 0,
        forceCeiling: pick(random, ['brush', 'acid', 'scribe']),
        jacketId: random.below(3) === 0 ? 'j0' : null,
      }
}

function randomSteps(random: Random, pieceId: string) {
  const count = 1 + random.below(5)
  return Array.from({ length: count }, (_, i) => {
    const peopleMin = random.below(8) === 0 ? 2 : 1
    return {
      ...step,
      id: `${pieceId}-${i}`,
      pieceId,
      rank: i,
      techniqueId: pick(random, techniques),
      after: Array.from({ length: i }, (_, before) => `${pieceId}-${before}`).filter(() => random.below(2) === 0),
      hours: pick(random, [
        { lowH: 1, likelyH: 2, highH: 4 },
        { lowH: 5, likelyH: 9, highH: 20 },
        { lowH: 0, likelyH: 0, highH: 0 },
      ]),
      state: pick(random, ['waiting', 'waiting', 'waiting', 'begun', 'done'] as const),
      doneMinutes: random.below(3) === 0 ? 60 : 0,
      peopleMin,
      peopleMax: peopleMin + random.below(3),
    }
  })
}
