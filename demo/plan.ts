// What the demo plans for one piece: its steps, how much of each is done by today, and in which weeks.
import { type Dice, type Draft, round2 } from './dice.ts'

export interface PlannedStep {
  readonly step: Draft<'step'>
  /** Minutes of work to be done by today. */
  readonly wantMinutes: number
  /** Whether those minutes finish the step. */
  readonly isFinal: boolean
  /** Whether somebody may have begun or gone on with it in the last days, beyond those minutes. */
  readonly mayBegin: boolean
}

/** One piece with its work of the year. */
export interface Project {
  readonly id: string
  readonly number: string
  readonly jacket: Draft<'jacket'> | null
  readonly specimen: Draft<'specimen'> | null
  readonly steps: readonly PlannedStep[]
  /** First and last day of work, ISO; worked on to this day when `to` is yesterday. */
  readonly from: string
  readonly to: string
  /** True for what is too heavy to move once work on it has begun. */
  readonly isTied: boolean
  /** The piece whose opening comes first. */
  readonly waitsForId: string | null
}

/** An ellipsoid and a box bracket the truth. */
export function massOf(lengthM: number, widthM: number, heightM: number, densityKgM3: number) {
  const boxKg = lengthM * widthM * heightM * densityKgM3
  return { lowKg: round2((boxKg * Math.PI) / 6), highKg: round2(boxKg), weighedKg: null }
}

/** A shelf for a piece of that weight. */
export const shelfFor = (massKg: number, chance: Dice): string =>
  massKg > 150 ? 'floor pallet' : `rack ${chance.between(1, 4)}, shelf ${chance.pick(['a', 'b', 'c'])}`

/** A step nobody has begun, with its usual uncertainty. */
export function stepOf(
  pieceId: string,
  index: number,
  technique: string,
  title: string,
  likelyH: number,
): Draft<'step'> {
  const likely = Math.max(0.5, Math.round(likelyH * 2) / 2)
  return {
    id: `${pieceId}-s${index + 1}`,
    pieceId,
    techniqueId: technique,
    title,
    rank: (index + 1) * 10,
    after: [],
    hours: { lowH: round2(likely * 0.6), likelyH: likely, highH: round2(likely * 1.9) },
    state: 'waiting',
    doneMinutes: 0,
    by: [],
    peopleMin: 1,
    peopleMax: 1,
  }
}

/** A step with nothing done yet. */
export const waiting = (step: Draft<'step'>): PlannedStep => ({ step, wantMinutes: 0, isFinal: false, mayBegin: false })

/** Whole minutes in steps of five, never none. */
export const minutesOf = (hours: number): number => Math.max(30, Math.round((hours * 60) / 5) * 5)
