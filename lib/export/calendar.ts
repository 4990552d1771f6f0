// One person's posted turns and the dates that concern them, as an iCalendar file: RFC 5545. Whose dates: of pieces they
// sit down to or follow, and all of them for a manager. Times are in
// UTC (section 3.3.5, form 2), so that no VTIMEZONE is needed and a clock change moves nothing. Dates are tasks, and whole
// days besides, since some calendars show no VTODO.
import { addDays, instantOf, minuteOf } from '#lib/base'
import type { PersonId, Records } from '#lib/words'

/** Longest line, octets without its break (section 3.1). */
const LINE_OCTETS = 75

/**
 * The file's text: turns from `date` on, and accepted dates of their pieces. `at` is the ISO instant it is made at. UIDs
 * follow from the records' ids, so taking the file in again changes entries and doubles none.
 */
export function calendarOf(records: Records, personId: PersonId, date: string, at: string): string {
  const lab = records.lab.get('lab')
  const zone = lab?.zone ?? 'UTC'
  const stamp = `DTSTAMP:${utc(Date.parse(at))}`
  const nameOf = (pieceId: string): string => {
    const specimen = records.specimen.get(pieceId)
    return specimen ? `${specimen.number} ${specimen.name}` : (records.jacket.get(pieceId)?.fieldNumber ?? '')
  }
  const turns = [...records.assignment.values()]
    .filter((one) => one.personId === personId && one.date >= date)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
  const events = turns.flatMap((turn) => {
    const shift = lab?.shifts.find(({ id }) => id === turn.shiftId)
    if (!shift) return []
    const place = records.place.get(turn.placeId)
    return [
      'BEGIN:VEVENT',
      `UID:turn-${turn.id}@talus`,
      stamp,
      `DTSTART:${utc(instantOf(zone, turn.date, minuteOf(shift.start)))}`,
      `DTEND:${utc(instantOf(zone, turn.date, minuteOf(shift.end)))}`,
      `SUMMARY:${text(`${shift.name}: ${nameOf(turn.pieceId)}`)}`,
      `DESCRIPTION:${text(records.step.get(turn.stepId)?.title ?? '')}`,
      ...(place ? [`LOCATION:${text(place.name)}`] : []),
      'END:VEVENT',
    ]
  })
  const isManager = records.person.get(personId)?.role === 'manager'
  const followed = [...records.watch.values()].filter((one) => one.personId === personId)
  const pieces = new Set<string>([...turns, ...followed].map(({ pieceId }) => pieceId))
  const dues = [...records.due.values()]
    .filter((due) => due.state === 'accepted' && due.date >= date && (isManager || pieces.has(due.pieceId)))
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .flatMap((due) => {
      const summary = `SUMMARY:${text(`${nameOf(due.pieceId)} to be ready`)}`
      const day = compact(due.date)
      return [
        'BEGIN:VTODO',
        `UID:due-${due.id}@talus`,
        stamp,
        `DUE;VALUE=DATE:${day}`,
        'STATUS:NEEDS-ACTION',
        // 1 is highest and 5 in the middle (section 3.8.1.9).
        `PRIORITY:${due.isHard ? 1 : 5}`,
        summary,
        'END:VTODO',
        'BEGIN:VEVENT',
        `UID:due-day-${due.id}@talus`,
        stamp,
        `DTSTART;VALUE=DATE:${day}`,
        `DTEND;VALUE=DATE:${compact(addDays(due.date, 1))}`,
        'TRANSP:TRANSPARENT',
        summary,
        'END:VEVENT',
      ]
    })
  const head = [
    ...['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Talus//Talus//EN', `NAME:${text(lab?.name ?? 'Talus')}`],
    // How often to ask again (RFC 7986, section 5.7).
    'REFRESH-INTERVAL;VALUE=DURATION:PT30M',
  ]
  return `${[...head, ...events, ...dues, 'END:VCALENDAR'].map(folded).join('\r\n')}\r\n`
}

const compact = (date: string): string => date.replaceAll('-', '')

const utc = (ms: number): string => new Date(ms).toISOString().replace(/[-:]|\.\d+/g, '')

/** A TEXT value (section 3.3.11). */
const text = (value: string): string => value.replace(/[\\;,]/g, '\\$&').replace(/\r?\n/g, '\\n')

/** A content line cut between letters, never within one; each further line begins with a space that counts. */
function folded(line: string): string {
  const octets = new TextEncoder()
  let out = ''
  let room = LINE_OCTETS
  for (const letter of line) {
    const size = octets.encode(letter).length
    if (size > room) {
      out += '\r\n '
      room = LINE_OCTETS - 1
    }
    out += letter
    room -= size
  }
  return out
}
