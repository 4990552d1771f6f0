/**
 * What may be chosen, seen from the pieces: for each job and shift (a *cell*) who could work on it (its crew) and
 * where (its sites). The bound prices people and places and asks each piece what it would do; the proof tries parts
 * of a field, which have the same form with fewer crew and sites.
 */
import { at } from '#lib/base'
import { exposure, type Model, mayBeAt } from '../solve/model.ts'

const PLAIN = 0
export const LEARNS = 1
export const LEADS = 2

export interface Field {
  readonly model: Model
  /** Cells that have crew and sites, by piece: `pieceStart` slices `cells`. A cell is job × shifts + shift. */
  readonly cells: Int32Array
  readonly pieceStart: Int32Array
  /** Crew of the i-th cell, by person: slices of the tables below. */
  readonly crewStart: Int32Array
  readonly crewTurn: Int32Array
  readonly crewMarks: Int32Array
  /** PLAIN, LEARNS beside a mentor, or LEADS: level 4 in something and able to mentor from this work. */
  readonly crewKind: Int32Array
  /** What the turn takes of its person's caps. */
  readonly crewVibration: Int32Array
  readonly crewNoise: Int32Array
  readonly crewMinutes: Int32Array
  /** Sites of the i-th cell, by place. */
  readonly siteStart: Int32Array
  readonly sitePlace: Int32Array
  /** Most people of the job at once there. */
  readonly siteMost: Int32Array
  /** What bringing the piece there costs. */
  readonly siteMove: Int32Array
}

export interface Choice {
  /** Whether a turn may go to a job; everything may when left out. */
  readonly mayDo?: (turn: number, job: number) => boolean
  /** Whether a piece may be at a place in a shift. */
  readonly mayStand?: (piece: number, shift: number, place: number) => boolean
}

/** The whole day as a field, or the part of it that a choice leaves. */
export function fieldOf(model: Model, { mayDo, mayStand }: Choice = {}): Field {
  const { persons: P, shifts: S, techniques: T } = model
  const isMentor = new Int32Array(P)
  for (let i = 0; i < P * T; i++) if (at(model.levels, i) >= 4) isMentor[Math.floor(i / T)] = 1
  const crews = crewsByCell(model)
  const cells: number[] = []
  const pieceStart = new Int32Array(model.pieces + 1)
  const crewStart: number[] = [0]
  const crew = { turn: [] as number[], marks: [] as number[], kind: [] as number[] }
  const load = { vibration: [] as number[], noise: [] as number[], minutes: [] as number[] }
  const siteStart: number[] = [0]
  const site = { place: [] as number[], most: [] as number[], move: [] as number[] }
  for (let piece = 0; piece < model.pieces; piece++) {
    pieceStart[piece] = cells.length
    for (let job = at(model.firstJob, piece); job < at(model.firstJob, piece + 1); job++) {
      const least = at(model.jobMin, job)
      for (let s = 0; s < S; s++) {
        const cell = job * S + s
        const places = sitesOf(model, job, s).filter((place) => mayStand?.(piece, s, place) !== false)
        const turns = crews(cell).filter((turn) => isAlonePossible(model, turn, job) && mayDo?.(turn, job) !== false)
        if (places.length === 0 || turns.length < least) continue
        for (const place of places) {
          const stands = at(model.standsAt, piece)
          site.place.push(place)
          site.most.push(crewMost(model, job, place))
          site.move.push(stands >= 0 && stands !== place ? at(model.moveCost, piece) : 0)
        }
        for (const turn of turns) {
          const person = Math.floor(turn / S)
          const learns = at(model.learner, turn * model.jobs + job) === 1
          const minutes = at(model.minutes, turn)
          crew.turn.push(turn)
          crew.marks.push(at(model.value, turn * model.jobs + job))
          crew.kind.push(learns ? LEARNS : at(isMentor, person) === 1 && least <= 1 ? LEADS : PLAIN)
          load.vibration.push(exposure(at(model.jobVibration, job), minutes))
          load.noise.push(exposure(at(model.jobNoise, job), minutes))
          load.minutes.push(at(model.jobClass, job) >= 0 ? minutes : 0)
        }
        cells.push(cell)
        crewStart.push(crew.turn.length)
        siteStart.push(site.place.length)
      }
    }
  }
  pieceStart[model.pieces] = cells.length
  return {
    model,
    cells: Int32Array.from(cells),
    pieceStart,
    crewStart: Int32Array.from(crewStart),
    crewTurn: Int32Array.from(crew.turn),
    crewMarks: Int32Array.from(crew.marks),
    crewKind: Int32Array.from(crew.kind),
    crewVibration: Int32Array.from(load.vibration),
    crewNoise: Int32Array.from(load.noise),
    crewMinutes: Int32Array.from(load.minutes),
    siteStart: Int32Array.from(siteStart),
    sitePlace: Int32Array.from(site.place),
    siteMost: Int32Array.from(site.most),
    siteMove: Int32Array.from(site.move),
  }
}

