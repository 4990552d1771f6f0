'use client'
// One's own turns and dates for one's own calendar: as a file now, or under an address that it asks by itself.
import { calendarOf } from '#lib/export'
import type { PersonId, Records } from '#lib/words'
import { Button, DialogButton } from '../_parts/controls/index.ts'
import { CalendarAddressForm } from '../_shell/calendar-address.tsx'
import { keepFile } from '../_shell/keep-file.ts'

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
    <div className="mt-3 flex flex-wrap gap-x-3">
      <Button kind="quiet" onClick={take}>
        My shifts as a calendar file
      </Button>
      <DialogButton kind="quiet" word="In my own calendar…" title="In my own calendar">
        {() => <CalendarAddressForm />}
      </DialogButton>
    </div>
  )
}
