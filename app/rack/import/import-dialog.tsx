'use client'
// The backlog from a spreadsheet: choose the file, look at what its columns mean and which cells are in doubt, bring it
// into the archive a few hundred rows at a time, and take it all out again by the same file.
import { useEffect, useMemo, useRef, useState } from 'react'
import { type DateOrder, type ImportField, importFields } from '#lib/import'
import { useSave } from '../../_board/index.ts'
import { Button, Dialog, Fold, Notice, Select } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { capital, grouped, sayCount } from '../../_text/index.ts'
import { makePace, type Pace } from './pace.ts'
import type { Asks, Planned } from './planner.ts'
import { fieldWords, sayDoubt, sayUnread } from './say.ts'
import { type AskPlanner, usePlanner } from './use-planner.ts'

export type ImportDialogProps = { readonly isOpen: boolean; readonly onClose: () => void }

type Chosen = { readonly name: string; readonly bytes: Uint8Array }
type Running = { readonly parts: number; readonly at: number; readonly isUndo: boolean }

/** A file of a hundred thousand rows is about as large. */
const BYTES_MAX = 60_000_000

/** The dialog. */
export default function ImportDialog({ isOpen, onClose }: ImportDialogProps) {
  const [chosen, setChosen] = useState<Chosen>()
  const [separator, setSeparator] = useState('')
  const [changed, setChanged] = useState<Readonly<Record<number, ImportField | ''>>>({})
  const [order, setOrder] = useState<DateOrder | ''>('')
  const [refused, setRefused] = useState<string>()
  const ask = usePlanner(() => setRefused('The file could not be gone through on this device. Nothing was brought in.'))
  const { running, run, isDone, problem, forget } = useRun(ask)
  const file = useMemo(() => (chosen === undefined ? null : { bytes: chosen.bytes, separator }), [chosen, separator])
  const sheet = useAnswer(ask, 'read', file)
  const columns = useMemo(
    () =>
      sheet?.ok ? sheet.found.map((field, at) => (changed[at] === undefined ? field : changed[at] || null)) : null,
    [sheet, changed],
  )
  const meant = useMemo(() => (columns === null ? null : { columns, order }), [columns, order])
  const planned: Planned | null = useAnswer(ask, 'plan', meant)
  const plan = planned?.plan ?? null
  const isThinking = chosen !== undefined && (sheet === null || (sheet.ok && planned === null))
  const choose = async (file: File | undefined) => {
    if (!file) return
    forget()
    setChanged({})
    setSeparator('')
    setOrder('')
    setRefused(undefined)
    setChosen(undefined)
    if (file.size > BYTES_MAX) return setRefused('More than 60 MB. Cut the file in two. Nothing was brought in.')
    try {
      setChosen({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) })
    } catch {
      setRefused('The file could not be read from this device. Nothing was brought in.')
    }
  }

  return (
    <Dialog
      isOpen={isOpen}
      title="From a spreadsheet"
      width="wide"
      onClose={onClose}
      actions={
        plan && plan.jackets > 0 ? (
          <>
            <Button size="action" disabled={running !== null} onClick={() => run(plan.parts, true)}>
              Take out what this file brought in
            </Button>
            <Button kind="ink" size="action" disabled={running !== null} onClick={() => run(plan.parts, false)}>
              Bring in {sayCount(plan.jackets, 'jacket')}
            </Button>
          </>
        ) : undefined
      }
    >
      <div className="flex flex-col gap-4">
        <p>
          A file of comma separated values with a row of names. Its jackets go into the archive, where they are found
          and brought to the board when wanted. A jacket that is there already stays as it is.
        </p>
        <label className="flex min-h-11 flex-col gap-1 font-firm">
          File
          <input
            type="file"
            accept=".csv,.tsv,.txt,text/csv"
            className="file-choice min-h-11 font-normal"
            disabled={running !== null}
            onChange={(event) => void choose(event.target.files?.[0])}
          />
        </label>
        {refused === undefined ? null : <Notice kind="error">{refused}</Notice>}
        {sheet && !sheet.ok ? <Notice kind="error">{sayUnread(sheet)}</Notice> : null}
        {sheet?.ok ? (
          <>
            <p className="font-strong" role="status">
              {capital(sayCount(sheet.rows, 'row'))}, {sayCount(sheet.head.length, 'column')}, read as{' '}
              {sheet.encoding.toUpperCase()}.{plan ? ` ${sayPlan(plan)}` : ''}
            </p>
            <div className="grid grid-cols-1 gap-3 tablet:grid-cols-2">
              <Select
                label="Cells are parted by"
                value={separator || sheet.separator}
                choices={[
                  { value: ',', label: 'Comma' },
                  { value: ';', label: 'Semicolon' },
                  { value: '\t', label: 'Tab' },
                  { value: '|', label: 'Upright stroke' },
                ]}
                onValue={(value) => {
                  setSeparator(value)
                  setChanged({})
                }}
              />
              {planned?.isOrderAsked ? (
                <Select
                  label="Dates are written"
                  value={planned.order ?? ''}
                  choices={[
                    { value: '', label: 'choose: the file does not tell' },
                    { value: 'dmy', label: 'day, month, year' },
                    { value: 'mdy', label: 'month, day, year' },
                  ]}
                  onValue={(value) => setOrder(value as DateOrder | '')}
                />
              ) : null}
            </div>
            <fieldset>
              <legend className="heading text-section">What the columns mean</legend>
              <div className="grid grid-cols-1 gap-3 pt-2 tablet:grid-cols-2">
                {sheet.head.map((name, at) => (
                  <Select
                    // A column is its place; names may repeat
                    key={at}
                    label={`${name || `Column ${at + 1}`}: ${sheet.samples[at] ?? ''}`}
                    value={columns?.[at] ?? ''}
                    choices={[
                      { value: '', label: 'kept in the note' },
                      ...importFields
                        .filter((field) => columns?.[at] === field || !columns?.includes(field))
                        .map((field) => ({ value: field, label: fieldWords[field] })),
                    ]}
                    onValue={(value) => setChanged((before) => ({ ...before, [at]: value as ImportField | '' }))}
                  />
                ))}
              </div>
            </fieldset>
            {columns?.includes('fieldNumber') ? null : (
              <Notice kind="error">Say which column holds the field number; nothing comes in without one.</Notice>
            )}
          </>
        ) : null}
        {isThinking && refused === undefined ? <p role="status">Going through the file.</p> : null}
        {plan ? <Doubts plan={plan} /> : null}
        {running ? (
          <p role="status" className="font-strong">
            {running.isUndo ? 'Taking out' : 'Bringing in'}: {running.at} of {running.parts} parts. The board goes on;
            keep this page open. Whatever stops it, the same file brings in the rest.
          </p>
        ) : null}
        {isDone === null ? null : (
          <Notice kind="plain">
            {isDone === 'undo'
              ? 'Taken out again, but for jackets that were brought to the board since.'
              : 'Kept in the archive. The same file takes them out again.'}
          </Notice>
        )}
        {problem === undefined ? null : <Notice kind="error">Stopped. {problem} What was kept so far stays.</Notice>}
      </div>
    </Dialog>
  )
}

