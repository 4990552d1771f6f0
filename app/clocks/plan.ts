// What usually follows what, and for how long: common practice, from memory, for the lab to change in the form. A rinse
// takes at least three times as long as the bath (lib/limits, rinseHours).
import { rinseHours } from '#lib/limits'
import { laterBy, tendedAround, thereFor } from '#lib/rules'
import type { LabTime, Process, Records } from '#lib/words'

/** Usual minutes of a process that nobody has said. */
export const usualMinutes: Readonly<Record<Process, number>> = {
  'acid bath': 240,
  rinsing: 720,
  coating: 30,
  drying: 720,
  curing: 1440,
  setting: 60,
  soaking: 60,
}

/** What comes after a process begun so long: acid is rinsed out, coated and dried before the next bath. */
export function chainAfter(
  what: Process,
  minutes: number,
): readonly { readonly what: Process; readonly minutes: number }[] {
  if (what !== 'acid bath') return []
  return [
    { what: 'rinsing', minutes: Math.round(rinseHours(minutes / 60) * 60) },
    { what: 'coating', minutes: usualMinutes.coating },
    { what: 'drying', minutes: usualMinutes.drying },
  ]
}

/**
 * The end to offer: so many minutes on, and where nobody is in then, the next time somebody is; for a bath, which harms when
 * it is too long, the last time before, where that is after its beginning.
 */
export function endToOffer(
  records: Records,
  techniqueId: string | null,
  what: Process,
  begun: LabTime,
  minutes: number,
): LabTime {
  const end = laterBy(begun, minutes)
  if (thereFor(records, techniqueId, end.date, end.time).length > 0) return end
  const { before, after } = tendedAround(records, techniqueId, end)
  const isEarlier = before !== null && `${before.date} ${before.time}` > `${begun.date} ${begun.time}`
  if (what === 'acid bath' && isEarlier) return before
  return after ?? end
}
