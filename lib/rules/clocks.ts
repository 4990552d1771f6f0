// What ends by itself must find somebody there: in a shift that is held, by somebody expected in it who works alone on
// the technique or better.
import { addDays, daysBetween, minuteOf, timeOfMinute } from '#lib/base'
import { type Clock, type Finding, finding, type LabTime, type Person, type Records } from '#lib/words'
import { isHeldOn, labOf, levelOf } from './find.ts'
import { isOfCrew, presenceOf } from './presence.ts'

/** The lowest level that may be alone with it. */
const ALONE = 2

/** Days looked ahead and back for somebody who may see to it: over a closed week. */
const DAYS_LOOKED = 14

/**
 * Who may see to a clock at a local time (`11:00`) of a date: everybody expected in a shift that covers the minute, at
 * level 2 or above in its technique where it has one. Empty when nobody is, and outside every shift.
 */
export function thereFor(
  records: Records,
  techniqueId: string | null,
  date: string,
  time: string,
): readonly Readonly<Person>[] {
  const shifts = labOf(records)?.shifts ?? []
  const covers = shifts.filter((one) => one.start <= time && time <= one.end && isHeldOn(records, one, date))
  return [...records.person.values()].filter(
    (person) =>
      person.isActive &&
      (techniqueId === null ? isOfCrew(person) : levelOf(person, techniqueId, date) >= ALONE) &&
      covers.some((shift) => presenceOf(records, person, date, shift.id).isIn),
  )
}

/**
 * The last time before a local time, and the first after it, at which somebody is there who may see to it; null where
 * nobody is within a fortnight. Before is a shift's end or the time itself within it, after a shift's start.
 */
export function tendedAround(
  records: Records,
  techniqueId: string | null,
  { date, time }: LabTime,
): { readonly before: LabTime | null; readonly after: LabTime | null } {
  const edges = (labOf(records)?.shifts ?? []).flatMap((one) => [one.start, one.end]).toSorted()
  const find = (step: 1 | -1): LabTime | null => {
    for (let days = 0; days <= DAYS_LOOKED; days++) {
      const day = addDays(date, step * days)
      const wanted = edges.filter((at) => days > 0 || (step === 1 ? at >= time : at <= time))
      for (const at of step === 1 ? wanted : wanted.toReversed())
        if (thereFor(records, techniqueId, day, at).length > 0) return { date: day, time: at }
    }
    return null
  }
  return { before: find(-1), after: find(1) }
}

/** The local time so many minutes later, by the clock on the wall. */
export function laterBy({ date, time }: LabTime, minutes: number): LabTime {
  const all = minuteOf(time) + minutes
  const days = Math.floor(all / 1440)
  return { date: addDays(date, days), time: timeOfMinute(all - days * 1440) }
}

/** Minutes from one local time to another, by the clock on the wall. */
export function minutesBetween(from: LabTime, to: LabTime): number {
  return daysBetween(from.date, to.date) * 1440 + minuteOf(to.time) - minuteOf(from.time)
}

/** What stands against an end: nobody who may see to it is expected then, and nobody has said why that may be. */
export function judgeTended(
  records: Records,
  techniqueId: string | null,
  ends: LabTime,
  despite: string | undefined,
): readonly Finding[] {
  if ((despite ?? '').trim() !== '' || thereFor(records, techniqueId, ends.date, ends.time).length > 0) return []
  const { before, after } = tendedAround(records, techniqueId, ends)
  return [
    finding('O', 'clock-untended', {
      ...{ date: ends.date, time: ends.time, technique: techniqueId ?? '' },
      ...(before && { beforeDate: before.date, before: before.time }),
      ...(after && { afterDate: after.date, after: after.time }),
    }),
  ]
}

/** What runs, the soonest end first; of one piece where one is named. */
export function clocksRunning(records: Records, pieceId?: string): readonly Readonly<Clock>[] {
  const key = ({ ends, id }: Readonly<Clock>) => `${ends.date} ${ends.time} ${id}`
  return [...records.clock.values()]
    .filter((one) => pieceId === undefined || one.pieceId === pieceId)
    .toSorted((a, b) => (key(a) < key(b) ? -1 : 1))
}
