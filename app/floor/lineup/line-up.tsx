'use client'
// Drawing up a day: the question goes out, the tracing sheet comes down over the present, one wishes and redraws, one
// posts. Lifting the corner (or Escape) shows the present; leaving without posting changes nothing for anybody.
import { type RefCallback, useEffect, useMemo, useState } from 'react'
import type { TurnLimit } from '#lib/lineup'
import { changesBetween, type Floor, placesInOrder, type Turn, type TurnChange, turnKey, turnsOf } from '#lib/views'
import type { Records } from '#lib/words'
import { useAsk, usePresence } from '../../_board/index.ts'
import { Button, Live, Notice } from '../../_parts/controls/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import type { PlanDensity, SitterShape, ThreadShape } from '../../_parts/room/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { AirStrip } from '../air-strip.tsx'
import { aheadOf, turnsTo } from '../by-hand.ts'
import type { Taken } from '../carry-layer.tsx'
import { DateBar } from '../date-bar.tsx'
import { FloorPlan } from '../floor-plan.tsx'
import { PlanKey } from '../plan-key.tsx'
import { PrintCautions } from '../print-cautions.tsx'
import { PrintHead } from '../print-head.tsx'
import { sittersOf } from '../shapes.ts'
import { type FloorAt, useFloor } from '../use-floor.ts'
import { changesHeading, count } from '../words.ts'
import { ClashNotices } from './clash-notices.tsx'
import { inksOf } from './inks.ts'
import { bareTurn, type DrawUpAnswer, type DrawUpQuestion } from './proposal.ts'
import { ProposalMargin } from './proposal-margin.tsx'
import { sayUnkept } from './say-clash.ts'
import { sayBound } from './say-worth.ts'

export type LineUpProps = {
  readonly at: FloorAt
  readonly frame: RefCallback<HTMLElement>
  readonly size: { readonly width: number; readonly density: PlanDensity }
  readonly onEnd: () => void
  /** A line-up to begin with, and what other days of the week need: the day is drawn close to it. */
  readonly from?: readonly Omit<Turn, 'how'>[]
  readonly limits?: readonly TurnLimit[]
}

/** Who began the flow by keyboard goes on with it: the button pressed for it is gone. */
const takeFocus = (button: HTMLButtonElement | null): void => button?.focus({ preventScroll: true })

