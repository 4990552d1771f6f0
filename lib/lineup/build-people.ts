/**
 * The people of a day's problem: who is in and for how long, their levels on that date, and what is left of their
 * limits. Vibration is counted in exposure points (see lib/limits); noise in hundredths of the lab's own daily limit.
 */
import { minuteOf } from '#lib/base'
import {
  benchMinutesOf,
  exposureOf,
  isOfCrew,
  labOf,
  levelsOf,
  minutesClassOf,
  missingInduction,
  type Piece,
  pathOf,
  pieceOf,
  presenceOf,
  type Turn,
  techniqueOf,
  techniqueOfStep,
} from '#lib/rules'
import type { RecordOf, Technique } from '#lib/words'
import { goodShares } from './build-lately.ts'
import { type DayFrame, minutesOfShift, NOISE_LIMIT_POINTS, pointsPerHour } from './day-frame.ts'
import type { Excused } from './kept-turns.ts'
import type { ProblemInput } from './problem.ts'

type Person = ProblemInput['people'][number]
type Presence = Person['presence'][number]

/** Everybody of the crew who is in for some shift, or has a turn that stays. */
export function buildPeople(frame: DayFrame, excused: readonly Excused[]): Person[] {
  const goodShare = goodShares(frame)
  const people: Person[] = []
  for (const person of frame.records.person.values()) {
    const own = frame.kept.filter((turn) => turn.personId === person.id)
    const isOpen = isOfCrew(person) && missingInduction(frame.records, person, frame.date).length === 0
    if (!isOpen && own.length === 0) continue
    const presence = presencesOf(frame, person, own)
    if (presence.length === 0) continue
    people.push({
      id: person.id,
      levels: {
        ...Object.fromEntries(levelsOf(frame.records, person.id, frame.date)),
        ...Object.fromEntries(
          excused.filter(({ personId }) => personId === person.id).map((one) => [one.techniqueId, one.level]),
        ),
      },
      presence,
      ...limitsLeft(frame, person, own, presence),
      classMinutesLeft: classMinutesLeft(frame, person.id, own, presence),
      loves: [...person.loves],
      learnsNext: learnsNext(frame, person),
      goodSharePercent: goodShare(person.id),
    })
  }
  return people
}

/** The technique of the next step of somebody's learning path; null for an item, and at the path's end. */
function learnsNext({ records, date }: DayFrame, person: RecordOf<'person'>): string | null {
  const next = pathOf(records, person, date)?.next
  return next?.kind === 'skill' ? next.techniqueId : null
}

function presencesOf(frame: DayFrame, person: RecordOf<'person'>, own: readonly Turn[]): Presence[] {
  const { records, date, shifts, minute, fixed } = frame
  return shifts.flatMap((shift) => {
    const [start, end] = [minuteOf(shift.start), minuteOf(shift.end)]
    const whole = { shift: shift.id, from: start, to: end }
    if (own.some((turn) => turn.shiftId === shift.id)) return [whole]
    if (end <= minute) return []
    const { isIn, isAway, dueAt } = presenceOf(records, person, date, shift.id)
    // Who is held or claimed something on a day that is not in their pattern is expected all the same.
    const isExpected = fixed.some((turn) => turn.personId === person.id && turn.shiftId === shift.id)
    if (isAway || !(isIn || isExpected)) return []
    const from = Math.max(start, minute, dueAt === null ? 0 : minuteOf(dueAt))
    return from < end ? [{ ...whole, from }] : []
  })
}

/** Bench minutes left by class after what is done; as with points, turns that stay are added back. */
function classMinutesLeft(
  { records, date, shifts }: DayFrame,
  personId: string,
  own: readonly Turn[],
  presence: readonly Presence[],
): Record<string, number> {
  const lab = labOf(records)
  const classes = new Map(
    (lab?.techniques ?? []).flatMap((technique) => {
      const capped = minutesClassOf(technique, lab?.limits)
      return capped ? [[capped.name, capped.max] as const] : []
    }),
  )
  if (classes.size === 0) return {}
  const minutesOf = (shiftId: string) => minutesOfShift({ shifts }, shiftId)
  const used = benchMinutesOf(records, date, own, personId)
  // The rules count a whole shift for whoever comes late.
  const missing = presence.reduce((sum, { shift, from, to }) => sum + minutesOf(shift) - (to - from), 0)
  return Object.fromEntries(
    [...classes].map(([name, max]) => {
      const staying = own
        .filter(({ stepId }) => {
          const technique = techniqueOfStep(records, stepId)
          return technique && minutesClassOf(technique, lab?.limits)?.name === name
        })
        .reduce((sum, { shiftId }) => sum + minutesOf(shiftId), 0)
      return [name, Math.max(staying, Math.floor(max - (used.get(name)?.minutes ?? 0) + staying - missing))]
    }),
  )
}

/** Points left after what is done; turns that stay are counted by the solver like all others, so they are added back. */
function limitsLeft(
  { records, date, shifts }: DayFrame,
  person: RecordOf<'person'>,
  own: readonly Turn[],
  presence: readonly Presence[],
) {
  const limits = labOf(records)?.limits
  if (!limits) return {}
  const minutesOf = (shiftId: string) => minutesOfShift({ shifts }, shiftId)
  const planned = (technique: Readonly<Technique>, minutes: number, piece?: Piece) => {
    const { vibrationPerHour, noisePerHour } = pointsPerHour(records, technique, piece)
    const share = (technique.runningPct * minutes) / 6000
    return { vibration: Math.ceil(vibrationPerHour * share), noise: Math.ceil(noisePerHour * share) }
  }
  const sum = { vibration: 0, noise: 0 }
  for (const turn of own) {
    const technique = techniqueOfStep(records, turn.stepId)
    const points = technique ? planned(technique, minutesOf(turn.shiftId), pieceOf(records, turn.pieceId)) : sum
    sum.vibration += points.vibration
    sum.noise += points.noise
  }
  // The rules count a whole shift for whoever comes late; so the part not there is kept free for the worst tool.
  const reserve = { vibration: 0, noise: 0 }
  for (const { shift, from, to } of presence) {
    const missing = minutesOf(shift) - (to - from)
    if (missing <= 0) continue
    const worst = person.skills.flatMap(({ techniqueId }) => {
      const technique = techniqueOf(records, techniqueId)
      return technique ? [planned(technique, missing)] : []
    })
    reserve.vibration += Math.max(0, ...worst.map(({ vibration }) => vibration)) + 1
    reserve.noise += Math.max(0, ...worst.map(({ noise }) => noise)) + 1
  }
  const { vibrationPoints, noiseDba } = exposureOf(records, date, own, person.id)
  const noisePoints = noiseDba === null ? 0 : NOISE_LIMIT_POINTS * 10 ** ((noiseDba - limits.noiseDba) / 10)
  return {
    vibrationPointsLeft: Math.max(
      sum.vibration,
      Math.floor(limits.vibrationPoints - vibrationPoints + sum.vibration - reserve.vibration),
    ),
    noisePointsLeft: Math.max(sum.noise, Math.floor(NOISE_LIMIT_POINTS - noisePoints + sum.noise - reserve.noise)),
  }
}
