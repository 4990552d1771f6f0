// Records for tests, each complete and valid, so that a test says only what matters to it. Every maker goes through
// the record's schema: a test cannot be built on data that the gate would not let in.

import type * as z from 'zod/mini'
import {
  Assignment,
  type Change,
  Due,
  Entry,
  Escalation,
  Forbid,
  Fragment,
  Hold,
  Jacket,
  Lab,
  Log,
  noRecords,
  Person,
  Place,
  put,
  type Records,
  Room,
  type Shift,
  Specimen,
  Step,
  type Technique,
  Work,
  withChanges,
} from '#lib/words'

/** A Wednesday. */
export const TODAY = '2026-03-11'
export const TOMORROW = '2026-03-12'
/** Ten in the morning of TODAY, in UTC, the test lab's zone. */
export const NOW = '2026-03-11T10:00:00.000Z'

/** Fields as they are written down: ids plain strings. */
type In<S extends z.ZodMiniType> = Partial<z.input<S>>

const everyDay = [1, 2, 3, 4, 5, 6, 7]

export function aShift(over: Partial<z.input<typeof Shift>> = {}): z.input<typeof Shift> {
  return { id: 'morning', name: 'Morning', start: '09:00', end: '12:00', weekdays: everyDay, ...over }
}

/** A quiet hand technique that needs nothing, unless told otherwise. */
export function aTechnique(over: Partial<z.input<typeof Technique>> = {}): z.input<typeof Technique> {
  const id = over.id ?? 'needle'
  return {
    id,
    name: id,
    short: id,
    force: 4,
    needs: [],
    airLpm: 0,
    runningPct: 0,
    vibrationMs2: null,
    vibrationSource: '',
    noiseDba: null,
    noiseSource: '',
    hazards: [],
    group: 'exposing',
    ...over,
  }
}

/** An air tool of round figures: 50 l/min, half the time in the hand, 4 m/s², 84 dB(A). */
export function anAirTool(over: Partial<z.input<typeof Technique>> = {}): z.input<typeof Technique> {
  return aTechnique({
    id: 'scribe',
    force: 7,
    airLpm: 50,
    runningPct: 50,
    vibrationMs2: 4,
    noiseDba: 84,
    hazards: ['vibration', 'noise', 'dust'],
    ...over,
  })
}

/** Morning and afternoon; brush, needle, scribe and joining; 100 l/min for all. */
export function aLab(over: In<typeof Lab> = {}) {
  return Lab.parse({
    id: 'lab',
    name: 'A lab',
    zone: 'UTC',
    jurisdiction: 'eu',
    shifts: [aShift(), aShift({ id: 'afternoon', name: 'Afternoon', start: '13:00', end: '16:00' })],
    techniques: [
      aTechnique({ id: 'brush', force: 1 }),
      aTechnique(),
      anAirTool(),
      aTechnique({ id: 'joining', force: null, group: 'joining' }),
    ],
    induction: [],
    paths: [],
    compressor: { deliveryLpm: 200, dutyPct: 50 },
    limits: { vibrationPoints: 100, noiseDba: 85, learnersPerMentor: 2, neighbourM: 1, basis: '' },
    weights: {
      urgency: 5,
      gentleness: 5,
      sameHands: 5,
      learning: 5,
      loves: 5,
      fairness: 5,
      variety: 5,
      fewMoves: 5,
      everybody: 5,
    },
    riskBelowTenths: 5,
    closed: [],
    safetyContact: '',
    isDemo: false,
    setUp: [],
    ...over,
  })
}

export function aRoom(over: In<typeof Room> = {}) {
  return Room.parse({
    id: 'room',
    widthM: 10,
    depthM: 8,
    partitions: [],
    doors: [],
    windows: [],
    compressor: null,
    racks: [],
    ...over,
  })
}

/** A bench of one square metre with two seats and air, far from nowhere. */
export function aPlace(over: In<typeof Place> = {}) {
  const id = over.id ?? 'b1'
  return Place.parse({
    id,
    code: id.slice(0, 6),
    name: `Bench ${id}`,
    kind: 'bench',
    xM: 1,
    yM: 1,
    widthM: 1,
    depthM: 1,
    rotationDeg: 0,
    seats: 2,
    features: [],
    airLines: 2,
    loadKgMax: 500,
    isExclusive: false,
    isInView: false,
    closedUntil: null,
    closedReason: '',
    note: '',
    ...over,
  })
}

