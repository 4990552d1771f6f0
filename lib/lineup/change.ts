/**
 * Small changes to a day that would let somebody or something in: a seat, a line, some air, a skill. Each can be
 * applied to the problem, so that what an explanation promises can be tried.
 */
import { never } from '#lib/base'
import type { AirKind, Assignment, Forbid, Problem, ProblemPerson, ProblemPiece, ProblemPlace } from './problem.ts'

export type Change =
  | { readonly code: 'seat'; readonly place: string; readonly amount: number }
  | { readonly code: 'airLine'; readonly place: string; readonly amount: number }
  | { readonly code: 'load'; readonly place: string; readonly amount: number }
  | { readonly code: 'open'; readonly place: string; readonly shift: string }
  | { readonly code: 'air'; readonly shift: string; readonly amount: number }
  | {
      readonly code: 'level'
      readonly person: string
      readonly technique: string
      readonly from: number
      readonly to: number
    }
  | { readonly code: 'vibration' | 'noise'; readonly person: string; readonly amount: number }
  | { readonly code: 'classMinutes'; readonly person: string; readonly techniqueClass: string; readonly amount: number }
  | { readonly code: 'people' | 'turns'; readonly piece: string; readonly step: string; readonly amount: number }
  | { readonly code: 'learners'; readonly amount: number }
  | { readonly code: 'escalate'; readonly piece: string; readonly step: string }
  | { readonly code: 'untie'; readonly piece: string }
  | { readonly code: 'length'; readonly place: string; readonly amount: number }
  | { readonly code: 'fitting'; readonly place: string; readonly features: readonly string[] }
  /** A hood or cabinet that keeps in what would not mix there. */
  | { readonly code: 'keepIn'; readonly place: string; readonly kinds: readonly AirKind[] }
  | { readonly code: 'allow'; readonly turn: Omit<Assignment, 'mentor'> }
  /** One more place like this one, where a place takes one piece at a time. */
  | { readonly code: 'place'; readonly like: string; readonly id: string }
  | {
      /** Somebody more who can do that; a mentor is one at level 4 beside whom others learn. */
      readonly code: 'person' | 'mentor'
      readonly id: string
      readonly shift: string
      readonly technique: string
      readonly level: number
    }

/**
 * How small a change is, for choosing between several: what a manager can do this morning first, what takes weeks
 * (a skill) or cannot be had (another person) last.
 */
export function sizeOf(change: Change): number {
  switch (change.code) {
    case 'allow':
      return 15
    case 'seat':
    case 'airLine':
    case 'open':
      return 20
    case 'learners':
      return 25
    case 'air':
      return 30
    case 'people':
      return 35
    case 'load':
      // A few kilograms are another table; a hundredweight is another room.
      return 40 + Math.min(160, change.amount)
    case 'turns':
      return 45
    case 'classMinutes':
      return 50
    case 'escalate':
      return 55
    case 'untie':
      return 70
    case 'vibration':
    case 'noise':
      return 80
    case 'level':
      return 60 + 20 * (change.to - change.from)
    case 'mentor':
      return 75
    case 'length':
    case 'place':
    case 'fitting':
      return 150
    case 'keepIn':
      // A hood for the bench can be brought sooner than a bench of its own.
      return 130
    case 'person':
      return 200
    default:
      return never(change)
  }
}

/** The problem with all changes made. */
export const applyChanges = (problem: Problem, changes: readonly Change[]): Problem =>
  changes.reduce(applyChange, problem)

