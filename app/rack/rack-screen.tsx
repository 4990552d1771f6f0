'use client'
// The Rack: search as one types, show and sort, "fit for me" with why not, intake in under a minute, and the archive
// behind it.
import { useDeferredValue, useMemo, useState } from 'react'
import { type Fit, fitForMe, missingInduction } from '#lib/rules'
import { myShiftOf, type RackAsk, type RackShow, type RackSort, rackList, rackRows } from '#lib/views'
import type { RecordOf, Records, Shift } from '#lib/words'
import { useBoard, useNow, useWho } from '../_board/index.ts'
import { Button, Check, Live, Notice, RowsComing, SearchField, Select } from '../_parts/controls/index.ts'
import { later } from '../_shell/later.tsx'
import { capital, namesIn, sayCount, sayDay } from '../_text/index.ts'
import { sayMissing } from '../crew/learning/say.ts'
import { useChances } from '../floor/use-chances.ts'
import { ArchiveRows } from './archive-rows.tsx'
import { type Asked, useAsked } from './asked.ts'
import { RackRows } from './rack-rows.tsx'

// Whoever only looks at the Rack does without it; it comes once the rows stand.
const IntakeDialog = later(async () => (await import('./intake-dialog.tsx')).default)
const ImportDialog = later(async () => (await import('./import/import-dialog.tsx')).default)
const RackRatings = later(async () => (await import('./rack-ratings.tsx')).default)

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
  const asked = useAsked()
  const [fitChosen, setFitOnly] = useState<boolean | null>(asked.isFit ? true : null)
  const [isIntake, setIntake] = useState(asked.isIntake)
  const [isRatings, setRatings] = useState(false)
  const [isImport, setImport] = useState(false)
  const [said, setSaid] = useState('')
  // Typing paints at once, the list a moment later: the field never waits for five thousand rows.
  const settled = useDeferredValue(records)
  const settledAsk = useDeferredValue(ask)
  const chances = useChances(settled, now.date)
  const rows = useMemo(() => rackRows(settled, chances), [settled, chances])
  const isCrew = who !== null && who.role !== 'researcher' && who.role !== 'wall'
  const isStaff = who?.role === 'manager' || who?.role === 'preparator'
  const shift = useMemo(
    () => (isCrew && now.ms > 0 ? claimShift(settled, who.personId, now, asked) : null),
    [settled, isCrew, who, now, asked],
  )
  const turns = useMemo(() => turnsIn(settled, shift), [settled, shift])
  const seat = [...turns.values()].flat().find((turn) => turn.personId === who?.personId)
  // Whoever has a seat already takes nothing else: said once, not at every row.
  const open = seat === undefined ? shift : null
  const fits = useFits(settled, isCrew ? who.personId : null, open)
  // A volunteer comes for what they could take; everybody else for all that waits.
  const isFitOnly = open !== null && (fitChosen ?? who?.role === 'volunteer')
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
  const own = who === null ? undefined : records.person.get(who.personId)
  const missing = own && open ? sayMissing(missingInduction(records, own, open.date)) : ''
  const counted = isFitOnly ? `${list.length} of ${rows.length} fit` : capital(sayCount(list.length, 'piece'))
  return (
    <div className="margin-page mx-auto max-w-5xl pb-10">
      <div className="flex items-center justify-between gap-3 pt-2 pb-3 tablet:py-4">
        <h1 className="heading text-page max-tablet:sr-only">Rack</h1>
        {isStaff ? (
          <span className="flex flex-wrap gap-3">
            <Button kind="quiet" onClick={() => setRatings(true)}>
              Rack ratings…
            </Button>
            <Button kind="quiet" onClick={() => setImport(true)}>
              From a spreadsheet…
            </Button>
            <Button kind="ink" mark="add" onClick={() => setIntake(true)}>
              New jacket
            </Button>
          </span>
        ) : null}
      </div>
      <div className="flex flex-wrap items-end gap-x-5 gap-y-3 border-b-[1.5px] border-ink pb-3">
        <SearchField
          className="min-w-[min(16rem,100%)] flex-1"
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
        {open === null ? null : (
          <Check label="Fit for me" note={shiftWords(open, now.date)} isOn={isFitOnly} onToggle={setFitOnly} />
        )}
      </div>
      <p className="py-2 font-strong" role="status">
        {counted}
      </p>
      {seat === undefined || shift === null ? null : (
        <p className="pb-2 text-small text-umber">
          You sit at {namesIn(settled).place(seat.placeId)} {shiftWords(shift, now.date)}, so nothing else can be
          claimed for it.
        </p>
      )}
      {list.length === 0 ? (
        <Notice
          kind="empty"
          action={
            isFitOnly ? <Button onClick={() => setFitOnly(false)}>Show all that waits, with why</Button> : undefined
          }
        >
          {isFitOnly
            ? missing || 'Nothing here fits you in this shift.'
            : ask.typed === ''
              ? 'Nothing waits on this shelf.'
              : 'Nothing on the board has these words.'}
        </Notice>
      ) : (
        <RackRows
          key={`${settledAsk.typed} ${settledAsk.show} ${settledAsk.sort} ${isFitOnly}`}
          records={settled}
          rows={list}
          fits={fits}
          turns={turns}
          claim={
            open === null || who === null
              ? null
              : {
                  date: open.date,
                  shiftId: open.shift.id,
                  shiftName: open.shift.name,
                  personId: who.personId,
                }
          }
        />
      )}
      <ArchiveRows typed={ask.typed} isStaff={isStaff} />
      {isStaff ? (
        <>
          <IntakeDialog
            isOpen={isIntake}
            today={now.date}
            onClose={() => setIntake(false)}
            onDone={(number) => setSaid(`${number} is on the board.`)}
          />
          {isImport ? <ImportDialog isOpen onClose={() => setImport(false)} /> : null}
          {isRatings ? <RackRatings isOpen onClose={() => setRatings(false)} /> : null}
        </>
      ) : null}
      <Live message={said} />
    </div>
  )
}

