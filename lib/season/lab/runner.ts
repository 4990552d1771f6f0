/** What changes while a future runs: one set of tables, used again for every future of a season on one thread. */
import { at } from '#lib/base'
import { HANDS, type LabModel } from './model.ts'
import { firstSteps, type Order } from './order.ts'
import { type Rosters, rostersOf } from './roster.ts'

export interface Runner {
  // Results.
  /** Day on which each piece is ready; -1: not within the season. */
  readonly finishDay: Int32Array
  /** Day of its first half-day of work; -1: none. */
  readonly beginDay: Int32Array

  // Pieces and steps, a row of columns each, so that all of one lies in one or two lines of the processor's cache.
  /** Rows by bit of the order (Order.stepBit), `stride` numbers each: PIECE and the other columns below. */
  readonly steps: Int32Array
  readonly stride: number
  /** Rows as they are when a future begins. */
  readonly stepsAtFirst: Int32Array
  /** `PIECE_STRIDE` numbers a piece: MASS and the other columns below. */
  readonly pieces: Int32Array
  readonly piecesAtFirst: Int32Array
  readonly firstStep: Int32Array
  /** The row of each of the model's steps. */
  readonly rowOfStep: Int32Array
  /** Pieces that keep a place, with steps of each sort. */
  readonly heldOfSort: Int32Array
  /** Ready steps, one bit each, in the order's rows. */
  readonly ready: Int32Array
  /** First word of each sort's rows, and one entry more. */
  readonly sortWord: Int32Array
  /** The first ready row of each sort, beyond all rows for none, its rank; and the sorts that have one, as a set. */
  readonly firstRow: Int32Array
  readonly firstRank: Int32Array
  readonly sortsReady: Int32Array
  /** Rows that cure or soak until a day, as linked lists. */
  readonly waitHead: Int32Array
  readonly waitNext: Int32Array

  // People.
  readonly rosters: Rosters
  /** Spots of the half-day's roster: who came, who has no turn yet, who has a step of their own under way. */
  readonly here: Int32Array
  readonly free: Int32Array
  readonly engaged: Int32Array
  /** The row each person worked on last; -1 for none. */
  readonly engagedOn: Int32Array
  readonly vibration: Float64Array
  readonly noise: Float64Array
  /** People of the turn that is being given, and their spots. */
  readonly picked: Int32Array
  readonly pickedSpot: Int32Array

  // Places: seats, air lines and load left in the half-day.
  readonly openPlaces: Int32Array
  /** Pieces that hold each place. */
  readonly holds: Int32Array
  readonly freePlaces: Int32Array
  readonly seatsLeft: Int32Array
  readonly linesLeft: Int32Array
  readonly loadLeft: Int32Array
  /** One entry for each turn given. */
  readonly placeUsed: Int32Array
  /** Places each sort can use at all. */
  readonly sortPlaces: Int32Array

  // The heads of the sorts in play.
  readonly headSort: Int32Array
  readonly headRow: Int32Array
  readonly headKey: Int32Array

  readonly ended: Int32Array

  /** Counts that no table holds. */
  readonly now: {
    /** Who can each sort today, and the sorts each can, by roster. */
    can: Int32Array
    canSorts: Int32Array
    roster: number
    /** Every step takes its median time and everybody comes. */
    isMedian: boolean
    /** What the future's hours are drawn with, and today's absences. */
    key: number
    dayKey: number
    piecesOpen: number
    airLeft: number
    isPlaceNews: boolean
    /** The next day on which a place comes into use. */
    nextOpenDay: number
    isExposed: boolean
    endedCount: number
    usedCount: number
  }
}

/** Columns of a step's row; HAND and the next two are who worked on it last, PLACES the words of where it may be done. */
export const PIECE = 0
export const SORT = 1
export const FEWEST = 2
export const MOST = 3
/** Minutes of hands left; 0 before the first turn of a step, when they are drawn. */
export const LEFT = 4
/** Steps it waits for. */
export const WAITS = 5
export const RANK = 6
/** The step's number in the model. */
export const STEP = 7
export const HAND = 8
export const PLACES = HAND + HANDS

/** Columns of a piece's row. */
export const PIECE_STRIDE = 8
export const MASS = 0
export const OPEN_STEPS = 1
/** Day from which all that is finished on the piece has cured. */
export const CURED_DAY = 2
/** Last half-day in which somebody worked on it. */
export const LAST_SLOT = 3
/** Place where it was last worked on or lies; -1 for the shelf. */
export const LAST_PLACE = 4
/** Place that is taken for it even while nobody works on it; -1 for none. */
export const HELD_AT = 5
/** Day until which it is in bath or rinse and nobody works on it. */
export const SOAKS_UNTIL = 6

