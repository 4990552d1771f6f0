// Reads somebody's own calendar (RFC 5545) for when they are busy, and no more: titles, places and people are never looked
// at. Run in their own browser, so that the file stays there.
import ICAL from 'ical.js'
import { addDays, daysBetween, instantOf, isZone, minuteOf, weekdayOf } from '#lib/base'
import type { OpOf } from '#lib/ops'
import { isHeldOn, labOf, patternOn, shiftOf } from '#lib/rules'
import type { Person, Records } from '#lib/words'

/** A stretch in which somebody is busy: instants in ms, `end` excluded. */
export type BusyTime = { readonly startMs: number; readonly endMs: number }

type Span = { readonly zone: string; readonly startMs: number; readonly endMs: number }

/** Repeats looked at in one calendar: a rule that repeats each second must end. */
const REPEATS_MAX = 100_000

/**
 * Busy stretches of a calendar that meet a span. Times without a zone are the lab's. Events that are cancelled, shown as
 * free, or of this lab's own calendar file do not count. Throws when the text is no calendar, or repeats too often.
 */
export function busyTimes(text: string, span: Span): readonly BusyTime[] {
  // Several calendars in one file come as a list of them.
  const parsed = ICAL.parse(text)
  const calendars = (typeof parsed[0] === 'string' ? [parsed] : parsed) as unknown[][]
  return calendars.flatMap((jcal) => {
    const calendar = new ICAL.Component(jcal as ConstructorParameters<typeof ICAL.Component>[0])
    if (calendar.name !== 'vcalendar') throw new Error('not a calendar')
    return [...ofEvents(calendar, span), ...ofFreeBusy(calendar, span)]
  })
}

const meets = (time: BusyTime, span: Span): boolean => time.startMs < span.endMs && time.endMs > span.startMs

function ofEvents(calendar: ICAL.Component, span: Span): BusyTime[] {
  const parts = calendar.getAllSubcomponents('vevent')
  const changed = parts.filter((part) => part.hasProperty('recurrence-id'))
  const found: BusyTime[] = []
  let repeats = 0
  for (const part of parts) {
    const event = new ICAL.Event(part, {
      exceptions: part.hasProperty('recurrence-id')
        ? []
        : changed.filter((one) => one.getFirstPropertyValue('uid') === part.getFirstPropertyValue('uid')),
    })
    if (!event.startDate) continue
    if (!event.isRecurring()) {
      // A changed repeat is told by its rule, where the rule is there.
      const isTold = part.hasProperty('recurrence-id') && parts.some((one) => isRuleOf(one, event.uid))
      if (!isTold) note(found, event, event.startDate, event.endDate, span)
      continue
    }
    const iterator = event.iterator()
    for (let next = iterator.next(); next; next = iterator.next()) {
      if (++repeats > REPEATS_MAX) throw new Error('too many repeats')
      const { item, startDate, endDate } = event.getOccurrenceDetails(next)
      // A change may move one repeat far; the rule itself goes on in order.
      if (msOf(next, part, span.zone) >= span.endMs) break
      note(found, item, startDate, endDate, span)
    }
  }
  return found
}

const isRuleOf = (part: ICAL.Component, uid: string): boolean =>
  !part.hasProperty('recurrence-id') && part.getFirstPropertyValue('uid') === uid && part.hasProperty('rrule')

function note(found: BusyTime[], event: ICAL.Event, start: ICAL.Time, end: ICAL.Time, span: Span): void {
  if (!isBusy(event.component)) return
  const startMs = msOf(start, event.component, span.zone)
  const time = { startMs, endMs: msOf(end, event.component, span.zone) }
  if (time.endMs > startMs && meets(time, span)) found.push(time)
}

function isBusy(part: ICAL.Component): boolean {
  const said = (name: string) => String(part.getFirstPropertyValue(name) ?? '').toUpperCase()
  if (said('status') === 'CANCELLED' || said('transp') === 'TRANSPARENT') return false
  // Our own file, subscribed to or taken in: a turn at the lab keeps nobody from the lab.
  return !said('uid').endsWith('@TALUS')
}

/** FREEBUSY lines of a calendar that tells nothing else. */
function ofFreeBusy(calendar: ICAL.Component, span: Span): BusyTime[] {
  return calendar.getAllSubcomponents('vfreebusy').flatMap((part) =>
    part.getAllProperties('freebusy').flatMap((line) => {
      if (String(line.getParameter('fbtype') ?? 'BUSY').toUpperCase() === 'FREE') return []
      return (line.getValues() as ICAL.Period[]).flatMap((period) => {
        const [startMs, endMs] = [period.start, period.getEnd()].map((time) => msOf(time, part, span.zone))
        const time = { startMs: startMs ?? 0, endMs: endMs ?? 0 }
        return meets(time, span) ? [time] : []
      })
    }),
  )
}

/** The instant of a time: in UTC, in a zone the file defines, in one that it only names, else in the lab's. */
function msOf(time: ICAL.Time, part: ICAL.Component, zone: string): number {
  const isLocal = time.isDate || time.zone === ICAL.Timezone.localTimezone
  if (!isLocal) return time.toUnixTime() * 1000
  const named = String(part.getFirstProperty('dtstart')?.getParameter('tzid') ?? '')
  const pad = (n: number) => String(n).padStart(2, '0')
  const date = `${String(time.year).padStart(4, '0')}-${pad(time.month)}-${pad(time.day)}`
  const minute = time.isDate ? 0 : time.hour * 60 + time.minute
  return instantOf(!time.isDate && isZone(named) ? named : zone, date, minute)
}

/** Shifts from a date to another that somebody would come to and in which they are busy: all that is to be kept. */
export function busyShifts(
  records: Records,
  person: Readonly<Person>,
  times: readonly BusyTime[],
  { from, to }: { readonly from: string; readonly to: string },
): OpOf<'takeCalendar'>['busy'] {
  const lab = labOf(records)
  if (!lab) return []
  const found: OpOf<'takeCalendar'>['busy'] = []
  for (let day = 0; day <= daysBetween(from, to); day++) {
    const date = addDays(from, day)
    const weekday = weekdayOf(date)
    for (const { shiftId } of patternOn(person, date).filter((one) => one.weekday === weekday)) {
      const shift = shiftOf(records, shiftId)
      if (!shift || !isHeldOn(records, shift, date)) continue
      const startMs = instantOf(lab.zone, date, minuteOf(shift.start))
      const endMs = instantOf(lab.zone, date, minuteOf(shift.end))
      if (times.some((time) => meets(time, { zone: lab.zone, startMs, endMs }))) found.push({ date, shiftId })
    }
  }
  return found
}
