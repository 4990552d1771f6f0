'use client'
// Drawing up the week: all open days together, so that no early day spends what a later one needs more. One steps
// through the days, opens one over its plan to wish and redraw, posts it, or posts all that are open. Posted days stay.
import { useMemo, useState } from 'react'
import type { Week, WeekDay } from '#lib/lineup'
import { useAsk, usePresence } from '../../_board/index.ts'
import { Button, Fold, Live, Notice } from '../../_parts/controls/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayCount, sayDate } from '../../_text/index.ts'
import { inked } from '../inked.tsx'
import { LineUp, type LineUpProps } from '../lineup/line-up.tsx'
import { bareTurn } from '../lineup/proposal.ts'
import { sayLeftOut } from '../lineup/say-left-out.ts'
import type { FloorAt } from '../use-floor.ts'
import { count, few } from '../words.ts'
import { nameOfLeft, sayGain, sayKept, saySeats, saySpan, sayWeekDay } from './say-week.ts'

const DAYS = 7

export type WeekFlowProps = Pick<LineUpProps, 'at' | 'frame' | 'size' | 'onEnd'>

/** The whole flow. */
export function WeekFlow({ at, frame, size, onEnd }: WeekFlowProps) {
  const [first] = useState(at.isPast ? at.today : at.date)
  const asked = useAsk<Week | { readonly refused: string }>(
    'drawWeek',
    useMemo(() => ({ date: first, days: DAYS }), [first]),
  )
  const [opened, setOpened] = useState<WeekDay | null>(null)
  usePresence('floor', 'drawing up the week')
  const week = asked.answer && !('refused' in asked.answer) ? asked.answer : null
  if (opened && at.date === opened.date && opened.proposal) {
    return (
      <LineUp
        key={opened.date}
        at={at}
        frame={frame}
        size={size}
        from={opened.proposal.assignments}
        limits={opened.limits}
        onEnd={() => setOpened(null)}
      />
    )
  }
  const isAsking = asked.state === 'asking'
  return (
    <div className="margin-page mx-auto flex max-w-4xl flex-col gap-4 pt-3 pb-8">
      <div className="flex flex-wrap items-end gap-x-6 gap-y-3">
        <div className="min-w-0 flex-1 basis-72">
          <h1 className="heading text-page">The week</h1>
          <p className="text-small text-umber">{saySpan(first, week?.days.at(-1)?.date ?? first)}</p>
        </div>
        <p className="flex items-center gap-2 font-strong text-chalk" role="status">
          <Mark name="drawn" size={22} />
          {isAsking
            ? week
              ? 'Drawn day by day, looking further'
              : 'Drawing up'
            : week
              ? 'Drawn up, not posted'
              : 'Not drawn up'}
        </p>
        <div className="flex flex-wrap gap-3">
          {isAsking ? <Button onClick={asked.stop}>Stop</Button> : <Button onClick={asked.again}>Draw again</Button>}
          <Button onClick={onEnd}>Put it away</Button>
        </div>
      </div>
      {asked.answer && 'refused' in asked.answer ? (
        <Notice kind="error" action={<Button onClick={asked.again}>Try again</Button>}>
          The week could not be drawn up. The Floor is as it was; nothing was lost.
        </Notice>
      ) : null}
      {week ? (
        <Days
          at={at}
          week={week}
          isAsking={isAsking}
          onOpen={(day) => {
            setOpened(day)
            at.goTo(day.date)
          }}
        />
      ) : isAsking ? (
        <p className="named text-say">Looking over all open days. Nothing is anybody's until you post.</p>
      ) : null}
    </div>
  )
}

type DaysProps = {
  readonly at: FloorAt
  readonly week: Week
  readonly isAsking: boolean
  readonly onOpen: (day: WeekDay) => void
}

