'use client'
// The backlog from a spreadsheet: choose the file, look at what its columns mean and which cells are in doubt, bring it
// into the archive a few hundred rows at a time, and take it all out again by the same file.
import { useEffect, useMemo, useState } from 'react'
import {
  columnsOf,
  type DateOrder,
  type ImportField,
  type ImportPlan,
  importFields,
  needsOrder,
  orderOf,
  planImport,
  readSheet,
} from '#lib/import'
import type { OpBody } from '#lib/ops'
import { useSave } from '../../_board/index.ts'
import { Button, Dialog, Fold, Notice, Select } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { capital, grouped, sayCount } from '../../_text/index.ts'
import { fieldWords, sayDoubt, sayUnread } from './say.ts'

export type ImportDialogProps = { readonly isOpen: boolean; readonly onClose: () => void }

type Chosen = { readonly name: string; readonly bytes: Uint8Array }
type Running = { readonly bodies: readonly OpBody[]; readonly at: number; readonly isUndo: boolean }

/** A file of a hundred thousand rows is about as large. */
const BYTES_MAX = 60_000_000
const ROWS_A_TIME = 250
const DOUBTS_SHOWN = 200

/** The dialog. */
export default function ImportDialog({ isOpen, onClose }: ImportDialogProps) {
  const [chosen, setChosen] = useState<Chosen>()
  const [separator, setSeparator] = useState('')
  const [changed, setChanged] = useState<Readonly<Record<number, ImportField | ''>>>({})
  const [order, setOrder] = useState<DateOrder | ''>('')
  const [refused, setRefused] = useState<string>()
  const { running, run, isDone, problem, forget } = useRun()
  const sheet = useMemo(
    () => (chosen ? readSheet(chosen.bytes, separator === '' ? undefined : separator) : null),
    [chosen, separator],
  )
  const found = useMemo(() => (sheet?.ok ? columnsOf(sheet.head, sheet.lines) : []), [sheet])
  const columns = useMemo(
    () => found.map((field, at) => (changed[at] === undefined ? field : changed[at] || null)),
    [found, changed],
  )
  const dates = useMemo(() => {
    const at = columns.indexOf('collectedOn')
    return sheet?.ok && at >= 0 ? sheet.lines.map(({ cells }) => cells[at] ?? '') : []
  }, [sheet, columns])
  const isOrderAsked = needsOrder(dates)
  const used = order || orderOf(dates)
  const isReady = columns.includes('fieldNumber') && (!isOrderAsked || used !== null)
  const plan = useMemo(
    () => (sheet?.ok && isReady ? planImport(sheet, columns, used ?? 'dmy') : null),
    [sheet, columns, used, isReady],
  )
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
        plan && plan.jackets.length > 0 ? (
          <>
            <Button size="action" disabled={running !== null} onClick={() => run(undoOf(plan), true)}>
              Take these out again
            </Button>
            <Button kind="ink" size="action" disabled={running !== null} onClick={() => run(actsOf(plan), false)}>
              Bring in {sayCount(plan.jackets.length, 'jacket')}
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
            className="min-h-11 font-normal"
            disabled={running !== null}
            onChange={(event) => void choose(event.target.files?.[0])}
          />
        </label>
        {refused === undefined ? null : <Notice kind="error">{refused}</Notice>}
        {sheet && !sheet.ok ? <Notice kind="error">{sayUnread(sheet)}</Notice> : null}
        {sheet?.ok ? (
          <>
            <p className="font-strong" role="status">
              {grouped(sheet.lines.length)} rows, {sayCount(sheet.head.length, 'column')}, read as {sheet.encoding}.
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
              {isOrderAsked ? (
                <Select
                  label="Dates are written"
                  value={used ?? ''}
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
                    // biome-ignore lint/suspicious/noArrayIndexKey: a column is its place; names may repeat
                    key={at}
                    label={`${name || `Column ${at + 1}`}: ${sampleOf(sheet.lines, at)}`}
                    value={columns[at] ?? ''}
                    choices={[
                      { value: '', label: 'kept in the note' },
                      ...importFields
                        .filter((field) => columns[at] === field || !columns.includes(field))
                        .map((field) => ({ value: field, label: fieldWords[field] })),
                    ]}
                    onValue={(value) => setChanged((before) => ({ ...before, [at]: value as ImportField | '' }))}
                  />
                ))}
              </div>
            </fieldset>
            {columns.includes('fieldNumber') ? null : (
              <Notice kind="error">Say which column holds the field number; nothing comes in without one.</Notice>
            )}
          </>
        ) : null}
        {plan ? <Doubts plan={plan} /> : null}
        {running ? (
          <p role="status" className="font-strong">
            {running.isUndo ? 'Taking out' : 'Bringing in'}: {running.at} of {running.bodies.length} parts. The board
            goes on; keep this page open. Whatever stops it, the same file brings in the rest.
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

const sampleOf = (lines: readonly { readonly cells: readonly string[] }[], at: number): string =>
  (lines.find(({ cells }) => (cells[at] ?? '') !== '')?.cells[at] ?? 'empty').slice(0, 40)

/** Each doubtful cell beside its line; rows that stay out first. */
function Doubts({ plan }: { readonly plan: ImportPlan }) {
  if (plan.doubts.length === 0) return <p>No cell is in doubt.</p>
  const out = plan.doubts.filter((doubt) => doubt.isOut)
  const shown = [...out, ...plan.doubts.filter((doubt) => !doubt.isOut)].slice(0, DOUBTS_SHOWN)
  const cells = capital(sayCount(plan.doubts.length, 'cell'))
  return (
    <Fold isOpen title={`${cells} in doubt${out.length > 0 ? `; ${sayCount(out.length, 'row')} left out` : ''}`}>
      <ul className="pt-1">
        {shown.map((doubt) => (
          <li key={`${doubt.line} ${doubt.column} ${doubt.why}`} className="border-b border-line py-1.5">
            {sayDoubt(doubt)}
          </li>
        ))}
      </ul>
      {plan.doubts.length > shown.length ? (
        <p className="text-small text-umber">And {grouped(plan.doubts.length - shown.length)} more.</p>
      ) : null}
    </Fold>
  )
}

function pieces<T>(all: readonly T[]): readonly T[][] {
  return Array.from({ length: Math.ceil(all.length / ROWS_A_TIME) }, (_one, i) =>
    all.slice(i * ROWS_A_TIME, (i + 1) * ROWS_A_TIME),
  )
}
const actsOf = (plan: ImportPlan): readonly OpBody[] =>
  pieces(plan.jackets).map((jackets) => ({ kind: 'importRows', importId: plan.importId, jackets }))
const undoOf = (plan: ImportPlan): readonly OpBody[] =>
  pieces(plan.jackets.map(({ id }) => id)).map((pieceIds) => ({
    kind: 'undoImport',
    importId: plan.importId,
    pieceIds,
  }))

/** Acts one after the other: the next when the one before is kept, so that other people's edits go between. */
function useRun() {
  const { attempt, problem, clear } = useTry()
  const { count, state } = useSave()
  const [running, setRunning] = useState<Running | null>(null)
  const [isDone, setDone] = useState<'in' | 'undo' | null>(null)
  useEffect(() => {
    if (running === null || count > 0 || state !== 'kept') return
    const body = running.bodies[running.at]
    if (body === undefined) {
      setDone(running.isUndo ? 'undo' : 'in')
      setRunning(null)
    } else if (attempt(body)) setRunning({ ...running, at: running.at + 1 })
    else setRunning(null)
  }, [running, count, state, attempt])
  return {
    running,
    isDone,
    problem,
    run: (bodies: readonly OpBody[], isUndo: boolean) => {
      setDone(null)
      clear()
      setRunning({ bodies, at: 0, isUndo })
    },
    forget: () => {
      setDone(null)
      clear()
    },
  }
}