type ClaimShift = { readonly shift: Readonly<Shift>; readonly date: string; readonly placeId: string | null }

/** The shift a claim would be for: the one asked for, else the one that runs or comes next today; none once it is over. */
function claimShift(
  records: Records,
  personId: string,
  at: { readonly date: string; readonly minute: number },
  asked: Asked,
): ClaimShift | null {
  const wanted = records.lab.get('lab')?.shifts.find((one) => one.id === asked.shiftId)
  if (wanted && asked.date !== null && asked.date >= at.date)
    return { shift: wanted, date: asked.date, placeId: asked.placeId }
  const mine = myShiftOf(records, personId, at)
  return mine.shift === null || mine.phase === 'over' || mine.phase === 'closed'
    ? null
    : { shift: mine.shift, date: at.date, placeId: null }
}

function shiftWords({ shift, date }: ClaimShift, today: string): string {
  const name = shift.name.toLowerCase()
  return date === today ? `this ${name}` : `${sayDay(date, today)}, ${name}`
}

const noFits: ReadonlyMap<string, Fit> = new Map()

/** What fits; with a place asked for, only what can be claimed there. */
function useFits(records: Records, personId: string | null, claim: ClaimShift | null): ReadonlyMap<string, Fit> {
  const { date, placeId } = claim ?? { date: null, placeId: null }
  const shiftId = claim?.shift.id ?? null
  return useMemo(() => {
    if (personId === null || shiftId === null || date === null) return noFits
    return new Map(
      fitForMe(records, { personId }, date, shiftId).map((fit) => [
        fit.pieceId,
        placeId === null ? fit : atPlace(fit, placeId),
      ]),
    )
  }, [records, personId, date, shiftId, placeId])
}

function atPlace(fit: Fit, placeId: string): Fit {
  const ways = fit.ways.filter((way) => way.placeId === placeId)
  return { ...fit, ways, isFit: ways.length > 0 }
}

function turnsIn(records: Records, claim: ClaimShift | null): ReadonlyMap<string, readonly RecordOf<'assignment'>[]> {
  const found = new Map<string, RecordOf<'assignment'>[]>()
  if (claim === null) return found
  for (const turn of records.assignment.values()) {
    if (turn.date !== claim.date || turn.shiftId !== claim.shift.id) continue
    found.set(turn.pieceId, [...(found.get(turn.pieceId) ?? []), turn])
  }
  return found
}
