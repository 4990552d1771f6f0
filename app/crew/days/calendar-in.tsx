'use client'
// One's own calendar read for busy half-days: a file, or an https address that the lab's server fetches once. What would
// be kept is shown first; nothing is kept before one says so, and then only the half-days.
import { useState } from 'react'
import { addDays, instantOf } from '#lib/base'
import type { OpOf } from '#lib/ops'
import type { CalendarRefused, RecordOf } from '#lib/words'
import { ActForm, Button, DialogButton, Notice, Row, Rows, TextField } from '../../_parts/controls/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { post } from '../../_shell/http.ts'
import { useTry } from '../../_shell/use-try.ts'
import { capital, namesIn, sayCount, sayDate } from '../../_text/index.ts'
import type { CrewAt } from '../use-crew-at.ts'

type CalendarProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** Half a year: who plans farther looks again. */
const DAYS_LOOKED_AT = 182

const refused: Readonly<Record<CalendarRefused, string>> = {
  'not-https': 'That is no https address.',
  'not-public': 'That address lies inside a private network. It is not fetched.',
  'no-answer': 'Nothing came from that address. Look whether it opens in a browser, or take the file.',
  'too-much': 'That calendar is larger than 4 MB.',
  'not-a-calendar': 'What lies there is no calendar.',
}

const UNREADABLE = 'That could not be read as a calendar. Nothing was kept.'

/** The button and its sheet. */
export function CalendarIn({ at, person }: CalendarProps) {
  return (
    <DialogButton kind="quiet" word="From my calendar…" title="Days away, from your calendar" className="mt-1 -ml-2">
      {(close) => <CalendarForm at={at} person={person} onDone={close} />}
    </DialogButton>
  )
}

type Busy = OpOf<'takeCalendar'>['busy']

function CalendarForm({ at, person, onDone }: CalendarProps & { readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const [address, setAddress] = useState('')
  const [isLooking, setLooking] = useState(false)
  const [trouble, setTrouble] = useState<string>()
  const [found, setFound] = useState<{ readonly busy: Busy; readonly times: number } | null>(null)
  const span = { from: at.today, to: addDays(at.today, DAYS_LOOKED_AT) }
  const names = namesIn(at.records)
  const before = person.exceptions.filter((one) => one.isFromCalendar && one.date >= at.today).length

  const read = async (text: string) => {
    // Fetched when somebody first asks: nobody else needs it.
    const { busyShifts, busyTimes } = await import('./busy.ts')
    const zone = at.records.lab.get('lab')?.zone ?? 'UTC'
    const [startMs, endMs] = [instantOf(zone, span.from, 0), instantOf(zone, addDays(span.to, 1), 0)]
    const times = busyTimes(text, { zone, startMs, endMs })
    setFound({ busy: busyShifts(at.records, person, times, span), times: times.length })
  }
  const look = async (getText: () => Promise<string | null>) => {
    setLooking(true)
    setTrouble(undefined)
    setFound(null)
    try {
      const text = await getText()
      if (text !== null) await read(text)
    } catch {
      setTrouble(UNREADABLE)
    } finally {
      setLooking(false)
    }
  }
  const fetched = async (): Promise<string | null> => {
    const answer = await post<{ text: string } | { refused: CalendarRefused }>('/api/calendar', { address })
    if (answer.ok && 'text' in answer.body) return answer.body.text
    setTrouble(
      answer.ok
        ? refused[(answer.body as { refused: CalendarRefused }).refused]
        : answer.status === 429
          ? 'Too often just now. Try again in a minute.'
          : 'The server could not be reached. Try again in a moment.',
    )
    return null
  }
  return (
    <ActForm
      act={
        found && found.busy.length === 0 ? 'Keep that' : `Note ${sayCount(found?.busy.length ?? 0, 'half-day')} as away`
      }
      problem={problem}
      isOff={found === null || (found.busy.length === 0 && before === 0)}
      onAct={() => {
        if (found && attempt({ kind: 'takeCalendar', ...span, busy: found.busy })) onDone()
      }}
    >
      <p className="text-wash">
        Only the half-days on which you are busy and would come are kept. Titles, places and people stay in your
        browser; the file and the address are not kept.
      </p>
      <label className="flex flex-col gap-1 font-firm">
        Calendar file
        <input
          type="file"
          accept=".ics,text/calendar"
          className="file-choice min-h-11 font-plain"
          onChange={(event) => {
            const file = event.target.files?.[0]
            if (file) void look(() => file.text())
          }}
        />
      </label>
      <div className="flex flex-wrap items-end gap-3">
        <TextField
          className="min-w-56 flex-1"
          label="Or its https address"
          type="url"
          maxLength={2000}
          value={address}
          onChange={(event) => setAddress(event.target.value)}
        />
        <Button disabled={address.trim() === '' || isLooking} onClick={() => void look(fetched)}>
          {isLooking ? 'Looking' : 'Look'}
        </Button>
      </div>
      {trouble === undefined ? null : <Notice kind="error">{trouble}</Notice>}
      {found === null ? null : (
        <div role="status">
          <p className="named text-say">
            {found.busy.length === 0
              ? `${capital(sayCount(found.times, 'busy time'))} until ${sayDate(span.to)}, none when you would come.`
              : `${capital(sayCount(found.times, 'busy time'))} until ${sayDate(span.to)}; ${found.busy.length} when you would come.`}
          </p>
          {before === 0 ? null : (
            <p className="text-small text-umber">In the place of {sayCount(before, 'half-day')} it said before.</p>
          )}
          <Rows label="Half-days that would be noted as away" className="max-h-60 overflow-y-auto">
            {found.busy.map(({ date, shiftId }) => (
              <Row key={`${date} ${shiftId}`} lead={<Mark name="away" size={22} />}>
                {sayDate(date)}, {names.shift(shiftId)}
              </Row>
            ))}
          </Rows>
        </div>
      )}
    </ActForm>
  )
}
