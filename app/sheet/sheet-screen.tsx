'use client'
// The Sheet: one piece's whole record. On the board it is live; at rest in the archive it is read only, from the same
// parts. Head first (number, date, ceiling, where), then the path and the steps, the record, and beside them what one
// asks and decides.
import { isOnPiece, sheetOf } from '#lib/views'
import { useBoard, useNow, usePresence, useWho } from '../_board/index.ts'
import { Button, Notice, RowsComing } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { later } from '../_shell/later.tsx'
import { sayDate } from '../_text/index.ts'
import { PrivateNotes } from '../crew/private-notes.tsx'
import { names } from '../floor/words.ts'
import { Acts } from './acts.tsx'
import { Cautions } from './cautions.tsx'
import { Dates } from './dates.tsx'
import { Facts } from './facts.tsx'
import { Head } from './head.tsx'
import { History } from './history.tsx'
import { PaperFoot } from './paper.tsx'
import { Picture } from './picture.tsx'
import { Questions } from './questions.tsx'
import { Ratings } from './ratings.tsx'
import { TreatmentRecord } from './record.tsx'
import { SharedNote } from './shared-note.tsx'
import type { SheetAt } from './sheet-at.ts'
import { StageSection } from './stage.tsx'
import { Steps } from './steps.tsx'
import { useResting, useWithResting } from './use-resting.ts'
import './sheet.css'

const Whole = later(async () => (await import('./custody/whole.tsx')).default)
const Lifting = later(async () => (await import('./lifting.tsx')).Lifting)
const PieceClocks = later(async () => (await import('../clocks/clocks-section.tsx')).PieceClocks)
const ExposureMap = later(async () => (await import('./map/map-section.tsx')).MapSection)
const Photos = later(async () => (await import('./photos/photos-section.tsx')).PhotosSection)
const Joins = later(async () => (await import('./joins/joins-section.tsx')).JoinsSection)

/** One piece, on the board or at rest. */
export function SheetScreen({ pieceId }: { readonly pieceId: string }) {
  const board = useBoard((records) => records)
  const who = useWho()
  const now = useNow(60_000)
  const isHere = board.specimen.has(pieceId) || board.jacket.has(pieceId)
  const justRested = board.resting.get(pieceId) ?? null
  const asked = useResting(pieceId, !isHere && justRested === null && board.lab.size > 0)
  const resting = isHere ? null : (justRested ?? (asked.state === 'found' ? asked.resting : null))
  const records = useWithResting(board, resting)
  const sheet = sheetOf(records, pieceId, now)
  if (!sheet || !who) return <NotHere state={asked} isOpening={!who || board.lab.size === 0} />
  const isResting = !isHere
  const isStaff = who.role === 'manager' || who.role === 'preparator'
  const at: SheetAt = {
    records,
    sheet,
    today: now.date,
    zone: records.lab.get('lab')?.zone ?? 'UTC',
    me: who.personId,
    role: who.role,
    isResting,
    isStaff: isStaff && !isResting,
    isManager: who.role === 'manager' && !isResting,
    mayWrite:
      !isResting && (isStaff || (who.role === 'volunteer' && isOnPiece(records, who.personId, pieceId, now.date))),
  }
  return (
    <div className="sheet margin-page pb-10">
      <Head at={at} />
      {isResting ? <AtRest since={resting?.since ?? ''} at={at} /> : null}
      <AlsoHere pieceId={pieceId} />
      <div className="sheet-grid">
        <div className="sheet-lead flex flex-col gap-4">
          <Picture at={at} />
          <div className="flex min-w-0 flex-col gap-4">
            <Acts at={at} mayBringBack={isResting && isStaff} />
            <Cautions at={at} />
          </div>
          <div className="lead-questions pt-2 empty:hidden">
            <Questions at={at} />
          </div>
        </div>
        <div className="sheet-main flex min-w-0 flex-col gap-7">
          <StageSection at={at} />
          <Steps at={at} />
          {isResting ? null : <PieceClocks pieceId={sheet.id} number={sheet.number} mayWrite={at.mayWrite} />}
          <TreatmentRecord at={at} />
          <Photos at={at} />
          <ExposureMap at={at} />
          <Whole at={at} />
          {sheet.specimen ? <Joins at={at} /> : null}
          {isResting ? null : <SharedNote at={at} />}
        </div>
        <div className="sheet-side flex min-w-0 flex-col gap-7">
          <Dates at={at} />
          {sheet.specimen ? <Ratings at={at} specimen={sheet.specimen} /> : null}
          <Facts at={at} />
          <Lifting at={at} />
          {at.isManager ? (
            <PrivateNotes
              records={at.records}
              today={at.today}
              about={{ aboutPersonId: null, aboutPieceId: sheet.id }}
              name={sheet.number}
            />
          ) : null}
          <History at={at} />
        </div>
      </div>
      <PaperFoot at={at} />
    </div>
  )
}

/** Who else has this Sheet open. */
function AlsoHere({ pieceId }: { readonly pieceId: string }) {
  const others = usePresence(`sheet/${pieceId}`)
  const here = [...new Set(others.map((other) => other.name))]
  if (here.length === 0) return null
  return (
    <p className="no-print flex items-center gap-2 pt-2 text-small text-umber" role="status">
      <Mark name="person" size={20} />
      {names(here)} {here.length === 1 ? 'has' : 'have'} this Sheet open too.
    </p>
  )
}

function AtRest({ since, at }: { readonly since: string; readonly at: SheetAt }) {
  return (
    <Notice kind="stale" mark="rack" className="border-b border-line">
      <b>At rest in the archive</b> since {sayDate(since, 'full')}. It can be read
      {at.role === 'manager' || at.role === 'preparator' ? '; to work on it, bring it back.' : '.'}
    </Notice>
  )
}

function NotHere({ state, isOpening }: { readonly state: ReturnType<typeof useResting>; readonly isOpening: boolean }) {
  if (isOpening || state.state === 'asking')
    return (
      <div className="margin-page py-6">
        <h1 className="heading text-section">Sheet</h1>
        <RowsComing count={6} />
      </div>
    )
  return (
    <div className="margin-page py-6">
      <h1 className="heading pb-2 text-page">Sheet</h1>
      {state.state === 'out-of-reach' ? (
        <Notice kind="error" action={<Button onClick={state.again}>Ask again</Button>}>
          This piece is not on the board, and the archive is out of reach. Nothing is lost; ask again when the lab is in
          reach.
        </Notice>
      ) : (
        <Notice kind="empty">There is no piece here under this address, on the board or in the archive.</Notice>
      )}
    </div>
  )
}
