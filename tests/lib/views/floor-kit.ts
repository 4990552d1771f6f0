// A small room for the Floor's tests: two benches by the window, one behind a partition with a door.
import type { Change, Lab, Person, Place, Room, Specimen, Step } from '#lib/words'
import { kinds, noRecords, put, type Records, withChanges } from '#lib/words'

export const lab: Lab = kinds.lab.parse({
  id: 'lab',
  name: 'Lab',
  zone: 'Europe/Berlin',
  jurisdiction: 'eu',
  shifts: [
    { id: 'pm', name: 'Afternoon', start: '13:15', end: '16:15', weekdays: [1, 2, 3, 4, 5] },
    { id: 'am', name: 'Morning', start: '09:30', end: '12:30', weekdays: [1, 2, 3, 4, 5] },
  ],
  techniques: [technique('needle', 4, 0), technique('scribe', 7, 45)],
  compressor: { deliveryLpm: 500, dutyPct: 60 },
  limits: { vibrationPoints: 100, noiseDba: 80, learnersPerMentor: 2, neighbourM: 1.5, basis: '' },
  weights: weights(),
  riskBelowTenths: 7,
  closed: ['2026-03-13'],
  safetyContact: '',
  isDemo: false,
  setUp: [],
})

function technique(id: string, force: number, airLpm: number) {
  return {
    id,
    name: id,
    short: id,
    force,
    needs: airLpm > 0 ? ['extraction'] : [],
    airLpm,
    runningPct: 50,
    vibrationMs2: null,
    vibrationSource: '',
    noiseDba: null,
    noiseSource: '',
    hazards: [],
    group: 'exposing',
  }
}

function weights() {
  const names = [
    'urgency',
    'gentleness',
    'sameHands',
    'learning',
    'loves',
    'fairness',
    'variety',
    'fewMoves',
    'everybody',
  ]
  return Object.fromEntries(names.map((name) => [name, 5]))
}

export const room: Room = kinds.room.parse({
  id: 'room',
  widthM: 10,
  depthM: 6,
  partitions: [{ from: { xM: 5, yM: 0 }, to: { xM: 5, yM: 6 } }],
  doors: [{ from: { xM: 5, yM: 4 }, to: { xM: 5, yM: 5 } }],
  windows: [],
  compressor: null,
  racks: [],
})

export const place = (over: Partial<Place> = {}): Place =>
  kinds.place.parse({
    id: 'm1',
    code: 'M1',
    name: 'Microscope 1',
    kind: 'microscope bench',
    xM: 1.5,
    yM: 0.6,
    widthM: 1.8,
    depthM: 1,
    rotationDeg: 0,
    seats: 1,
    features: [],
    airLines: 0,
    loadKgMax: 60,
    isExclusive: true,
    closedUntil: null,
    closedReason: '',
    note: '',
    ...over,
  })

export const person = (id: string, over: Partial<Person> = {}): Person =>
  kinds.person.parse({
    id,
    name: id,
    familyName: '',
    role: 'volunteer',
    skills: [],
    pattern: [{ weekday: 4, shiftId: 'am' }],
    exceptions: [],
    loves: [],
    since: '2020-01-01',
    isActive: true,
    hasJoined: true,
    ...over,
  })

export const specimen = (id: string, over: Partial<Specimen> = {}): Specimen =>
  kinds.specimen.parse({
    id,
    shelf: '',
    placeId: null,
    isTied: false,
    lengthM: 0.3,
    widthM: 0.2,
    heightM: 0.1,
    mass: { lowKg: 1, highKg: 3, weighedKg: null },
    note: '',
    number: id.toUpperCase(),
    catalogueNumber: '',
    name: 'Skull in block',
    jacketId: null,
    locality: '',
    horizon: '',
    stage: 'exposing',
    stageSince: '2026-01-01',
    forceCeiling: 'needle',
    ratings: { rockHardness: 2, contrast: 3, soundness: 3, breakage: 2, toExposeCm2: 10, on: '2026-01-01', by: null },
    purpose: 'research',
    side: '',
    stopLine: '',
    fragile: '',
    isPriority: false,
    ...over,
  })

export const step = (id: string, pieceId: string, techniqueId: string): Step =>
  kinds.step.parse({
    id,
    pieceId,
    techniqueId,
    title: id,
    rank: 0,
    after: [],
    hours: { lowH: 1, likelyH: 2, highH: 3 },
    state: 'waiting',
    doneMinutes: 0,
    by: [],
    peopleMin: 1,
    peopleMax: 1,
  })

export const turn = (personId: string, pieceId: string, placeId: string, over: object = {}) =>
  kinds.assignment.parse({
    id: `2026-03-12.am.${personId}`,
    date: '2026-03-12',
    shiftId: 'am',
    personId,
    pieceId,
    stepId: `${pieceId}-1`,
    placeId,
    how: 'drawn',
    by: 'maren',
    at: '2026-03-12T08:00:00Z',
    ...over,
  })

export const tick = (personId: string, state: 'in' | 'late' | 'away' | 'left', dueAt: string | null = null) =>
  put(
    'attendance',
    kinds.attendance.parse({
      id: `2026-03-12.am.${personId}`,
      personId,
      date: '2026-03-12',
      shiftId: 'am',
      state,
      dueAt,
      at: '2026-03-12T08:00:00Z',
    }),
  )

/** Lab and room, with what a test adds. */
export const records = (...changes: readonly Change[]): Records =>
  withChanges(noRecords(), [put('lab', lab), put('room', room), ...changes])

/** Thursday, 12 March 2026, in the morning shift. */
export const morning = {
  date: '2026-03-12',
  shiftId: kinds.assignment.shape.shiftId.parse('am'),
  today: '2026-03-12',
  minute: 9 * 60 + 45,
}