/** The problem with the change made. */
function applyChange(problem: Problem, change: Change): Problem {
  const place = (id: string, edit: (entry: ProblemPlace) => ProblemPlace): Problem => ({
    ...problem,
    places: problem.places.map((entry) => (entry.id === id ? edit(entry) : entry)),
  })
  const person = (id: string, edit: (entry: ProblemPerson) => ProblemPerson): Problem => ({
    ...problem,
    people: problem.people.map((entry) => (entry.id === id ? edit(entry) : entry)),
  })
  const more = (cap: number | null, amount: number): number | null => (cap === null ? null : cap + amount)
  switch (change.code) {
    case 'seat':
      return place(change.place, (entry) => ({ ...entry, seats: entry.seats + change.amount }))
    case 'airLine':
      return place(change.place, (entry) => ({ ...entry, airLines: entry.airLines + change.amount }))
    case 'load':
      return place(change.place, (entry) => ({ ...entry, loadKgMax: more(entry.loadKgMax, change.amount) }))
    case 'open':
      return place(change.place, (entry) => ({
        ...entry,
        isCheckOverdue: false,
        closed: entry.closed.filter((shift) => shift !== change.shift),
      }))
    case 'air':
      return {
        ...problem,
        shifts: problem.shifts.map((entry) =>
          entry.id === change.shift ? { ...entry, airLpm: entry.airLpm + change.amount } : entry,
        ),
      }
    case 'level':
      return person(change.person, (entry) => ({
        ...entry,
        levels: { ...entry.levels, [change.technique]: change.to },
      }))
    case 'vibration':
      return person(change.person, (entry) => ({
        ...entry,
        vibrationPointsLeft: more(entry.vibrationPointsLeft, change.amount),
      }))
    case 'noise':
      return person(change.person, (entry) => ({
        ...entry,
        noisePointsLeft: more(entry.noisePointsLeft, change.amount),
      }))
    case 'classMinutes':
      return person(change.person, (entry) => ({
        ...entry,
        classMinutesLeft: {
          ...entry.classMinutesLeft,
          [change.techniqueClass]: (entry.classMinutesLeft[change.techniqueClass] ?? 0) + change.amount,
        },
      }))
    case 'people':
    case 'turns':
    case 'escalate':
      return {
        ...problem,
        pieces: problem.pieces.map((entry) => (entry.id === change.piece ? stretch(entry, change) : entry)),
      }
    case 'learners':
      return { ...problem, learnersPerMentorMax: problem.learnersPerMentorMax + change.amount }
    case 'untie':
      return {
        ...problem,
        pieces: problem.pieces.map((entry) => (entry.id === change.piece ? { ...entry, tiedTo: null } : entry)),
      }
    case 'length':
      return place(change.place, (entry) => ({ ...entry, lengthCmMax: more(entry.lengthCmMax, change.amount) }))
    case 'fitting':
      return place(change.place, (entry) => ({ ...entry, features: [...entry.features, ...change.features] }))
    case 'keepIn':
      return place(change.place, (entry) => ({ ...entry, keepsIn: [...entry.keepsIn, ...change.kinds] }))
    case 'allow':
      return { ...problem, forbids: problem.forbids.filter((forbid) => !isForbiddenBy(forbid, change.turn)) }
    case 'place': {
      const twin = twinOf(problem, change)
      return twin === null ? problem : { ...problem, places: [...problem.places, twin] }
    }
    case 'person':
    case 'mentor':
      return { ...problem, people: [...problem.people, newcomer(problem, change)] }
    default:
      return never(change)
  }
}

function stretch(
  piece: ProblemPiece,
  change: Extract<Change, { readonly code: 'people' | 'turns' | 'escalate' }>,
): ProblemPiece {
  return {
    ...piece,
    steps: piece.steps.map((step) => {
      if (step.id !== change.step) return step
      if (change.code === 'escalate') return { ...step, isEscalated: true }
      return change.code === 'turns'
        ? { ...step, turnsLeft: step.turnsLeft + change.amount }
        : { ...step, people: { ...step.people, max: step.people.max + change.amount } }
    }),
  }
}

/** One more place like another, beside it; null when that one is not there. */
export function twinOf({ places }: Problem, change: Extract<Change, { readonly code: 'place' }>): ProblemPlace | null {
  const model = places.find(({ id }) => id === change.like)
  if (model === undefined) return null
  const back = places.filter(({ neighbours }) => neighbours.includes(model.id)).map(({ id }) => id)
  return { ...model, id: change.id, neighbours: [...new Set([model.id, ...model.neighbours, ...back])] }
}

/** Whether a forbid names this turn. */
export function isForbiddenBy(forbid: Forbid, turn: Omit<Assignment, 'mentor'>): boolean {
  return (
    (forbid.person ?? turn.person) === turn.person &&
    (forbid.shift ?? turn.shift) === turn.shift &&
    (forbid.piece ?? turn.piece) === turn.piece &&
    (forbid.step ?? turn.step) === turn.step &&
    (forbid.place ?? turn.place) === turn.place
  )
}

function newcomer(problem: Problem, change: Extract<Change, { readonly code: 'person' | 'mentor' }>): ProblemPerson {
  const shift = problem.shifts.find((entry) => entry.id === change.shift)
  return {
    id: change.id,
    levels: { [change.technique]: change.level },
    presence: shift === undefined ? [] : [{ shift: shift.id, from: shift.start, to: shift.end }],
    vibrationPointsLeft: null,
    noisePointsLeft: null,
    classMinutesLeft: {},
    loves: [],
    learnsNext: null,
    goodSharePercent: 50,
  }
}
