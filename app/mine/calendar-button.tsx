'use client'
// One's own turns and dates as a file for one's own calendar.
import type { PersonId, Records } from '#lib/words'
import { Button } from '../_parts/controls/index.ts'
import { keepFile } from '../_shell/keep-file.ts'
import { calendarOf } from './calendar.ts'

interface CalendarButtonProps {
  readonly records: Records
  readonly personId: PersonId
  readonly date: string
}

export default function CalendarButton({ records, personId, date }: CalendarButtonProps) {
  const take = () => {
    const file = calendarOf(records, personId, date, new Date().toISOString())
    keepFile('my-shifts.ics', 'text/calendar', file)
  }
  return (
    <Button kind="quiet" className="mt-3 self-start" onClick={take}>
      My shifts as a calendar file
    </Button>
  )
}
