'use client'
// When it has to be ready, and when it will be: the finish window on its own axis against the first date, the sentence,
// then each date with where it stands. The manager accepts, moves and ends; staff and researchers ask.
import { useMemo } from 'react'
import { dayNumber } from '#lib/base'
import { finishWindow, paceOf } from '#lib/forecast'
import { type DueWindow, dueBoard, pieceForecast } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { Button, DialogButton, FoldingSection, Notice, useWidth } from '../_parts/controls/index.ts'
import { FinishWindow, type Scale, TimeAxis } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayDate, sayDistance, sayDueKind, sayDueState, sayHoursSpan, sayReady, sayWindow } from '../_text/index.ts'
import { sayWhy } from '../season/say.ts'
import { useSeason } from '../season/use-season.ts'
import { DueForm } from './due-form.tsx'
import { HoursWhy } from './hours-why.tsx'
import { nameOf, type SheetAt } from './sheet-at.ts'
import { sayShort } from './words.ts'

/** The forecast and the dates. */
export function Dates({ at }: { readonly at: SheetAt }) {
  const { dues } = at.sheet
  const mayAsk = !at.isResting && at.role !== 'volunteer' && at.role !== 'wall'
  if (dues.length === 0 && !mayAsk && at.isResting) return null
  const isAsked = at.isManager && dues.some((due) => due.state === 'asked')
  return (
    // A researcher comes for them; of a date that is asked for, the manager has to say yes or no.
    <FoldingSection id="dates" title="Dates" brief={isAsked || at.role === 'researcher' ? null : sayDates(at)}>
      {at.isResting ? null : <Ready at={at} />}
      {dues.length === 0 ? <p className="py-2 text-umber">Nobody has set a date.</p> : null}
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told */}
      <ul role="list" aria-label="Dates">
        {dues.map((due) => (
          <DueRow key={due.id} at={at} due={due} />
        ))}
      </ul>
      {mayAsk ? (
        <DialogButton
          mark="plumb"
          word={at.isManager ? 'Set a date…' : 'Ask for a date…'}
          title={at.isManager ? 'A date' : 'Ask for a date'}
          className="no-print mt-3"
        >
          {(close) => <DueForm at={at} due={null} onDone={close} />}
        </DialogButton>
      ) : null}
    </FoldingSection>
  )
}

function sayDates({ sheet, today }: SheetAt): string {
  const live = sheet.dues.filter(({ state }) => state === 'asked' || state === 'accepted').length
  if (!sheet.due) return live > 0 ? `${live} asked for` : 'none'
  return `${sayShort(sheet.due.date, today)}${live > 1 ? ` and ${live - 1} more` : ''}`
}

/** The finish window, drawn and said: the season's once it is counted, a quick count until then. */
function Ready({ at }: { readonly at: SheetAt }) {
  const { records, today, sheet } = at
  const { season } = useSeason()
  const quick = useMemo(
    () => (today < '2000' ? null : finishWindow(records, sheet.id, today, paceOf(records, today))),
    [records, sheet.id, today],
  )
  const forecast = useMemo(
    () => (quick === null ? null : pieceForecast(season, sheet.id, quick)),
    [season, sheet.id, quick],
  )
  const rows = useMemo(
    () => dueBoard(records, today, { only: new Set([sheet.id]), season }).rows.filter((row) => row.chance !== null),
    [records, today, sheet.id, season],
  )
  if (!forecast || forecast.state === 'unknown') {
    return sheet.due ? <p className="pt-2 text-umber">No steps and no pace to go by yet, so no forecast.</p> : null
  }
  if (forecast.state === 'ready') return <p className="named pt-2 text-say">All its steps are done.</p>
  const { window, leftH, isUnseen } = forecast
  const row = rows.find(({ due }) => due.id === sheet.due?.id)
  return (
    <div className="pt-2">
      <p className="named text-say">
        {row && row.chance !== null ? `${sayReady(row.chance, sayShort(row.due.date, today))} ` : ''}
        {sayFinish(window)}
      </p>
      {window.beyond.includes('p10') ? null : <Lens at={at} window={window} />}
      <p className="text-small text-umber">
        {sayHoursSpan(leftH.p10, leftH.p90)} left.
        {isUnseen ? ' Not opened yet, so the window is wide.' : ''}
        {row?.outlook ? ` ${sayWhy(row.outlook.reasons, records)}` : ''}
      </p>
      <HoursWhy at={at} />
    </div>
  )
}

