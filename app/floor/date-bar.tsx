'use client'
// The day above the plan: its name with a step to either side, the shifts standing on the hours, and what may be done
// with the day.
import Link from 'next/link'
import { memo, type ReactNode } from 'react'
import { minuteOf } from '#lib/base'
import { paintsFor, useWho } from '../_board/index.ts'
import { Button, buttonClass } from '../_parts/controls/index.ts'
import { ShiftRail } from '../_parts/figures/index.ts'
import { sayDate } from '../_text/index.ts'
import { type FloorAt, openDay } from './use-floor.ts'

export type DateBarProps = {
  readonly at: FloorAt
  /** The day cannot be changed now. */
  readonly isFixed?: boolean
  readonly acts?: ReactNode
}

/** The day and its shifts. */
export function DateBar({ at, isFixed = false, acts }: DateBarProps) {
  const { records, date } = at
  const role = useWho()?.role
  const isStaff = role === 'manager' || role === 'preparator'
  const before = openDay(records, date, -1)
  const after = openDay(records, date, 1)
  return (
    <div className="flex flex-wrap items-center gap-x-6 desk:flex-nowrap desk:items-end">
      <div className="flex flex-none items-center">
        {isFixed ? null : (
          <Button
            kind="quiet"
            mark="before"
            label={`Day before, ${sayDate(before, 'long')}`}
            onClick={() => at.goTo(before)}
            className="-ml-3"
          />
        )}
        <h1 className="heading text-page whitespace-nowrap">
          <span className="hidden tablet:inline">{sayDate(date, 'long')}</span>
          <span className="tablet:hidden">{sayDate(date, 'brief')}</span>
        </h1>
        {isFixed ? null : (
          <Button
            kind="quiet"
            mark="after"
            label={`Day after, ${sayDate(after, 'long')}`}
            onClick={() => at.goTo(after)}
          />
        )}
        {isFixed || !isStaff ? null : (
          <Link href="/season" className={`${buttonClass('quiet')} no-print`}>
            Season
          </Link>
        )}
        {at.isToday || isFixed ? null : (
          <Button kind="quiet" onClick={() => at.goTo(at.today)}>
            Today
          </Button>
        )}
      </div>
      {acts ? (
        <div className="ml-auto flex flex-none items-center gap-3 self-center desk:order-last">{acts}</div>
      ) : null}
      <Shifts at={at} />
    </div>
  )
}

/** The shifts on the hours of the day. */
const Shifts = memo(function Shifts({ at }: { readonly at: FloorAt }) {
  return (
    <div className="date-rail min-w-0 basis-full desk:max-w-2xl desk:flex-1 desk:basis-0">
      {at.shifts.length > 0 && at.shift ? (
        <ShiftRail
          label="Shifts of the day"
          shifts={at.shifts.map((shift) => ({
            id: shift.id,
            name: shift.name,
            fromMinute: minuteOf(shift.start),
            toMinute: minuteOf(shift.end),
            times: `${shift.start}–${shift.end}`,
          }))}
          chosenId={at.shift.id}
          onChoose={at.chooseShift}
          nowMinute={at.isToday ? at.minute : undefined}
        />
      ) : (
        <p className="py-3 text-umber">The lab is closed on this day.</p>
      )}
    </div>
  )
}, paintsFor('lab'))
