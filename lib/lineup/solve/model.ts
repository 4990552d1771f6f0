/**
 * The day problem as integer tables. People, shifts, places and pieces become indices in the order of their ids
 * (shifts in the order of the day), so that the order of the lists cannot change an answer. A *job* is one step of
 * one piece, a *seat* of the tables `turn` is person × shifts + shift, a *group* is piece × shifts + shift.
 *
 * Whatever can be decided once is decided here: who may do which job, where, and what a turn is worth.
 */
import { at } from '#lib/base'
import type { Assignment, MustRef, Problem, ProblemStep } from '../problem.ts'

/** One must as indices; `turn` is -1 for a clock, `job` and `place` are -1 when any will do. */
export interface Must {
  readonly ref: MustRef
  readonly turn: number
  readonly group: number
  readonly job: number
  readonly place: number
  readonly minute: number
}

/** A forbid that names a place and so cannot be settled when values are tabled; -1 matches everything. */
export interface PlaceForbid {
  readonly person: number
  readonly shift: number
  readonly piece: number
  readonly job: number
  readonly place: number
}

export interface Model {
  readonly problem: Problem
  readonly personIds: readonly string[]
  readonly shiftIds: readonly string[]
  readonly placeIds: readonly string[]
  readonly pieceIds: readonly string[]
  readonly steps: readonly ProblemStep[]
  readonly persons: number
  readonly shifts: number
  readonly places: number
  readonly pieces: number
  readonly jobs: number
  readonly techniques: number
  readonly classes: number
  /** Minutes a person is in during a shift, by turn. */
  readonly minutes: Int32Array
  readonly quarters: Int32Array
  readonly from: Int32Array
  readonly to: Int32Array
  /** Level by person × techniques + technique. */
  readonly levels: Int32Array
  /** Caps left; a cap that does not exist is NO_CAP. */
  readonly vibrationLeft: Int32Array
  readonly noiseLeft: Int32Array
  readonly classLeft: Int32Array
  readonly airCap: Int32Array
  readonly seats: Int32Array
  readonly airLines: Int32Array
  readonly loadCap: Int32Array
  /** 1 where place × shifts + shift is closed. */
  readonly closed: Int32Array
  /** 1 where a mentor at the first place reaches the second. */
  readonly near: Int32Array
  readonly mass: Int32Array
  readonly standsAt: Int32Array
  readonly moveCost: Int32Array
  /** Job tables. */
  readonly jobPiece: Int32Array
  readonly jobTechnique: Int32Array
  readonly jobClass: Int32Array
  readonly jobMin: Int32Array
  readonly jobMax: Int32Array
  readonly jobAir: Int32Array
  readonly jobTurns: Int32Array
  /** Vibration and noise points per hour, already times trigger percent (so in hundredths). */
  readonly jobVibration: Int32Array
  readonly jobNoise: Int32Array
  readonly firstJob: Int32Array
  /** Places that suit a job, as slices of one list. */
  readonly jobPlaces: Int32Array
  readonly jobPlacesStart: Int32Array
  /** 1 at job × places + place where the place suits. */
  readonly suits: Int32Array
  /** Places in reach of a place, itself first, as slices of one list. */
  readonly reach: Int32Array
  readonly reachStart: Int32Array
  /** 1 where piece × places + place counts as exclusive use. */
  readonly exclusive: Int32Array
  /** What a job gives off into the room at a place, at job × places + place: 0 nothing, 1 dust, 2 solvent. */
  readonly givesOff: Int32Array
  /** Marks of a turn at turn × jobs + job, -1 where it may not be. */
  readonly value: Int32Array
  /** 1 at turn × jobs + job where the person would be a learner. */
  readonly learner: Int32Array
  readonly stayValue: number
  readonly mentorMax: number
  /** Jobs a turn may go to, as slices of one list. */
  readonly options: Int32Array
  readonly optionsStart: Int32Array
  readonly musts: readonly Must[]
  readonly mustsOfTurn: readonly (readonly Must[])[]
  readonly clocksOfGroup: ReadonlyMap<number, readonly Must[]>
  readonly placeForbids: readonly PlaceForbid[]
  readonly posted: readonly Assignment[]
}

/** Stands for a cap that does not exist; far above any sum of a day. */
export const NO_CAP = 1_000_000_000

/** Worth of a kept must: above every sum of marks (checked), so that musts come first, then marks. */
export const MUST_MARKS = 2 ** 36

/** Points of a turn that runs a tool: hundredths of points per hour times minutes, rounded up. */
export function exposure(hundredthsPerHour: number, minutes: number): number {
  return Math.ceil((hundredthsPerHour * minutes) / 6000)
}

/** Whether a turn on a job may be at a place, as far as closing, forbids and the job itself say. */
export function mayBeAt(model: Model, turn: number, job: number, place: number): boolean {
  const shift = turn % model.shifts
  if (at(model.closed, place * model.shifts + shift) === 1) return false
  for (const forbid of model.placeForbids) {
    if (
      forbid.place === place &&
      forbid.job === job &&
      (forbid.shift === -1 || forbid.shift === shift) &&
      (forbid.person === -1 || forbid.person === Math.floor(turn / model.shifts))
    ) {
      return false
    }
  }
  return true
}