function sayFinish({ p10, p50, p90, beyond }: DueWindow): string {
  if (beyond.includes('p10')) return `Hardly ready before ${sayDate(p90, 'full')}.`
  if (beyond.includes('p50'))
    return `Ready ${sayDate(p10, 'full')} at the earliest, more likely after ${sayDate(p90, 'full')}.`
  const span = beyond.includes('p90') ? `${sayDate(p10, 'full')} or later` : sayWindow(p10, p90)
  return `Ready ${span}, most likely about ${sayDate(p50, 'short')}.`
}

function Lens({ at, window }: { readonly at: SheetAt; readonly window: DueWindow }) {
  const [frame, width] = useWidth<HTMLDivElement>(340)
  const { due } = at.sheet
  const todayDay = dayNumber(at.today)
  const [low, median, high] = [dayNumber(window.p10), dayNumber(window.p50), dayNumber(window.p90)]
  const dueDay = due ? dayNumber(due.date) : undefined
  const far = Math.max(high, dueDay ?? high)
  const scale: Scale = {
    from: Math.min(todayDay, dueDay ?? todayDay) - 2,
    to: far + Math.max(4, (far - todayDay) * 0.14),
    left: 4,
    right: width - 4,
  }
  return (
    <div ref={frame} className="measured overflow-hidden py-1">
      <TimeAxis scale={scale} width={width} todayDay={todayDay} monthWord={monthWord} />
      <FinishWindow
        scale={scale}
        width={width}
        height={76}
        todayDay={todayDay}
        lowDay={low}
        medianDay={median}
        highDay={high}
        lowWord={sayShort(window.p10, at.today)}
        highWord={`${window.beyond.includes('p90') ? 'after ' : ''}${sayShort(window.p90, at.today)}`}
        dueDay={dueDay}
        dueWord={due ? `due ${sayShort(due.date, at.today)}` : undefined}
        label={`Finish window ${sayWindow(window.p10, window.p90)}, median ${sayDate(window.p50, 'short')}`}
      />
    </div>
  )
}

const monthWord = (date: string): string => {
  const month = sayDate(date, 'brief').split(' ')[2] ?? ''
  return date.slice(5, 7) === '01' ? `${month} ${date.slice(2, 4)}` : month
}

function DueRow({ at, due }: { readonly at: SheetAt; readonly due: RecordOf<'due'> }) {
  const { attempt, problem } = useTry()
  const isLive = due.state === 'asked' || due.state === 'accepted'
  const when = due.date.slice(0, 4) === at.today.slice(0, 4) ? sayDate(due.date, 'long') : sayDate(due.date, 'full')
  return (
    <li className={`border-b border-line py-2.5 ${isLive ? '' : 'text-umber'}`}>
      <div className="flex items-start gap-3">
        <Mark name="plumb" size={22} className="mt-0.5" />
        <div className="min-w-0 flex-1">
          <p>
            <b>{when}</b>, {sayDueKind(due.kind)}
            {due.isHard ? ', cannot move' : ''}
          </p>
          <p className="text-small text-umber">
            {sayDueState(due.state)}
            {isLive ? `, ${sayDistance(due.date, at.today)}` : ''}. {nameOf(at, due.by)}
            {due.note === '' ? '' : `: ${due.note}`}
          </p>
          {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
        </div>
      </div>
      {at.isManager ? (
        <div className="no-print flex flex-wrap gap-2 pt-1 pl-8">
          {due.state === 'asked' ? (
            <Button onClick={() => attempt({ kind: 'answerDue', dueId: due.id, accept: true })}>Accept</Button>
          ) : null}
          {due.state === 'asked' ? (
            <Button onClick={() => attempt({ kind: 'answerDue', dueId: due.id, accept: false })}>Decline</Button>
          ) : null}
          {isLive ? (
            <DialogButton kind="quiet" word="Move…" label={`Move the date ${when}`} title="Move the date">
              {(close) => <DueForm at={at} due={due} onDone={close} />}
            </DialogButton>
          ) : (
            <Button kind="quiet" onClick={() => attempt({ kind: 'answerDue', dueId: due.id, accept: true })}>
              Accept again
            </Button>
          )}
          {due.state === 'accepted' ? (
            <>
              <Button kind="quiet" onClick={() => attempt({ kind: 'endDue', dueId: due.id, state: 'met' })}>
                It is met
              </Button>
              <Button kind="quiet" onClick={() => attempt({ kind: 'endDue', dueId: due.id, state: 'dropped' })}>
                Drop it
              </Button>
            </>
          ) : null}
        </div>
      ) : null}
    </li>
  )
}