/** The whole flow. */
export function LineUp({ at, frame, size, onEnd, from, limits }: LineUpProps) {
  const { records, date } = at
  const isPosted = records.day.has(date)
  const ofWeek = limits ? { limits } : {}
  const [question, setQuestion] = useState<DrawUpQuestion>(
    from ? { date, redraw: true, from: from.map(bareTurn), ...ofWeek } : { date, redraw: isPosted },
  )
  const asked = useAsk<DrawUpAnswer>('drawUp', question)
  const [isLifted, setLifted] = useState(false)
  const [chosenChange, setChosenChange] = useState<number | null>(null)
  const [hasWishes, setWishes] = useState(false)
  const [note, setNote] = useState(records.day.get(date)?.note ?? '')
  const { attempt, problem } = useTry()
  const posting = useTry()
  usePresence('floor', 'drawing up')

  const answer = asked.answer
  const refused = answer && 'refused' in answer ? answer.refused : null
  const proposal = answer && !('refused' in answer) ? answer : null
  const turns = proposal?.assignments
  const posted = useMemo(() => turnsOf(records, date), [records, date])
  const shiftIds = at.shifts.map((shift) => shift.id)
  const shiftKey = shiftIds.join(' ')
  // biome-ignore lint/correctness/useExhaustiveDependencies: the ids as one word; the array is new at every paint
  const changes = useMemo(
    () => (turns ? changesBetween(posted, roundTheRoom(records, turns), shiftIds) : null),
    [posted, turns, shiftKey, records.place],
  )
  const present = useFloor(at)
  const proposed = useFloor(at, turns)
  const isShown = turns !== undefined && !isLifted
  const floor = isShown ? proposed : present
  const here = useMemo(
    () => changes?.changes.filter((change) => change.shiftId === at.shift?.id) ?? [],
    [changes, at.shift],
  )
  const inks = useMemo(
    () => (present && proposed && isShown ? inksOf(present, proposed, here) : undefined),
    [present, proposed, here, isShown],
  )
  const threads = useMemo(
    () => (present && proposed && isShown ? threadsOf(present, proposed, here) : []),
    [present, proposed, here, isShown],
  )

  const leaving = useMemo(
    () => (present && proposed && isShown ? leavingOf(present, proposed, here) : undefined),
    [present, proposed, here, isShown],
  )

  const isAsking = asked.state === 'asking'
  const canCarry = isShown && !isAsking && proposed !== null
  const redraw = () => {
    posting.clear()
    setWishes(false)
    setChosenChange(null)
    setLifted(false)
    setQuestion(
      proposal
        ? { date, redraw: true, from: proposal.assignments.map(bareTurn), ...ofWeek }
        : { date, redraw: isPosted, ...ofWeek },
    )
    // The same question may have another answer: what was held since is not in it.
    asked.again()
  }
  const post = () => {
    if (!proposal) return
    const isDone = posting.attempt({
      kind: 'post',
      date,
      assignments: proposal.assignments.map(bareTurn),
      note,
    })
    if (isDone) onEnd()
  }
  /** Carried by hand, proposed seats become holds for the next drawing. */
  const carry = (thing: Taken, placeId: string) => {
    if (!proposed) return
    const isDone = turnsTo(at, proposed, thing, placeId).every((turn) => attempt({ kind: 'hold', ...turn }))
    if (isDone) setWishes(true)
  }
  // Lifted and laid down by the same key: what was drawn up is never put away by a key pressed twice.
  useEscape(() => setLifted(turns !== undefined && !isLifted))
  const chosenPlace = changes?.changes.find((change) => change.n === chosenChange)?.to?.placeId ?? null

  return (
    <div className="floor-page lineup-page margin-page flex flex-col gap-3 pt-3 pb-8">
      <DateBar
        at={at}
        isFixed
        acts={
          <div className="lineup-acts">
            <p className="flex items-center gap-2 font-strong text-chalk desk:max-w-52" role="status">
              <Mark name={hasWishes ? 'hold' : 'drawn'} size={22} />
              {isAsking
                ? 'Drawing up'
                : hasWishes
                  ? 'Wish noted. Redraw to see it.'
                  : proposal
                    ? 'Drawn up, not posted'
                    : 'Not drawn up'}
            </p>
            <div className="flex gap-3">
              {isAsking ? (
                <Button ref={takeFocus} onClick={asked.stop}>
                  Stop
                </Button>
              ) : (
                <Button ref={takeFocus} kind={hasWishes ? 'ink' : 'line'} onClick={redraw}>
                  Redraw
                </Button>
              )}
              <Button onClick={onEnd}>Put it away</Button>
              <Button kind={hasWishes ? 'line' : 'ink'} mark="posted" disabled={!proposal || isAsking} onClick={post}>
                Post
              </Button>
            </div>
          </div>
        }
      />
      <PrintHead at={at} turns={isShown ? turns : undefined} />
      <Live
        message={
          proposal && changes && !isAsking
            ? `Drawn up: ${changesHeading(changes.changes.length, changes.stay, true)}. ${count(proposal.leftOut.length)} left out. ${sayBound(proposal, false)}`
            : ''
        }
      />
      {problem === undefined ? null : (
        <Notice kind="lost" action={<Button onClick={redraw}>Redraw</Button>}>
          {problem}
        </Notice>
      )}
      {posting.problem === undefined ? null : (
        <Notice kind="lost" action={<Button onClick={redraw}>Redraw</Button>}>
          <b>Not posted.</b> {posting.problem}
        </Notice>
      )}
      {refused === null ? null : (
        <Notice kind="error" action={<Button onClick={redraw}>Try again</Button>}>
          {refusedWords(refused)}
        </Notice>
      )}
      {proposal && proposal.findings.length > 0 ? (
        <Notice kind="error" mark="leftout">
          <b>Could not be kept.</b>{' '}
          {[...new Set(proposal.findings.map((finding) => sayUnkept(records, finding)))].join(' ')}
        </Notice>
      ) : null}
      {proposal ? <ClashNotices records={records} clashes={proposal.clashes} onWish={() => setWishes(true)} /> : null}
      {asked.state === 'stopped' && !proposal ? (
        <Notice kind="plain">Stopped. Nothing was drawn up; the Floor is as it was.</Notice>
      ) : null}
      {floor ? (
        <div className="floor-grid">
          <div className="floor-plan">
            <FloorPlan
              records={records}
              floor={floor}
              frame={frame}
              width={size.width}
              density={size.density}
              label={isShown ? 'The line-up as drawn up, over the present' : 'The room as it is now'}
              chosenId={isShown ? chosenPlace : at.chosenId}
              onChoose={(placeId) => {
                const change = here.find((one) => one.to?.placeId === placeId || one.from?.placeId === placeId)
                setChosenChange(change ? change.n : null)
              }}
              inks={inks}
              leaving={leaving}
              onCarry={canCarry ? (id, placeId) => carry({ kind: 'person', id }, placeId) : undefined}
              onCarryPiece={canCarry ? (id, placeId) => carry({ kind: 'piece', id }, placeId) : undefined}
              ahead={canCarry ? aheadOf(at, proposed, turns) : undefined}
              tracing={
                turns ? { threads, chosenChange: chosenChange ?? undefined, isLifted, onLift: setLifted } : undefined
              }
            />
          </div>
          <div className="floor-margin">
            {proposal && proposed && changes ? (
              <>
                {isLifted ? (
                  <Notice kind="plain" action={<Button onClick={() => setLifted(false)}>Lay the sheet down</Button>}>
                    This is the present. The proposal is lifted.
                  </Notice>
                ) : null}
                <ProposalMargin
                  at={at}
                  floor={proposed}
                  proposal={proposal}
                  changes={changes}
                  isRedraw={question.redraw}
                  isAsking={isAsking}
                  chosenChange={chosenChange}
                  onChooseChange={setChosenChange}
                  onWish={() => setWishes(true)}
                  note={note}
                  onNote={setNote}
                />
              </>
            ) : isAsking ? (
              <p className="named text-say" role="status">
                Looking for the best day for everybody. The room stays as it is until you post.
              </p>
            ) : null}
          </div>
          <div className="floor-foot grid gap-x-8 gap-y-3 desk:grid-cols-2">
            <AirStrip
              records={records}
              floor={floor}
              isProposal={isShown}
              {...(isShown
                ? { proposed: new Set(here.flatMap((change) => (change.to ? [turnKey(change.to)] : []))) }
                : {})}
            />
            {size.density === 'dot' ? null : <PlanKey isProposal={isShown} />}
          </div>
          <PrintCautions at={at} turns={isShown ? turns : undefined} />
        </div>
      ) : null}
    </div>
  )
}

