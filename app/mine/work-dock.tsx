'use client'
// What one presses at the bench, within reach of a thumb and large enough for a glove: start, pause, note, finish.
import { useEffect, useRef, useState } from 'react'
import { type MyTurn, minutesAtWork } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { useBoard, useNewId, useSave } from '../_board/index.ts'
import { Button, Live, Notice } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayClock, sayMinutes } from '../_text/index.ts'
import { FinishDialog } from './finish-dialog.tsx'
import { NoteDialog } from './note-dialog.tsx'
import { sayComing } from './say-coming.ts'

type WorkDockProps = {
  readonly turn: MyTurn
  readonly attendance: RecordOf<'attendance'> | null
  readonly nowMs: number
}

/** The dock. */
export function WorkDock({ turn, attendance, nowMs }: WorkDockProps) {
  const { attempt, problem } = useTry()
  const newId = useNewId()
  const records = useBoard((board) => board)
  const zone = records.lab.get('lab')?.zone ?? 'UTC'
  const [sheet, setSheet] = useState<'note' | 'finish' | null>(null)
  const [said, setSaid] = useState('')
  const { work, assignment } = turn
  const isOpen = work !== null && work.state !== 'finished'
  const isStepDone = turn.step.state === 'done'
  const save = useSave()
  const tell = (done: boolean, words: string) => {
    if (done) setSaid(words)
  }
  const dock = useRef<HTMLDivElement>(null)
  const state = work?.state ?? null
  // The button that was pressed is gone; the next Tab goes on from here and not from the top of the page. Another button in
  // its place would be pressed by a thumb that presses twice.
  // biome-ignore lint/correctness/useExhaustiveDependencies: when the state of the work changes what there is to press
  useEffect(() => {
    if (said !== '' && document.activeElement === document.body) dock.current?.focus({ preventScroll: true })
  }, [state])
  return (
    <div
      ref={dock}
      tabIndex={-1}
      className="tall:sticky bottom-0 z-10 -mx-4 mt-auto border-t-[1.5px] border-ink bg-plaster px-4 pt-2 pb-3 tablet:-mx-6 tablet:px-6 max-tablet:bottom-[calc(3.5rem+1.5px+env(safe-area-inset-bottom))]"
    >
      {isOpen ? (
        <p className="flex min-h-9 items-center gap-3">
          <Clock minutes={minutesAtWork(work, nowMs)} />
          <span className="text-small text-umber">
            {work.state === 'paused' ? 'paused' : `at work since ${sayClock(work.startedAt, zone)}`}
          </span>
        </p>
      ) : (
        <div className="flex min-h-11 items-center justify-between gap-3">
          <p className="text-small font-firm text-umber">
            {work === null
              ? sayComing(attendance)
              : `${isStepDone ? 'Step finished' : 'Finished'}, ${sayMinutes(work.minutes)}.${isStepDone ? '' : ' Start again if there is more.'}`}
          </p>
          {attendance?.state === 'in' || work !== null ? null : (
            <Button
              kind="quiet"
              onClick={() => {
                const { personId, date, shiftId } = assignment
                tell(attempt({ kind: 'attend', personId, date, shiftId, state: 'in', dueAt: null }), 'You are in.')
              }}
            >
              I am in
            </Button>
          )}
        </div>
      )}
      {save.state === 'offline' ? (
        <p className="pb-1 text-small text-umber">Offline. What you do is held here and sent later.</p>
      ) : null}
      <div className="mt-1 flex flex-wrap gap-2.5 tablet:gap-3.5">
        {isOpen && work.state === 'running' ? (
          <Button
            size="action"
            mark="pause"
            className="flex-1 px-2!"
            onClick={() => tell(attempt({ kind: 'pause', workId: work.id }), 'Paused.')}
          >
            Pause
          </Button>
        ) : null}
        {isOpen && work.state === 'paused' ? (
          <Button
            size="action"
            mark="start"
            className="flex-1 px-2!"
            onClick={() => tell(attempt({ kind: 'resume', workId: work.id }), 'At work again.')}
          >
            Go on
          </Button>
        ) : null}
        {isOpen || isStepDone ? null : (
          <Button
            kind="ink"
            size="action"
            mark="start"
            className="flex-1 px-2!"
            onClick={() =>
              tell(attempt({ kind: 'start', workId: newId(), assignmentId: assignment.id }), 'At work. The clock runs.')
            }
          >
            Start
          </Button>
        )}
        <Button size="action" mark="note" className="flex-1 px-2!" onClick={() => setSheet('note')}>
          Note
        </Button>
        {isOpen ? (
          <Button kind="ink" size="action" mark="finish" className="flex-1 px-2!" onClick={() => setSheet('finish')}>
            Finish
          </Button>
        ) : null}
      </div>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <Live message={said} />
      <NoteDialog turn={turn} isOpen={sheet === 'note'} onClose={() => setSheet(null)} />
      {isOpen ? (
        <FinishDialog
          records={records}
          turn={turn}
          work={work}
          nowMs={nowMs}
          isOpen={sheet === 'finish'}
          onClose={() => setSheet(null)}
          onDone={(words) => {
            setSheet(null)
            setSaid(words)
          }}
        />
      ) : null}
    </div>
  )
}

function Clock({ minutes }: { readonly minutes: number }) {
  const h = Math.floor(minutes / 60)
  return (
    <span className="inked text-page">
      {h === 0 ? '' : `${h} h `}
      {String(minutes % 60).padStart(h === 0 ? 1 : 2, '0')}
      {h === 0 ? ' min' : ''}
    </span>
  )
}
