/**
 * A small day in full, for people who write problems by hand and for tests: three people, two shifts, a skull in
 * needle work with a date, a jacket to open and another that needs three helpers to turn, a learner and a hold.
 */
import { type Problem, problemSchema } from './problem.ts'

/** The example that `solve -- day --example` prints. */
export function exampleProblem(): Problem {
  return problemSchema.parse({
    shifts: [
      { id: 'morning', start: 570, end: 750, airLpm: 120 },
      { id: 'afternoon', start: 810, end: 990, airLpm: 120 },
    ],
    people: [
      {
        id: 'ines',
        levels: { needle: 4, fineScribe: 4, opening: 4, turning: 4, housing: 3 },
        presence: [
          { shift: 'morning', from: 570, to: 750 },
          { shift: 'afternoon', from: 810, to: 990 },
        ],
        vibrationPointsLeft: 100,
        noisePointsLeft: 100,
      },
      {
        id: 'odo',
        levels: { needle: 1, opening: 2, turning: 2, housing: 2 },
        presence: [{ shift: 'morning', from: 585, to: 750 }],
        loves: ['needle'],
        goodSharePercent: 30,
      },
      {
        id: 'pia',
        levels: { needle: 3, turning: 2, opening: 3, housing: 2 },
        presence: [
          { shift: 'morning', from: 570, to: 750 },
          { shift: 'afternoon', from: 810, to: 990 },
        ],
        classMinutesLeft: { scope: 240 },
      },
    ],
    places: [
      {
        id: 'scope1',
        kind: 'scope',
        features: ['scope'],
        seats: 1,
        isExclusive: true,
        loadKgMax: 15,
        neighbours: ['scope2'],
      },
      { id: 'scope2', kind: 'scope', features: ['scope'], seats: 1, isExclusive: true, loadKgMax: 15 },
      { id: 'bay', kind: 'bay', features: ['bench', 'hoist', 'extraction'], seats: 4, airLines: 2 },
      { id: 'table', kind: 'table', features: ['bench'], seats: 2, loadKgMax: 60, closed: ['afternoon'] },
    ],
    pieces: [
      {
        id: 'skull',
        kind: 'specimen',
        ceiling: 4,
        massKg: 6,
        lengthCm: 40,
        at: 'scope2',
        urgencyPercent: 80,
        isDelicate: true,
        isExclusive: true,
        appealPercent: 90,
        hands: [{ person: 'pia', turns: 4 }],
        steps: [
          {
            id: 'roof',
            technique: 'needle',
            techniqueClass: 'scope',
            force: 3,
            level: 3,
            turnsLeft: 6,
            features: ['scope'],
          },
        ],
      },
      {
        id: 'ribs',
        kind: 'specimen',
        ceiling: 6,
        massKg: 9,
        lengthCm: 50,
        at: 'scope1',
        hands: [{ person: 'ines', turns: 1 }],
        steps: [
          { id: 'clean', technique: 'needle', techniqueClass: 'scope', force: 3, turnsLeft: 4, features: ['scope'] },
          {
            id: 'coarse',
            technique: 'fineScribe',
            force: 6,
            turnsLeft: 2,
            features: ['extraction'],
            airLpm: 40,
            vibrationPerHour: 18,
            noisePerHour: 12,
            triggerPercent: 50,
          },
        ],
      },
      {
        id: 'J-14',
        kind: 'jacket',
        ceiling: 8,
        massKg: 180,
        lengthCm: 110,
        tiedTo: 'bay',
        at: 'bay',
        isExclusive: true,
        moveCostPercent: 90,
        steps: [
          { id: 'open', technique: 'opening', turnsLeft: 4, features: ['bench'], people: { min: 1, max: 2 } },
          { id: 'turn', technique: 'turning', turnsLeft: 3, features: ['hoist'], people: { min: 3, max: 4 } },
        ],
      },
      {
        id: 'jaw',
        kind: 'specimen',
        ceiling: 2,
        massKg: 2,
        lengthCm: 20,
        appealPercent: 30,
        steps: [{ id: 'cradle', technique: 'housing', turnsLeft: 2, features: ['bench'], neglectPercent: 70 }],
      },
    ],
    holds: [{ person: 'ines', shift: 'morning', piece: 'ribs', step: 'clean' }],
    learnersPerMentorMax: 2,
  })
}