/** A skill as it is signed off: `skilled({ needle: 2 })`. */
export function skilled(levels: Readonly<Record<string, number>>, expiresOn: string | null = null) {
  return Object.entries(levels).map(([techniqueId, level]) => ({
    techniqueId,
    level,
    by: null,
    on: '2025-01-01',
    expiresOn,
  }))
}

/** A volunteer who works alone with brush and needle. */
export function aPerson(over: In<typeof Person> = {}) {
  const id = over.id ?? 'ana'
  return Person.parse({
    id,
    name: id,
    familyName: '',
    role: 'volunteer',
    skills: skilled({ brush: 2, needle: 2 }),
    pattern: [],
    exceptions: [],
    loves: [],
    spells: [],
    inducted: [],
    since: '2025-01-01',
    isActive: true,
    hasJoined: true,
    ...over,
  })
}

const lying = {
  shelf: 'rack 1',
  placeId: null,
  isTied: false,
  lengthM: 0.5,
  widthM: 0.4,
  heightM: 0.3,
  mass: { lowKg: 20, highKg: 40, weighedKg: null },
  note: '',
}

export function aJacket(over: In<typeof Jacket> = {}) {
  const id = over.id ?? 'jacket1'
  return Jacket.parse({
    id,
    ...lying,
    fieldNumber: `F-${id}`,
    contents: '',
    container: 'jacket',
    state: 'sealed',
    partOf: null,
    locality: '',
    horizon: '',
    collector: '',
    collectedOn: null,
    rockHardness: 3,
    hazards: [],
    isInSeason: true,
    ...over,
  })
}

/** A specimen that may be worked up to the needle. */
export function aSpecimen(over: In<typeof Specimen> = {}) {
  const id = over.id ?? 'skull'
  return Specimen.parse({
    id,
    ...lying,
    number: `N-${id}`,
    catalogueNumber: '',
    name: id,
    jacketId: null,
    locality: '',
    horizon: '',
    stage: 'exposing',
    stageSince: '2026-01-01',
    forceCeiling: 'needle',
    ratings: {
      rockHardness: 3,
      contrast: 3,
      soundness: 3,
      breakage: 3,
      toExposeCm2: 100,
      on: '2026-01-01',
      by: null,
    },
    purpose: 'research',
    side: '',
    stopLine: '',
    fragile: '',
    isPriority: false,
    ...over,
  })
}

/** A waiting step of needle work on the skull. */
export function aStep(over: In<typeof Step> = {}) {
  const pieceId = over.pieceId ?? 'skull'
  return Step.parse({
    id: `${pieceId}-1`,
    pieceId,
    techniqueId: 'needle',
    title: 'Expose',
    rank: 1,
    after: [],
    hours: { lowH: 5, likelyH: 10, highH: 20 },
    state: 'waiting',
    doneMinutes: 0,
    by: [],
    peopleMin: 1,
    peopleMax: 1,
    ...over,
  })
}

/** Ana with the needle at the skull on bench b1, this morning. */
export function aTurn(over: In<typeof Assignment> = {}) {
  const turn = {
    date: TODAY,
    shiftId: 'morning',
    personId: 'ana',
    pieceId: 'skull',
    placeId: 'b1',
    how: 'drawn' as const,
    by: 'mira',
    at: NOW,
    ...over,
  }
  return Assignment.parse({
    id: `${turn.date}.${turn.shiftId}.${turn.personId}`,
    stepId: `${turn.pieceId}-1`,
    ...turn,
  })
}

/** Ana's work on that turn, running since nine. */
export function aWork(over: In<typeof Work> = {}) {
  const pieceId = over.pieceId ?? 'skull'
  return Work.parse({
    id: 'work1',
    personId: 'ana',
    pieceId,
    stepId: `${pieceId}-1`,
    placeId: 'b1',
    techniqueId: 'needle',
    date: TODAY,
    shiftId: 'morning',
    state: 'running',
    startedAt: '2026-03-11T09:00:00.000Z',
    since: over.state === undefined || over.state === 'running' ? '2026-03-11T09:00:00.000Z' : null,
    minutes: 0,
    runningMinutes: 0,
    ...over,
  })
}