/** In the order in which one walks the room, so that the numbers in plan and margin run together. */
function roundTheRoom(records: Records, turns: readonly Turn[]): readonly Turn[] {
  const rank = new Map(placesInOrder(records).map((place, index) => [place.id, index]))
  return turns.toSorted((a, b) => (rank.get(a.placeId) ?? 0) - (rank.get(b.placeId) ?? 0))
}

/** Who has no seat any more, on a stool that is free in the proposal at the place they leave. */
function leavingOf(present: Floor, proposed: Floor, here: readonly TurnChange[]): readonly SitterShape[] {
  const taken = new Map(proposed.places.map(({ place, sitters }) => [place.id as string, sitters.length]))
  const gone = new Set(here.filter((change) => change.what === 'leave').map((change) => change.personId as string))
  return sittersOf(present)
    .filter((sitter) => gone.has(sitter.key))
    .map((sitter) => {
      const seat = taken.get(sitter.placeId) ?? 0
      taken.set(sitter.placeId, seat + 1)
      return { ...sitter, seat, state: 'away', note: 'leaves', isHeld: false, besideKey: undefined }
    })
}

function threadsOf(
  present: Floor,
  proposed: Floor,
  here: readonly { readonly n: number; readonly personId: string; readonly what: string }[],
): readonly ThreadShape[] {
  const seatsOf = (floor: Floor) =>
    new Map(
      floor.places.flatMap((entry) =>
        entry.sitters.map((one, seat) => [one.personId as string, { placeId: entry.place.id, seat }]),
      ),
    )
  const [was, is] = [seatsOf(present), seatsOf(proposed)]
  return here.flatMap((change) => {
    const [from, to] = [was.get(change.personId), is.get(change.personId)]
    if (change.what !== 'move' || !from || !to) return []
    return [
      { change: change.n, fromPlaceId: from.placeId, fromSeat: from.seat, toPlaceId: to.placeId, toSeat: to.seat },
    ]
  })
}

function useEscape(act: () => void): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape' || event.defaultPrevented || document.querySelector('dialog[open]')) return
      act()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  })
}

function refusedWords(code: string): string {
  if (code === 'busy') return 'The lab is drawing up already. Wait a moment and try again.'
  if (code === 'not-allowed') return 'Only the manager draws up the day.'
  return 'The day could not be drawn up. The Floor is as it was; nothing was lost.'
}
