'use client'
// The Floor, home: the room to scale with everybody in it, the shift's line-up, the margin with what wants somebody.
// The manager draws up here: the proposal comes as a tracing sheet over the present, see lineup/.
import Link from 'next/link'
import { useEffect, useRef, useState } from 'react'
import { type Floor, headcountOf, type Sitter } from '#lib/views'
import { usePresence, useWho, useWouldRefuse } from '../_board/index.ts'
import { Button, buttonClass, Live, Notice } from '../_parts/controls/index.ts'
import { later } from '../_shell/later.tsx'
import { useTry } from '../_shell/use-try.ts'
import { sayDate } from '../_text/index.ts'
import { aheadOf, bringPiece, type HandTurn, putByHand, turnsTo } from './by-hand.ts'
import { DateBar } from './date-bar.tsx'
import { FloorPlan } from './floor-plan.tsx'
import { Morning } from './morning.tsx'
import { PrintCautions } from './print-cautions.tsx'
import { PrintHead } from './print-head.tsx'
import { SetUpLead } from './set-up-lead.tsx'
import { useFloor, useFloorAt } from './use-floor.ts'
import { useNews } from './use-news.ts'
import { usePlanSize } from './use-size.ts'
import { YouAre } from './you-are.tsx'
import './floor.css'

const FloorFoot = later(() => import('./floor-foot.tsx').then((part) => part.FloorFoot))
/** The Floor of a phone. */
const RoundList = later(() => import('./round-list.tsx').then((part) => part.RoundList))
const LineUp = later(() => import('./lineup/line-up.tsx').then((part) => part.LineUp))
const MakeWay = later(() => import('./what-if/make-way.tsx').then((part) => part.MakeWay))
const WeekFlow = later(() => import('./week/week-flow.tsx').then((part) => part.WeekFlow))
const PlaceDock = later(() => import('./dock/place-dock.tsx').then((part) => part.PlaceDock))

/** Home. */
export function FloorScreen() {
  const at = useFloorAt()
  const floor = useFloor(at)
  const who = useWho()
  const room = at.records.room.get('room')
  const [frame, size] = usePlanSize(room)
  const trying = useTry()
  const wouldRefuse = useWouldRefuse()
  const [wish, setWish] = useState<readonly HandTurn[] | null>(null)
  const news = useNews(floor, at.records)
  const drawButton = useRef<HTMLButtonElement>(null)
  const hasDrawn = useRef(false)
  // Posted or put away, the line-up leaves the keyboard where it was begun.
  useEffect(() => {
    if (at.isDrawing) hasDrawn.current = true
    else if (hasDrawn.current) {
      hasDrawn.current = false
      drawButton.current?.focus({ preventScroll: true })
    }
  }, [at.isDrawing])
  usePresence(at.chosenId ? `place/${at.chosenId}` : 'floor')
  const isManager = who?.role === 'manager'
  if (!room || at.records.place.size === 0) return <EmptyRoom isManager={isManager} />
  if (at.isDrawing && isManager && at.shift && !at.isPast) {
    return <LineUp key={at.date} at={at} frame={frame} size={size} onEnd={() => at.draw(false)} />
  }
  if (at.isDrawingWeek && isManager) {
    return <WeekFlow at={at} frame={frame} size={size} onEnd={() => at.drawWeek(false)} />
  }
  const isStaff = isManager || who?.role === 'preparator'
  const ways = { attempt: trying.attempt, wouldRefuse, onMakeWay: isManager ? setWish : undefined }
  const canCarry = isStaff && !at.isPast && floor !== null
  // A posted day is left alone until somebody is missing from it or stands without a seat.
  const isPosted = at.records.day.has(at.date)
  const hasGap = floor !== null && hasGapIn(floor)
  const entry = floor?.places.find(({ place }) => place.id === at.chosenId)
  const isDot = size.density === 'dot'
  return (
    <div className="floor-page margin-page flex flex-col gap-3 pt-3 pb-8">
      <DateBar
        at={at}
        acts={
          isManager && !at.isPast ? (
            <>
              <Button onClick={() => at.drawWeek(true)}>Draw up the week</Button>
              {at.shift ? (
                <Button
                  ref={drawButton}
                  kind={isPosted && !hasGap ? 'line' : 'ink'}
                  mark="drawn"
                  onClick={() => at.draw(true)}
                >
                  {isPosted ? 'Redraw' : 'Draw up'}
                </Button>
              ) : null}
            </>
          ) : null
        }
      />
      <PrintHead at={at} />
      <SetUpLead />
      <Live message={news} />
      {floor ? (
        <div className="floor-grid">
          <div className="floor-plan flex flex-col gap-3">
            <FloorPlan
              records={at.records}
              floor={floor}
              frame={frame}
              width={size.width}
              density={size.density}
              label={`The room, ${at.shift?.name ?? ''}, ${sayDate(at.date, 'long')}`}
              chosenId={at.chosenId}
              onChoose={(placeId) => at.choose(placeId === at.chosenId ? null : placeId)}
              onCarry={
                canCarry
                  ? (id, placeId) => putByHand(ways, at.records, turnsTo(at, floor, { kind: 'person', id }, placeId))
                  : undefined
              }
              onCarryPiece={
                canCarry ? (pieceId, placeId) => bringPiece(ways, at, floor, { pieceId, placeId }) : undefined
              }
              ahead={canCarry ? aheadOf(at, floor) : undefined}
            />
            {isManager ? <MakeWay date={at.date} turns={wish} onClose={() => setWish(null)} /> : null}
            {trying.problem === undefined ? null : (
              <Notice kind="lost" action={<Button onClick={trying.clear}>Seen</Button>}>
                {trying.problem}
              </Notice>
            )}
          </div>
          <div className="floor-margin flex flex-col gap-6">
            {isDot ? <YouAre at={at} floor={floor} /> : null}
            {entry ? <PlaceDock at={at} floor={floor} entry={entry} onClose={() => at.choose(null)} /> : null}
            <Morning at={at} floor={floor} />
          </div>
          <div className="floor-foot flex flex-col gap-3">
            <FloorFoot at={at} floor={floor} isDot={isDot} />
            {isDot ? <RoundList floor={floor} chosenId={at.chosenId} onChoose={at.choose} /> : null}
          </div>
          <PrintCautions at={at} />
        </div>
      ) : (
        <Notice kind="empty">The lab is closed on this day.</Notice>
      )}
    </div>
  )
}

/** Somebody seated is away or sits at a place out of use, or somebody in has no seat: a redraw would help. */
function hasGapIn(floor: Floor): boolean {
  return (
    headcountOf(floor).seatless.length > 0 ||
    floor.places.some(({ sitters, isClosed }) => sitters.some((one) => isClosed || isGone(one)))
  )
}

const isGone = (sitter: Sitter): boolean => sitter.look === 'away'

/** The real drawing cannot be shown before there is a room. */
function EmptyRoom({ isManager }: { readonly isManager: boolean }) {
  return (
    <div className="margin-page py-6">
      <SetUpLead />
      <Notice
        kind="empty"
        action={
          isManager ? (
            <Link className={buttonClass('line')} href="/room">
              Draw the room
            </Link>
          ) : undefined
        }
      >
        {isManager ? 'The room is not drawn yet.' : 'The manager has not drawn the room yet.'}
      </Notice>
    </div>
  )
}