export function aLog(over: In<typeof Log> = {}) {
  return Log.parse({
    id: 'log1',
    pieceId: 'skull',
    stepId: 'skull-1',
    personId: 'ana',
    placeId: 'b1',
    techniqueId: 'needle',
    date: TODAY,
    shiftId: 'morning',
    startedAt: '2026-03-11T09:00:00.000Z',
    finishedAt: NOW,
    minutes: 60,
    runningMinutes: 0,
    note: '',
    corrects: null,
    ...over,
  })
}

export function anEntry(over: In<typeof Entry> = {}) {
  return Entry.parse({
    id: 'entry1',
    pieceId: 'skull',
    by: 'ana',
    at: NOW,
    kind: 'note',
    techniqueId: null,
    text: 'a crack',
    corrects: null,
    ...over,
  })
}

export function aFragment(over: In<typeof Fragment> = {}) {
  return Fragment.parse({
    id: `f${over.number ?? 1}`,
    pieceId: 'skull',
    number: 1,
    thicknessMm: 6.5,
    texture: 3,
    shade: 4,
    surface: 'smooth',
    edges: [{ lengthMm: 24, thicknessMm: 6.4, profile: 'straight' }],
    note: '',
    isGone: false,
    by: 'ana',
    at: NOW,
    ...over,
  })
}

export function anEscalation(over: In<typeof Escalation> = {}) {
  return Escalation.parse({
    id: 'esc1',
    pieceId: 'skull',
    techniqueId: 'scribe',
    testPatch: 'left side',
    reason: 'hard rock',
    by: 'mira',
    at: NOW,
    endedAt: null,
    ...over,
  })
}

export function aDue(over: In<typeof Due> = {}) {
  return Due.parse({
    id: 'due1',
    pieceId: 'skull',
    date: '2026-05-01',
    kind: 'exhibit',
    isHard: true,
    state: 'accepted',
    by: 'mira',
    note: '',
    ...over,
  })
}

export function aHold(over: In<typeof Hold> = {}) {
  const { id, date, shiftId, personId, pieceId, stepId, placeId } = aTurn(over)
  return Hold.parse({ id, date, shiftId, personId, pieceId, stepId, placeId })
}

export function aForbid(over: In<typeof Forbid> = {}) {
  return Forbid.parse({
    id: 'forbid1',
    date: null,
    personId: 'ana',
    pieceId: null,
    placeId: null,
    withPersonId: null,
    ...over,
  })
}

/** Records made of changes: `recordsOf(put('lab', aLab()), …)`. */
export function recordsOf(...changes: Change[]): Records {
  return withChanges(noRecords(), changes)
}

/**
 * A small lab at work: Mira manages, Pia prepares, Ana and Ben volunteer, Leo learns needle work, Rex researches;
 * benches b1 and b2 side by side, the microscope m1 far off; a skull, a rib, a jacket. `more` is laid over it.
 */
export function aSmallLab(...more: Change[]): Records {
  return recordsOf(
    put('lab', aLab()),
    put('room', aRoom()),
    put('place', aPlace({ id: 'b1', xM: 1, yM: 1 })),
    put('place', aPlace({ id: 'b2', xM: 2.5, yM: 1 })),
    put('place', aPlace({ id: 'm1', xM: 8, yM: 6, seats: 1, isExclusive: true, features: ['microscope'] })),
    put('person', aPerson({ id: 'mira', role: 'manager', skills: skilled({ needle: 4, scribe: 3 }) })),
    put('person', aPerson({ id: 'pia', role: 'preparator', skills: skilled({ needle: 4, scribe: 4, brush: 4 }) })),
    put('person', aPerson({ id: 'ana' })),
    put('person', aPerson({ id: 'ben', skills: skilled({ needle: 3, scribe: 2, joining: 2 }) })),
    put('person', aPerson({ id: 'leo', skills: skilled({ needle: 1 }) })),
    put('person', aPerson({ id: 'rex', role: 'researcher', skills: [] })),
    put('specimen', aSpecimen()),
    put('specimen', aSpecimen({ id: 'rib', forceCeiling: 'scribe' })),
    put('jacket', aJacket()),
    put('step', aStep()),
    put('step', aStep({ id: 'skull-2', rank: 2, techniqueId: 'joining', after: ['skull-1'] })),
    put('step', aStep({ id: 'rib-1', pieceId: 'rib', techniqueId: 'scribe' })),
    put('step', aStep({ id: 'jacket1-1', pieceId: 'jacket1', techniqueId: 'brush' })),
    ...more,
  )
}