function Days({ at, week, isAsking, onOpen }: DaysProps) {
  const { records } = at
  const { attempt, problem, clear } = useTry()
  const [refusedOn, setRefusedOn] = useState<string | null>(null)
  const open = week.days.filter((day) => day.state === 'open' && !records.day.has(day.date))
  const post = (day: WeekDay): boolean => {
    clear()
    const assignments = (day.proposal?.assignments ?? []).map(bareTurn)
    const isDone = attempt({ kind: 'post', date: day.date, assignments, note: records.day.get(day.date)?.note ?? '' })
    setRefusedOn(isDone ? null : day.date)
    return isDone
  }
  const turns = open.reduce((sum, day) => sum + day.turns, 0)
  return (
    <>
      <Live message={isAsking ? '' : `${count(open.length)} open days drawn up, ${sayCount(turns, 'turn')}.`} />
      <p className="named text-say">{isAsking ? 'Each day as it comes; now the days together.' : sayGain(week)}</p>
      <ol className="border-t-[1.5px] border-ink">
        {week.days.map((day) => (
          <DayRow
            key={day.date}
            at={at}
            day={day}
            kept={week.kept.filter(({ date }) => date === day.date)}
            isPostedNow={day.state === 'open' && records.day.has(day.date)}
            isAsking={isAsking}
            problem={refusedOn === day.date ? problem : undefined}
            onOpen={() => onOpen(day)}
            onPost={() => post(day)}
          />
        ))}
      </ol>
      {open.length > 1 ? (
        <div>
          <Button kind="ink" mark="posted" disabled={isAsking} onClick={() => open.every(post)}>
            {`Post all ${few(open.length)} open days`}
          </Button>
        </div>
      ) : null}
      <p className="text-small text-umber">
        The days' marks are added up, each day as it would be on its morning. A step has as many turns as its estimated
        hours bear; that it gets finished sooner is not assumed. Nobody has proved that no better week exists.
      </p>
    </>
  )
}

type DayRowProps = {
  readonly at: FloorAt
  readonly day: WeekDay
  readonly kept: Week['kept']
  readonly isPostedNow: boolean
  readonly isAsking: boolean
  readonly problem: string | undefined
  readonly onOpen: () => void
  readonly onPost: () => void
}

function DayRow({ at, day, kept, isPostedNow, isAsking, problem, onOpen, onPost }: DayRowProps) {
  const { records } = at
  const isOpen = day.state === 'open' && !isPostedNow
  const name = sayDate(day.date, 'long')
  const left = isOpen ? (day.proposal?.leftOut ?? []) : []
  const shifts = (records.lab.get('lab')?.shifts ?? []).flatMap((shift) => {
    const seats = saySeats(records, day, shift.id)
    return seats.length === 0 ? [] : [{ shift, seats }]
  })
  return (
    <li className="flex flex-col gap-2 border-b border-line py-3">
      <div className="flex flex-wrap items-center gap-x-4 gap-y-2">
        <div className="min-w-0 flex-1 basis-64">
          <h2 className="font-strong">{name}</h2>
          <p className={day.state === 'closed' ? 'text-umber' : ''}>
            {isPostedNow ? `Posted: ${sayCount(day.turns, 'turn')}.` : sayWeekDay(day)}
          </p>
        </div>
        {isOpen ? (
          <div className="flex flex-none gap-3">
            <Button disabled={isAsking} onClick={onOpen}>
              Open<span className="sr-only"> {name} over its plan</span>
            </Button>
            <Button kind="ink" disabled={isAsking} onClick={onPost}>
              Post<span className="sr-only"> {name}</span>
            </Button>
          </div>
        ) : null}
      </div>
      {kept.map((one) => (
        <p key={`${one.stepId}`} className="flex items-start gap-2 text-small">
          <Mark name="hold" size={20} className="flex-none" />
          <span>{inked(sayKept(records, one))}</span>
        </p>
      ))}
      {problem === undefined ? null : (
        <Notice kind="lost">
          <b>Not posted.</b> {problem}
        </Notice>
      )}
      {left.length > 0 ? (
        <Fold title={`Left out, ${few(left.length)}`}>
          <ul>
            {left.map((one) => (
              <li key={`${one.kind} ${one.id} ${one.shift ?? ''}`} className="border-t border-line py-1.5">
                <b>{inked(nameOfLeft(records, one))}</b>
                <span className="block text-small text-umber">{inked(sayLeftOut(records, one))}</span>
              </li>
            ))}
          </ul>
        </Fold>
      ) : null}
      {shifts.length > 0 ? (
        <Fold title="Who sits where">
          {shifts.map(({ shift, seats }) => (
            <div key={shift.id} className="pb-2">
              <h3 className="text-small font-strong text-umber">
                {shift.name}, {shift.start}–{shift.end}
              </h3>
              <ul className="grid gap-x-6 tablet:grid-cols-2">
                {seats.map((seat) => (
                  <li key={seat}>{inked(seat)}</li>
                ))}
              </ul>
            </div>
          ))}
        </Fold>
      ) : null}
    </li>
  )
}
