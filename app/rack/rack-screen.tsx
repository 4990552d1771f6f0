'use client'
// The Rack: search as one types, show and sort, "fit for me" with why not, intake in under a minute, and the archive
// behind it.
import { useDeferredValue, useMemo, useState } from 'react'
import { type Fit, fitForMe } from '#lib/rules'
import { myShiftOf, type RackAsk, type RackShow, type RackSort, rackList, rackRows } from '#lib/views'
import type { Records, Shift } from '#lib/words'
import { useBoard, useNow, useWho } from '../_board/index.ts'
import { Button, Check, Live, Notice, PageHeading, RowsComing, SearchField, Select } from '../_parts/controls/index.ts'
import { sayCount } from '../_text/index.ts'
import { useChances } from '../floor/use-chances.ts'
import { ArchiveRows } from './archive-rows.tsx'
import { IntakeDialog } from './intake-dialog.tsx'
import { RackRows } from './rack-rows.tsx'

const shows: readonly { readonly value: RackShow; readonly label: string }[] = [
  { value: 'all', label: 'All that waits' },
  { value: 'sealed', label: 'Sealed jackets' },
  { value: 'opened', label: 'Opened jackets' },
  { value: 'specimens', label: 'Specimens' },
  { value: 'dated', label: 'Dated' },
]
const sorts: readonly { readonly value: RackSort; readonly label: string }[] = [
  { value: 'number', label: 'By number' },
  { value: 'due', label: 'Soonest date first' },
  { value: 'lightest', label: 'Lightest first' },
  { value: 'heaviest', label: 'Heaviest first' },
  { value: 'shortest', label: 'Fewest hours first' },
  { value: 'shelf', label: 'By shelf' },
]

/** The screen. */
export function RackScreen() {
  const who = useWho()
  const records = useBoard((board) => board)
  const now = useNow(60_000)
  const [ask, setAsk] = useState<Omit<RackAsk, 'only'>>({ typed: '', show: 'all', sort: 'number' })
  const [isFitOnly, setFitOnly] = useState(false)
  const [isIntake, setIntake] = useState(false)
  const [said, setSaid] = useState('')
  // Typing paints at once, the list a moment later: the field never waits for five thousand rows.
  const settled = useDeferredValue(records)
  const settledAsk = useDeferredValue(ask)
  const chances = useChances(settled, now.date)
  const rows = useMemo(() => rackRows(settled, chances), [settled, chances])
  const isCrew = who !== null && who.role !== 'researcher' && who.role !== 'wall'
  const isStaff = who?.role === 'manager' || who?.role === 'preparator'
  const shift = useMemo(
    () => (isCrew && now.ms > 0 ? claimShift(settled, who.personId, now) : null),
    [settled, isCrew, who, now],
  )
  const fits = useFits(settled, isCrew ? who.personId : null, now.date, shift)
  const fitIds = useMemo(() => new Set([...fits.values()].flatMap((fit) => (fit.isFit ? [fit.pieceId] : []))), [fits])
  const list = useMemo(
    () => rackList(rows, { ...settledAsk, only: isFitOnly ? fitIds : null }),
    [rows, settledAsk, isFitOnly, fitIds],
  )
  if (!records.lab.has('lab') || now.ms === 0)
    return (
      <div className="margin-page py-4">
        <h1 className="heading text-page">Rack</h1>
        <RowsComing count={8} />
      </div>
    )
  const counted = isFitOnly ? `${list.length} of ${rows.length} fit` : sayCount(list.length, 'piece')
  return (
    <div className="margin-page mx-auto max-w-5xl pb-10">
      <PageHeading
        title={<span className="max-tablet:sr-only">Rack</span>}
        actions={
          isStaff ? (
            <Button kind="ink" mark="add" onClick={() => setIntake(true)}>
              New jacket
            </Button>
          ) : undefined
        }
      />
      <div className="flex flex-wrap items-end gap-x-5 gap-y-3 border-b-[1.5px] border-ink pb-3">
        <SearchField
          className="min-w-64 flex-1"
          label="Number, place, words"
          placeholder="Number, place, words"
          value={ask.typed}
          onValue={(typed) => setAsk((before) => ({ ...before, typed }))}
        />
        <div className="grid w-full grid-cols-2 gap-3 tablet:flex tablet:w-auto">
          <Select
            label="Show"
            isLabelHidden
            value={ask.show}
            choices={shows}
            onValue={(value) => setAsk((before) => ({ ...before, show: value as RackShow }))}
          />
          <Select
            label="Sort"
            isLabelHidden
            value={ask.sort}
            choices={sorts}
            onValue={(value) => setAsk((before) => ({ ...before, sort: value as RackSort }))}
          />
        </div>
        {shift === null ? null : (
          <Check
            label="Fit for me"
            note={`this ${shift.isToday ? shift.shift.name.toLowerCase() : 'next shift'}`}
            isOn={isFitOnly}
            onToggle={setFitOnly}
          />
        )}
      </div>
      <p className="py-2 font-strong" role="status">
        {counted}
      </p>
      {list.length === 0 ? (
        <Notice kind="empty">
          {ask.typed === '' ? 'Nothing waits on this shelf.' : 'Nothing on the board has these words.'}
        </Notice>
      ) : (
        <RackRows
          key={`${settledAsk.typed} ${settledAsk.show} ${settledAsk.sort} ${isFitOnly}`}
          records={settled}
          rows={list}
          fits={fits}
          claim={shift === null ? null : { date: now.date, shiftId: shift.shift.id }}
        />
      )}
      <ArchiveRows typed={ask.typed} isStaff={isStaff} />
      {isStaff ? (
        <IntakeDialog
          isOpen={isIntake}
          today={now.date}
          onClose={() => setIntake(false)}
          onDone={(number) => setSaid(`${number} is on the board.`)}
        />
      ) : null}
      <Live message={said} />
    </div>
  )
}

type ClaimShift = { readonly shift: Readonly<Shift>; readonly isToday: boolean }

/** The shift a claim would be for: the one that runs or comes next today; none when the day is over. */
function claimShift(
  records: Records,
  personId: string,
  at: { readonly date: string; readonly minute: number },
): ClaimShift | null {
  const mine = myShiftOf(records, personId, at)
  return mine.shift === null || mine.phase === 'over' || mine.phase === 'closed'
    ? null
    : { shift: mine.shift, isToday: true }
}

const noFits: ReadonlyMap<string, Fit> = new Map()

function useFits(
  records: Records,
  personId: string | null,
  date: string,
  claim: ClaimShift | null,
): ReadonlyMap<string, Fit> {
  const shiftId = claim?.shift.id ?? null
  return useMemo(() => {
    if (personId === null || shiftId === null) return noFits
    return new Map(fitForMe(records, { personId }, date, shiftId).map((fit) => [fit.pieceId, fit]))
  }, [records, personId, date, shiftId])
}