/** Tables for one thread. */
export function createRunner(model: LabModel, order: Order): Runner {
  const { pieceIds, personIds, placeIds, sorts, placeWords, days } = model
  const rosters = rostersOf(model)
  const pieces = pieceIds.length
  const people = personIds.length
  const places = placeIds.length
  const rows = order.bitStep.length
  // Sixteen numbers are one line of most caches.
  const stride = Math.ceil((PLACES + placeWords) / 16) * 16
  // Each turn takes a seat at least.
  const seats = model.placeSeats.reduce((sum, count) => sum + count, 0)
  return {
    finishDay: new Int32Array(pieces),
    beginDay: new Int32Array(pieces),
    steps: new Int32Array(rows * stride),
    stride,
    stepsAtFirst: stepRows(model, order, stride),
    pieces: new Int32Array(pieces * PIECE_STRIDE),
    piecesAtFirst: pieceRows(model),
    firstStep: firstSteps(model),
    rowOfStep: order.stepBit,
    heldOfSort: new Int32Array(sorts.length),
    ready: new Int32Array(order.readyAtFirst.length),
    sortWord: order.sortWord,
    firstRow: new Int32Array(sorts.length),
    firstRank: new Int32Array(sorts.length),
    sortsReady: new Int32Array(rosters.sortWords),
    waitHead: new Int32Array(days + 1),
    waitNext: new Int32Array(rows),
    rosters,
    here: new Int32Array(rosters.words),
    free: new Int32Array(rosters.words),
    engaged: new Int32Array(rosters.words),
    engagedOn: new Int32Array(people),
    vibration: new Float64Array(people),
    noise: new Float64Array(people),
    picked: new Int32Array(16),
    pickedSpot: new Int32Array(16),
    openPlaces: new Int32Array(placeWords),
    holds: new Int32Array(places),
    freePlaces: new Int32Array(placeWords),
    seatsLeft: new Int32Array(places),
    linesLeft: new Int32Array(places),
    loadLeft: new Int32Array(places),
    placeUsed: new Int32Array(seats),
    sortPlaces: sortPlacesOf(model),
    headSort: new Int32Array(sorts.length),
    headRow: new Int32Array(sorts.length),
    headKey: new Int32Array(sorts.length),
    ended: new Int32Array(seats),
    now: {
      can: rosters.can,
      canSorts: rosters.canSorts,
      roster: 0,
      key: 0,
      isMedian: false,
      dayKey: 0,
      piecesOpen: 0,
      airLeft: 0,
      isPlaceNews: true,
      nextOpenDay: 0,
      isExposed: false,
      endedCount: 0,
      usedCount: 0,
    },
  }
}

function sortPlacesOf({ sorts, placeWords, stepSort, stepPlaces }: LabModel): Int32Array {
  const union = new Int32Array(sorts.length * placeWords)
  for (let s = 0; s < stepSort.length; s++) {
    for (let w = 0; w < placeWords; w++) {
      const word = at(stepSort, s) * placeWords + w
      union[word] = at(union, word) | at(stepPlaces, s * placeWords + w)
    }
  }
  return union
}

function stepRows(m: LabModel, order: Order, stride: number): Int32Array {
  const rows = new Int32Array(order.bitStep.length * stride)
  for (let step = 0; step < m.stepIds.length; step++) {
    const row = at(order.stepBit, step) * stride
    rows[row + PIECE] = at(m.stepPiece, step)
    rows[row + SORT] = at(m.stepSort, step)
    rows[row + FEWEST] = at(m.stepMin, step)
    rows[row + MOST] = at(m.stepMax, step)
    // A stuck step waits for what never comes.
    rows[row + WAITS] = at(m.stepWaits, step) + at(m.stepStuck, step)
    rows[row + RANK] = at(order.stepRank, step)
    rows[row + STEP] = step
    for (let i = 0; i < HANDS; i++) rows[row + HAND + i] = at(m.stepHands, step * HANDS + i)
    for (let w = 0; w < m.placeWords; w++) rows[row + PLACES + w] = at(m.stepPlaces, step * m.placeWords + w)
  }
  return rows
}

function pieceRows(m: LabModel): Int32Array {
  const rows = new Int32Array(m.pieceIds.length * PIECE_STRIDE)
  for (let piece = 0; piece < m.pieceIds.length; piece++) {
    const row = piece * PIECE_STRIDE
    rows[row + MASS] = at(m.pieceMass, piece)
    rows[row + OPEN_STEPS] = at(m.pieceSteps, piece)
    rows[row + LAST_SLOT] = -1
    rows[row + LAST_PLACE] = at(m.pieceAt, piece)
    rows[row + HELD_AT] = -1
  }
  return rows
}