/** Turns that may go to each cell, from the model's options by turn. */
function crewsByCell(model: Model): (cell: number) => number[] {
  const { persons: P, shifts: S, jobs: J } = model
  const start = new Int32Array(J * S + 1)
  const each = (visit: (cell: number, turn: number) => void): void => {
    for (let turn = 0; turn < P * S; turn++) {
      for (let o = at(model.optionsStart, turn); o < at(model.optionsStart, turn + 1); o++) {
        visit(at(model.options, o) * S + (turn % S), turn)
      }
    }
  }
  each((cell) => {
    start[cell + 1] = at(start, cell + 1) + 1
  })
  for (let cell = 0; cell < J * S; cell++) start[cell + 1] = at(start, cell + 1) + at(start, cell)
  const next = Int32Array.from(start)
  const turns = new Int32Array(model.options.length)
  each((cell, turn) => {
    turns[at(next, cell)] = turn
    next[cell] = at(next, cell) + 1
  })
  return (cell) => [...turns.subarray(at(start, cell), at(start, cell + 1))]
}

/** Places open to a job in a shift; what only some people may not is left to others. */
function sitesOf(model: Model, job: number, shift: number): number[] {
  const places: number[] = []
  for (let i = at(model.jobPlacesStart, job); i < at(model.jobPlacesStart, job + 1); i++) {
    const place = at(model.jobPlaces, i)
    if (at(model.closed, place * model.shifts + shift) === 1) continue
    if (crewMost(model, job, place) >= at(model.jobMin, job)) places.push(place)
  }
  return places
}

/** How many people of a job can be at a place at once. */
function crewMost(model: Model, job: number, place: number): number {
  const lines = at(model.jobAir, job) > 0 ? at(model.airLines, place) : Number.POSITIVE_INFINITY
  return Math.min(at(model.jobMax, job), at(model.jobTurns, job), at(model.seats, place), lines)
}

/** Whether a turn could go to a job if nobody else were there: caps, air, and a place that is not forbidden. */
function isAlonePossible(model: Model, turn: number, job: number): boolean {
  const person = Math.floor(turn / model.shifts)
  const minutes = at(model.minutes, turn)
  if (exposure(at(model.jobVibration, job), minutes) > at(model.vibrationLeft, person)) return false
  if (exposure(at(model.jobNoise, job), minutes) > at(model.noiseLeft, person)) return false
  const kind = at(model.jobClass, job)
  if (kind >= 0 && minutes > at(model.classLeft, person * model.classes + kind)) return false
  if (at(model.jobAir, job) * at(model.jobMin, job) > at(model.airCap, turn % model.shifts)) return false
  if (model.placeForbids.length === 0) return true
  for (let i = at(model.jobPlacesStart, job); i < at(model.jobPlacesStart, job + 1); i++) {
    if (mayBeAt(model, turn, job, at(model.jobPlaces, i))) return true
  }
  return false
}
