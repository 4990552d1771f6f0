/** What the builders of people, places and pieces share about the day, and the units in which they count exposure. */
import { backgroundAt, backgroundFor, loudnessIn, shiftMinutes, type Turn } from '#lib/rules'
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

/**
 * Points of each hour of running tool, rounded up. Noise counts with the loudest surroundings of all places where it may run
 * (`placeId`: the one where the piece is tied), so that a line-up is never louder than the rules allow.
 */
export function pointsPerHour(
  records: Records,
  technique: Readonly<Technique>,
  noiseLimitDba: number,
  placeId: string | null = null,
) {
  const around = placeId === null ? backgroundFor(records, technique) : backgroundAt(records, placeId)
  const noise =
    technique.noiseDba === null ? 0 : 10 ** ((loudnessIn(technique.noiseDba, around) - noiseLimitDba) / 10) / 8
  return {
    vibrationPerHour: technique.vibrationMs2 === null ? 0 : Math.ceil(2 * technique.vibrationMs2 ** 2),
    noisePerHour: Math.ceil(noise * NOISE_LIMIT_POINTS),
  }
}
