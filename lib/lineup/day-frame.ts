/** What the builders of people, places and pieces share about the day, and the units in which they count exposure. */
import { backgroundAt, backgroundFor, labOf, loudnessIn, type Piece, shiftMinutes, type Turn } from '#lib/rules'
import type { RecordOf, Records, Technique } from '#lib/words'

/** What the builders of people, places and pieces share about the day. */
export interface DayFrame {
  readonly records: Records
  readonly date: string
  readonly shifts: readonly RecordOf<'lab'>['shifts'][number][]
  /** Minute of this day now; -1 while the day is still to come. */
  readonly minute: number
  readonly kept: readonly Turn[]
  /** Held and claimed turns that the problem carries. */
  readonly fixed: readonly Turn[]
}

/** Length of one of the day's shifts in minutes; 0 for a shift that is not held. */
export function minutesOfShift({ shifts }: Pick<DayFrame, 'shifts'>, shiftId: string): number {
  const shift = shifts.find(({ id }) => id === shiftId)
  return shift ? shiftMinutes(shift) : 0
}

/** A feature that every place has but those taken by a piece that cannot be moved: nothing else fits there. */
export const OPEN_PLACE = 'no tied piece'

/** Noise points of the lab's limit over the day. */
export const NOISE_LIMIT_POINTS = 100

/** Where no settings say whose limit holds, dB(A). */
const USUAL_LIMIT_DBA = 80

/**
 * Points of each hour of running tool, rounded up. Noise counts with the loudest surroundings of all places where it may run
 * (of a piece that is tied: where it lies), so that a line-up is never louder than the rules allow.
 */
export function pointsPerHour(records: Records, technique: Readonly<Technique>, piece?: Piece) {
  return {
    vibrationPerHour: technique.vibrationMs2 === null ? 0 : Math.ceil(2 * technique.vibrationMs2 ** 2),
    noisePerHour: technique.noiseDba === null ? 0 : noisePoints(records, technique, technique.noiseDba, piece),
  }
}

function noisePoints(records: Records, technique: Readonly<Technique>, noiseDba: number, piece?: Piece): number {
  const tiedAt = piece?.isTied ? piece.placeId : null
  const around = tiedAt === null ? backgroundFor(records, technique) : backgroundAt(records, tiedAt)
  const over = loudnessIn(noiseDba, around) - (labOf(records)?.limits.noiseDba ?? USUAL_LIMIT_DBA)
  return Math.ceil((10 ** (over / 10) / 8) * NOISE_LIMIT_POINTS)
}
