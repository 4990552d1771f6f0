'use client'
// My shift, phone first: one question a screen. Where do I sit, with what, how gently, and what do I press next;
// somebody free is shown what they could claim instead.
import { useMemo, useState } from 'react'
import { type MyShift, myShiftOf } from '#lib/views'
import type { RecordOf, Records, ShiftId } from '#lib/words'
import { useBoard, useNow, useWho } from '../_board/index.ts'
import { Notice, RowsComing, Select } from '../_parts/controls/index.ts'
import { later } from '../_shell/later.tsx'
import { sayDate } from '../_text/index.ts'
import { Claims } from './claims.tsx'
import { Coming } from './coming.tsx'
import { NextTurns } from './next-turns.tsx'
import { Reseats } from './reseats.tsx'
import { TurnView } from './turn-view.tsx'
import { WorkDock } from './work-dock.tsx'

const NextStep = later(async () => (await import('./next-step.tsx')).NextStep)
const NotYet = later(async () => (await import('./next-step.tsx')).NotYet)
const Swaps = later(async () => (await import('./swaps/swaps.tsx')).Swaps)
const OwnExposure = later(async () => (await import('./own-exposure.tsx')).OwnExposure)
const CalendarButton = later(async () => (await import('./calendar-button.tsx')).default)

/** The screen. */
export function MineScreen() {
  const who = useWho()
  const records = useBoard((board) => board)
  const now = useNow(30_000)
  const [chosen, setChosen] = useState<ShiftId | null>(null)
  const mine = useMemo(
    () => (who === null || now.ms === 0 ? null : myShiftOf(records, who.personId, now, chosen)),
    [records, who, now, chosen],
  )
  if (who === null || mine === null || !records.lab.has('lab')) {
    return (
      <div className="margin-page mx-auto max-w-xl py-4">
        <h1 className="heading text-page">My shift</h1>
        <RowsComing />
      </div>
    )
  }
  if (who.role === 'researcher') return <NoSeat />
  // Work that runs stays in hand, whichever shift one looks at.
  const turn = mine.open ?? mine.turn
  return (
    <div className="margin-page mx-auto flex max-w-xl flex-col max-tablet:min-h-[calc(100dvh-7rem-3px)] desk:max-w-2xl">
      <h1 className="sr-only">My shift</h1>
      <ShiftLine records={records} mine={mine} date={now.date} onChoose={setChosen} />
      <NotYet records={records} personId={who.personId} date={now.date} />
      <Reseats records={records} personId={who.personId} today={now.date} />
      {turn === null ? (
        <Free records={records} mine={mine} personId={who.personId} date={now.date} />
      ) : (
        <>
          <TurnView records={records} turn={turn} personId={who.personId} />
          <Coming mine={mine} personId={who.personId} date={now.date} isSeated />
        </>
      )}
      <OwnExposure records={records} personId={who.personId} date={now.date} />
      <NextStep records={records} personId={who.personId} date={now.date} />
      <NextTurns turns={mine.next} today={now.date} />
      <Swaps records={records} personId={who.personId} today={now.date} minute={now.minute} />
      <CalendarButton records={records} personId={who.personId} date={now.date} />
      {turn === null || mine.phase === 'closed' ? (
        <div className="pb-6" />
      ) : (
        <WorkDock turn={turn} attendance={mine.attendance} nowMs={now.ms} />
      )}
    </div>
  )
}

type ShiftLineProps = {
  readonly records: Records
  readonly mine: MyShift
  readonly date: string
  readonly onChoose: (shiftId: ShiftId) => void
}

/** "Thursday, morning to 12:30", and the other shifts of the day behind it. */
function ShiftLine({ records, mine, date, onChoose }: ShiftLineProps) {
  const shifts = records.lab.get('lab')?.shifts ?? []
  if (mine.shift === null) return <p className="pt-3 text-umber">{sayDate(date)}. The lab is closed.</p>
  const words = { before: `from ${mine.shift.start}`, now: `to ${mine.shift.end}`, over: 'is over', closed: '' }
  // Three letters, so that the line is one line on the narrowest phone.
  const weekday = sayDate(date).slice(0, 3)
  return (
    <div className="flex flex-wrap items-center justify-between gap-3 pt-2 pb-1">
      <p className="font-firm text-umber">
        {weekday}, {mine.shift.name.toLowerCase()} {words[mine.phase]}
      </p>
      {shifts.length > 1 ? (
        <Select
          label="Shift"
          isLabelHidden
          value={mine.shift.id}
          choices={shifts.map((shift) => ({ value: shift.id, label: shift.name }))}
          onValue={(value) => {
            const shift = shifts.find((one) => one.id === value)
            if (shift) onChoose(shift.id)
          }}
        />
      ) : null}
    </div>
  )
}

type FreeProps = {
  readonly records: Records
  readonly mine: MyShift
  readonly personId: RecordOf<'person'>['id']
  readonly date: string
}

/** Nobody planned this person: say so, and what is open to them. */
function Free({ records, mine, personId, date }: FreeProps) {
  const state = mine.attendance?.state
  if (mine.shift === null || mine.phase === 'over')
    return (
      <Notice kind="empty" className="mt-4">
        {mine.shift === null ? 'Nothing today.' : 'This shift is over.'}
      </Notice>
    )
  const isGone = state === 'away' || state === 'left'
  const isPosted = records.day.has(date)
  const [title, words] = isGone
    ? [state === 'away' ? 'You are away.' : 'You have left.', 'Your seat is free for somebody else.']
    : isPosted
      ? ['You are free.', 'Nobody has planned you in this shift. These suit you and wait for somebody.']
      : ['Not posted yet.', 'The line-up is still being drawn up. You can claim what suits you now.']
  return (
    <section className="pt-1">
      <h2 className="heading text-title">{title}</h2>
      <p className="pt-1 text-say">{words}</p>
      <Coming mine={mine} personId={personId} date={date} isSeated={false} />
      {isGone ? null : <Claims records={records} personId={personId} date={date} shift={mine.shift} />}
    </section>
  )
}

function NoSeat() {
  return (
    <div className="margin-page mx-auto max-w-xl py-4">
      <h1 className="heading text-page">My shift</h1>
      <Notice kind="empty">You follow specimens and have no seat here. They are under Due.</Notice>
    </div>
  )
}
