// Local dates and clock times of the lab. Dates are ISO 8601 (2026-03-12), times of day 09:30, instants ISO UTC;
// the zone is an IANA name. Intl knows the zones' rules, so no table of our own can grow stale.

const formats = new Map<string, Intl.DateTimeFormat>()

function formatOf(zone: string): Intl.DateTimeFormat {
  let format = formats.get(zone)
  if (!format) {
    format = new Intl.DateTimeFormat('en-CA', {
      timeZone: zone,
      hourCycle: 'h23',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      second: '2-digit',
    })
    formats.set(zone, format)
  }
  return format
}

/** The lab's local date and minute of the day at an instant. */
export function localAt(zone: string, atMs: number): { readonly date: string; readonly minute: number } {
  const part: Record<string, string> = {}
  for (const { type, value } of formatOf(zone).formatToParts(atMs)) part[type] = value
  return {
    date: `${part.year}-${part.month}-${part.day}`,
    minute: Number(part.hour) * 60 + Number(part.minute),
  }
}

/** The instant (ms) of a local date and minute in a zone; in a skipped hour the instant after the gap. */
export function instantOf(zone: string, date: string, minute: number): number {
  const wanted = Date.parse(`${date}T00:00:00Z`) + minute * 60_000
  let at = wanted
  // Two rounds settle every zone: the first uses the offset near the date, the second the offset at the result.
  for (let i = 0; i < 2; i++) {
    const got = localAt(zone, at)
    at += wanted - (Date.parse(`${got.date}T00:00:00Z`) + got.minute * 60_000)
  }
  return at
}

/** Day number since 1970-01-01 of an ISO date. */
export function dayNumber(date: string): number {
  let day = dayNumbers.get(date)
  if (day === undefined) {
    day = Math.round(Date.parse(`${date}T00:00:00Z`) / 86_400_000)
    if (dayNumbers.size >= DAYS_KEPT) dayNumbers.clear()
    dayNumbers.set(date, day)
  }
  return day
}

/** Parsing costs far more than looking up, and a week or a season asks for the same few dates again and again. */
const dayNumbers = new Map<string, number>()
const DAYS_KEPT = 5000

/** ISO date of a day number. */
export const dateOfDay = (day: number): string => new Date(day * 86_400_000).toISOString().slice(0, 10)

/** ISO date `days` later (or earlier). */
export const addDays = (date: string, days: number): string => dateOfDay(dayNumber(date) + days)

/** Whole days from `from` to `to`. */
export const daysBetween = (from: string, to: string): number => dayNumber(to) - dayNumber(from)

/** ISO weekday: 1 Monday … 7 Sunday. */
export const weekdayOf = (date: string): number => ((((dayNumber(date) + 3) % 7) + 7) % 7) + 1

/** Minutes since midnight of `09:30`. */
export function minuteOf(time: string): number {
  return Number(time.slice(0, 2)) * 60 + Number(time.slice(3, 5))
}

/** `09:30` of minutes since midnight. */
export function timeOfMinute(minute: number): string {
  return `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`
}

/** True for a zone that this machine's Intl knows. */
export function isZone(zone: string): boolean {
  try {
    formatOf(zone)
    return true
  } catch {
    return false
  }
}
