/**
 * The lab's season as typed tables: half-days, people one by one, places, pieces and their open steps. Built once
 * (build.ts); any number of futures run on it (run.ts) and change nothing in it. Sets of people and of places are bit
 * masks of `peopleWords` and `placeWords` 32-bit words; people are numbered from the one who can do least to the one
 * who can do most, places from the plainest to the best equipped, so that the lowest bit is the one to take first.
 */

/** What two steps ask of people alike: the technique, and the level needed for the piece. */
export interface Sort {
  readonly techniqueId: string
  /** 2 works alone; 3 for delicate and priority pieces. */
  readonly level: number
}

/** Hands of a step that are remembered: who knows the piece is asked first. */
export const HANDS = 3

export interface LabModel {
  /** The first day, and how many days the season has. */
  readonly from: string
  readonly days: number

  // Half-days, in order of time.
  readonly slotCount: number
  /** Days since `from`. */
  readonly slotDay: Int32Array
  /** Index into `shiftIds`. */
  readonly slotShift: Int32Array
  /** Minutes of work that one person gives in the half-day. */
  readonly slotMinutes: Int32Array
  /** Length of the half-day by the clock, minutes: exposure counts the whole of it. */
  readonly slotLength: Int32Array
  readonly shiftIds: readonly string[]
  /** First half-day of each day, and one entry more. */
  readonly daySlot: Int32Array

  // People.
  readonly personIds: readonly string[]
  readonly peopleWords: number
  /** Who is expected by pattern and exceptions: `peopleWords` words a half-day. */
  readonly present: Int32Array
  /** What each person's chance is drawn with. */
  readonly personSalt: Int32Array
  /** Chance in 2^32 that each is away unforeseen for a day. */
  readonly personAway: Float64Array

  // Sorts of work.
  readonly sorts: readonly Sort[]
  /** Who can: `peopleWords` words a sort. */
  readonly can: Int32Array
  /** The same from a day on; a day beyond the season when nothing changes. */
  readonly canLater: Int32Array
  readonly canLaterDay: number
  /** Litres of air a minute, rounded up; the lab's limit beside it. */
  readonly sortAir: Int32Array
  readonly airLimit: number
  /** Vibration points and hundredths of the noise limit for each hour by the clock; 0 for quiet hand work. */
  readonly sortVibration: Float64Array
  readonly sortNoise: Float64Array
  /** 1 where there is any of either. */
  readonly sortExposes: Int32Array
  readonly vibrationLimit: number
  readonly noiseLimit: number
  /** Days a step of this sort cures or dries when it is finished, before what waits for it may begin. */
  readonly sortCure: Int32Array
  /** Days the piece soaks after each half-day of hands, at its place, which is taken for so long; 0 for none. */
  readonly sortSoak: Int32Array

  // Places.
  readonly placeIds: readonly string[]
  readonly placeKinds: readonly string[]
  readonly placeWords: number
  readonly placeSeats: Int32Array
  readonly placeAirLines: Int32Array
  /** 1 where one piece at a time. */
  readonly placeExclusive: Int32Array
  /** Kilograms, rounded down. */
  readonly placeLoad: Int32Array
  /** First day on which the place is in use. */
  readonly placeOpenDay: Int32Array
  /** The piece that lies there and cannot be moved until it is finished; -1 for none. */
  readonly placeTied: Int32Array

  // Pieces.
  readonly pieceIds: readonly string[]
  readonly pieceSalt: Int32Array
  /** Kilograms, rounded up. */
  readonly pieceMass: Int32Array
  /** Open steps of each piece. */
  readonly pieceSteps: Int32Array
  /** The place it lies at now; -1 for the shelf. */
  readonly pieceAt: Int32Array
  /** Weight of misjudgement that all steps of a piece share; the rest is each step's own (squares add to 1). */
  readonly shared: number
  readonly own: number

  // Steps.
  readonly stepIds: readonly string[]
  readonly stepSalt: Int32Array
  readonly stepPiece: Int32Array
  readonly stepSort: Int32Array
  /** Hands at once, fewest and most. */
  readonly stepMin: Int32Array
  readonly stepMax: Int32Array
  /** Minutes of hands left: median, and spread of its logarithm. */
  readonly stepMedian: Float64Array
  readonly stepLogSd: Float64Array
  /** Open steps before it. */
  readonly stepWaits: Int32Array
  /** Steps that wait for it: `after[afterStart[s]]` up to `afterStart[s + 1]`. */
  readonly afterStart: Int32Array
  readonly after: Int32Array
  /** Where it may be done: `placeWords` words a step. */
  readonly stepPlaces: Int32Array
  /** Who has worked on it before, most first: `HANDS` people a step, -1 for none. */
  readonly stepHands: Int32Array
  /** 1 where nobody may do it, or nowhere: its piece cannot be finished in this season. */
  readonly stepStuck: Int32Array
}
