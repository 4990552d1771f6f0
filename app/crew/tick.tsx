'use client'
// Who is in: one tick per person and shift. A stool that fills when pressed in lists; four words where there is room;
// a sheet with everybody of the shift for the whole round at once.
import { useState } from 'react'
import { turnId } from '#lib/rules'
import type { CrewRow } from '#lib/views'
import type { PersonId, RecordOf, Records } from '#lib/words'
import { useAct } from '../_board/index.ts'
import { ActForm, Button, DialogButton, Notice, TextField } from '../_parts/controls/index.ts'
import { Stool, type StoolState } from '../_parts/figures/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayFindings } from '../_text/index.ts'
import type { CrewAt, Shift } from './use-crew-at.ts'
import { sayAllIn, sayPresence } from './words.ts'

/** How a presence is drawn; expected and not ticked yet is an open stool. */
function stoolOf(row: Pick<CrewRow, 'presence'>): StoolState {
  const state = row.presence?.state
  if (state === 'in') return 'in'
  if (state === 'late') return 'late'
  return state === 'away' || state === 'left' ? 'away' : 'free'
}

/** The stool as a button: press to tick in, press again to clear. Without the right to tick it is a drawing. */
export function TickStool({ at, row }: { readonly at: CrewAt; readonly row: CrewRow }) {
  const act = useAct()
  const { person } = row
  const words = `${person.name}, ${sayPresence(row)}`
  const mayTick = at.shift !== null && (at.isStaff || person.id === at.me)
  const stool = (label?: string) =>
    row.presence ? (
      <Stool state={stoolOf(row)} size={24} label={label} />
    ) : (
      <svg
        className="pen text-edge"
        width={24}
        height={24}
        viewBox="0 0 24 24"
        role={label ? 'img' : undefined}
        aria-hidden={label ? undefined : true}
        aria-label={label}
      >
        <path d="M8 12h8" />
      </svg>
    )
  if (!mayTick || !at.shift) return <span className="grid size-11 place-items-center">{stool(words)}</span>
  const { shift } = at
  const isIn = row.presence?.state === 'in'
  return (
    <button
      type="button"
      className="grid size-11 place-items-center rounded-press hover:bg-plaster"
      aria-pressed={isIn}
      aria-label={`${person.name} is in`}
      title={isIn ? `${words}: press to clear` : `${words}: press to tick in`}
      onClick={() => act(tickOf(at, person.id, shift, isIn ? null : 'in'))}
    >
      {stool()}
    </button>
  )
}

type State = RecordOf<'attendance'>['state']

const tickOf = (at: CrewAt, personId: PersonId, shift: Shift, state: State | null, dueAt: string | null = null) =>
  ({ kind: 'attend', personId, date: at.today, shiftId: shift.id, state, dueAt }) as const

const ticked = (records: Records, at: CrewAt, personId: string, shift: Shift): State | null =>
  records.attendance.get(turnId(at.today, shift.id, personId))?.state ?? null

/** In, late with a time, away, left: for one person and one shift. */
export function TickWords({ at, personId, name, shift }: TickWordsProps) {
  const { attempt, problem } = useTry()
  const state = ticked(at.records, at, personId, shift)
  const isNoShow = at.records.noShow.has(turnId(at.today, shift.id, personId))
  const press = (next: State) => attempt(tickOf(at, personId, shift, state === next ? null : next))
  /** Away for the line-up, and noted for managers alone; pressed again, the note goes and the tick stays. */
  const didNotCome = () => {
    if (!isNoShow && state !== 'away' && !attempt(tickOf(at, personId, shift, 'away'))) return
    attempt({ kind: 'markNoShow', personId, date: at.today, shiftId: shift.id, isNoShow: !isNoShow })
  }
  return (
    <>
      <fieldset className="flex flex-wrap gap-2">
        <legend className="sr-only">
          {name}, {shift.name.toLowerCase()}
        </legend>
        <Button aria-pressed={state === 'in'} onClick={() => press('in')}>
          In
        </Button>
        <DialogButton word="Late…" isPressed={state === 'late'} title={`${name} is late`} width="narrow">
          {(close) => (
            <LateForm
              onLate={(dueAt) => {
                if (attempt(tickOf(at, personId, shift, 'late', dueAt))) close()
              }}
            />
          )}
        </DialogButton>
        <Button aria-pressed={state === 'away'} onClick={() => press('away')}>
          Away
        </Button>
        {at.isManager && state !== 'in' && state !== 'left' ? (
          <Button aria-pressed={isNoShow} onClick={didNotCome}>
            Did not come
          </Button>
        ) : null}
        {state === 'in' || state === 'left' ? (
          <Button aria-pressed={state === 'left'} onClick={() => press('left')}>
            Left
          </Button>
        ) : null}
      </fieldset>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </>
  )
}

type TickWordsProps = {
  readonly at: CrewAt
  readonly personId: PersonId
  readonly name: string
  readonly shift: Shift
}

function LateForm({ onLate }: { readonly onLate: (dueAt: string | null) => void }) {
  const [dueAt, setDueAt] = useState('')
  return (
    <ActForm act="Note it" onAct={() => onLate(dueAt === '' ? null : dueAt)}>
      <TextField
        label="Expected at, where it is known"
        type="time"
        value={dueAt}
        onChange={(event) => setDueAt(event.target.value)}
      />
    </ActForm>
  )
}

/** Everybody of the shift on one sheet, with one act for all who are only expected. */
export function TickSheet({ at, rows, shift }: TickSheetProps) {
  const act = useAct()
  const [problem, setProblem] = useState<string>()
  const present = rows.filter((row) => row.presence !== null)
  const expected = present.filter((row) => row.presence?.state === 'expected')
  const tickAll = () => {
    const refused = expected.flatMap(({ person }) => {
      const done = act(tickOf(at, person.id, shift, 'in'))
      return done.ok ? [] : done.findings
    })
    setProblem(refused.length > 0 ? sayFindings(refused, at.records) : undefined)
  }
  if (present.length === 0) return <Notice kind="empty">Nobody is expected in this shift.</Notice>
  return (
    <div className="flex flex-col gap-3">
      {expected.length === 0 ? null : (
        <Button kind="ink" size="action" mark="tick" onClick={tickAll}>
          {sayAllIn(expected.length)}
        </Button>
      )}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told */}
      <ul role="list" aria-label="Who is in">
        {present.map((row) => (
          <li key={row.person.id} className="flex flex-wrap items-center gap-x-3 gap-y-1 border-b border-line py-2">
            <Stool state={stoolOf(row)} size={26} />
            <span className="min-w-28 flex-1">
              <span className="block font-strong">{row.person.name}</span>
              <span className="block text-small text-umber">
                {sayPresence(row)}
                {row.placeCode === '' ? '' : `, ${row.placeCode}`}
              </span>
            </span>
            <TickWords at={at} personId={row.person.id} name={row.person.name} shift={shift} />
          </li>
        ))}
      </ul>
    </div>
  )
}

type TickSheetProps = { readonly at: CrewAt; readonly rows: readonly CrewRow[]; readonly shift: Shift }