/** What comes in, what stays out, and where to read of it. */
function sayPlan({ jackets, out, doubts }: NonNullable<Planned['plan']>): string {
  const comes = `${capital(sayCount(jackets, 'jacket'))} can come in`
  const stays = out === 0 ? '' : `, ${sayCount(out, 'row')} ${out === 1 ? 'stays' : 'stay'} out`
  return `${comes}${stays}.${doubts === 0 ? '' : ` ${capital(sayCount(doubts, 'cell'))} in doubt ${doubts === 1 ? 'is' : 'are'} listed below the columns.`}`
}

/** What the planner answers to this question, null until it does: an older answer is not shown beside a newer question. */
function useAnswer<K extends keyof Asks>(ask: AskPlanner, what: K, question: Asks[K]['ask'] | null) {
  const [answered, setAnswered] = useState<{ readonly to: unknown; readonly answer: Asks[K]['answer'] } | null>(null)
  useEffect(() => {
    if (question === null) return
    let isWanted = true
    void ask(what, question).then((answer) => {
      if (isWanted) setAnswered({ to: question, answer })
    })
    return () => {
      isWanted = false
    }
  }, [ask, what, question])
  return question !== null && answered?.to === question ? answered.answer : null
}

/** Each doubtful cell beside its line; rows that stay out first. */
function Doubts({ plan }: { readonly plan: NonNullable<Planned['plan']> }) {
  if (plan.doubts === 0) return <p>No cell is in doubt.</p>
  const { shown } = plan
  const cells = capital(sayCount(plan.doubts, 'cell'))
  return (
    <Fold isOpen title={`${cells} in doubt${plan.out > 0 ? `; ${sayCount(plan.out, 'row')} left out` : ''}`}>
      <ul className="pt-1">
        {shown.map((doubt) => (
          <li key={`${doubt.line} ${doubt.column} ${doubt.why}`} className="border-b border-line py-1.5">
            {sayDoubt(doubt)}
          </li>
        ))}
      </ul>
      {plan.doubts > shown.length ? (
        <p className="text-small text-umber">And {grouped(plan.doubts - shown.length)} more.</p>
      ) : null}
    </Fold>
  )
}

/** Acts one after the other: the next when the one before is kept, so that other people's edits go between. */
function useRun(ask: AskPlanner) {
  const { attempt, problem, clear } = useTry()
  const { count, state } = useSave()
  const [running, setRunning] = useState<Running | null>(null)
  const [isDone, setDone] = useState<'in' | 'undo' | null>(null)
  const isFree = count === 0 && state === 'kept'
  const pace = useRef<Pace>(null)
  useEffect(() => {
    if (running === null || !isFree) return
    let isWanted = true
    let timer: number | undefined
    pace.current ??= makePace(performance.now())
    const { waitMs, take } = pace.current
    void ask('part', { at: running.at, isUndo: running.isUndo }).then((body) => {
      if (!isWanted) return
      if (body === null) {
        setDone(running.isUndo ? 'undo' : 'in')
        return setRunning(null)
      }
      const letters = JSON.stringify(body).length
      timer = window.setTimeout(
        () => {
          take(letters, performance.now())
          setRunning(attempt(body) ? { ...running, at: running.at + 1 } : null)
        },
        waitMs(letters, performance.now()),
      )
    })
    return () => {
      isWanted = false
      window.clearTimeout(timer)
    }
  }, [running, isFree, attempt, ask])
  return {
    running,
    isDone,
    problem,
    run: (parts: number, isUndo: boolean) => {
      setDone(null)
      clear()
      setRunning({ parts, at: 0, isUndo })
    },
    forget: () => {
      setDone(null)
      clear()
    },
  }
}
