/** What changes while a future runs: one set of tables, used again for every future of a season on one thread. */
import { at } from '#lib/base'
import type { LabModel } from './model.ts'
import { firstSteps } from './order.ts'

export interface Runner {
  // Results.
  /** Day on which each piece is ready; -1: not within the season. */
  readonly finishDay: Int32Array
  /** Day of its first half-day of work; -1: none. */
  readonly beginDay: Int32Array

  // Pieces and steps.
  readonly firstStep: Int32Array
  /** Minutes of hands left on each step. */
  readonly left: Int32Array
  readonly waits: Int32Array
  readonly openSteps: Int32Array
  /** Day from which all that is finished on the piece has cured. */
  readonly curedDay: Int32Array
  /** Last half-day in which somebody worked on the piece. */
  readonly lastSlot: Int32Array
  /** Place where it lies, last worked on; -1 for the shelf. */
  readonly lastPlace: Int32Array
  /** Place that is taken for it even while nobody works on it; -1 for none. */
  readonly heldAt: Int32Array
  /** Pieces so held with steps of each sort. */
  readonly heldOfSort: Int32Array
  readonly hands: Int32Array
  /** Ready steps, one bit each, in the order's rows. */
  readonly ready: Int32Array
  /** Steps that cure or soak until a day, as linked lists. */
  readonly waitHead: Int32Array
  readonly waitNext: Int32Array

  // People.
  readonly away: Int32Array
  readonly free: Int32Array
  /** People with a step of their own under way, and which. */
  readonly engaged: Int32Array
  readonly engagedOn: Int32Array
  readonly vibration: Float64Array
  readonly noise: Float64Array
  readonly picked: Int32Array

  // Places: seats, air lines and load left in the half-day.
  readonly openPlaces: Int32Array
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
  readonly headStep: Int32Array
  readonly headRank: Int32Array
  readonly headWord: Int32Array
  readonly headBits: Int32Array

  readonly ended: Int32Array

  /** Counts that no table holds. */
  readonly now: {
    /** Who can each sort today. */
    can: Int32Array
    piecesOpen: number
    airLeft: number
    isPlaceNews: boolean
    isExposed: boolean
    endedCount: number
    usedCount: number
  }
}

/** Tables for one thread. */
export function createRunner(model: LabModel, readyWords: number): Runner {
  const { pieceIds, stepIds, personIds, placeIds, sorts, peopleWords, placeWords, days } = model
  const pieces = pieceIds.length
  const steps = stepIds.length
  const people = personIds.length
  const places = placeIds.length
  // Each turn takes a seat at least.
  const seats = model.placeSeats.reduce((sum, count) => sum + count, 0)
  return {
    finishDay: new Int32Array(pieces),
    beginDay: new Int32Array(pieces),
    firstStep: firstSteps(model),
    left: new Int32Array(steps),
    waits: new Int32Array(steps),
    openSteps: new Int32Array(pieces),
    curedDay: new Int32Array(pieces),
    lastSlot: new Int32Array(pieces),
    lastPlace: new Int32Array(pieces),
    heldAt: new Int32Array(pieces),
    heldOfSort: new Int32Array(sorts.length),
    hands: new Int32Array(steps * peopleWords),
    ready: new Int32Array(readyWords),
    waitHead: new Int32Array(days + 1),
    waitNext: new Int32Array(steps),
    away: new Int32Array(peopleWords),
    free: new Int32Array(peopleWords),
    engaged: new Int32Array(peopleWords),
    engagedOn: new Int32Array(people),
    vibration: new Float64Array(people),
    noise: new Float64Array(people),
    picked: new Int32Array(16),
    openPlaces: new Int32Array(placeWords),
    freePlaces: new Int32Array(placeWords),
    seatsLeft: new Int32Array(places),
    linesLeft: new Int32Array(places),
    loadLeft: new Int32Array(places),
    placeUsed: new Int32Array(seats),
    sortPlaces: sortPlacesOf(model),
    headSort: new Int32Array(sorts.length),
    headStep: new Int32Array(sorts.length),
    headRank: new Int32Array(sorts.length),
    headWord: new Int32Array(sorts.length),
    headBits: new Int32Array(sorts.length),
    ended: new Int32Array(seats),
    now: {
      can: model.can,
      piecesOpen: 0,
      airLeft: 0,
      isPlaceNews: true,
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
