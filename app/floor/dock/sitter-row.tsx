'use client'
// One person at the chosen place: what they do, whether they are here, and the acts for them.
import Link from 'next/link'
import { useState } from 'react'
import type { Floor, PieceTag, Sitter } from '#lib/views'
import { useWho, useWouldRefuse } from '../../_board/index.ts'
import { Button, buttonClass, ChooseButton, Dialog, Notice, TextField } from '../../_parts/controls/index.ts'
import { Stool } from '../../_parts/figures/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { type Try, useTry } from '../../_shell/use-try.ts'
import { sayFindings, sayLevel } from '../../_text/index.ts'
import { type HandTurn, putByHand } from '../by-hand.ts'
import { stoolState } from '../shapes.ts'
import type { FloorAt } from '../use-floor.ts'
import { MakeWay } from '../what-if/make-way.tsx'
import { useAhead } from '../what-if/use-ahead.ts'

export type SitterRowProps = {
  readonly at: FloorAt
  readonly floor: Floor
  readonly sitter: Sitter
  readonly pieces: readonly PieceTag[]
}

/** A person with their buttons. */
export function SitterRow({ at, floor, sitter, pieces }: SitterRowProps) {
  const who = useWho()
  const trying = useTry()
  const isStaff = who?.role === 'manager' || who?.role === 'preparator'
  const isMe = who?.personId === sitter.personId
  const piece = pieces.find((tag) => tag.pieceId === sitter.pieceId)
  const mentor = sitter.mentorId === null ? null : at.records.person.get(sitter.mentorId)?.name
  const words = [
    sitter.technique,
    mentor ? `learning, beside ${mentor}` : sitter.level > 0 ? sayLevel(sitter.level) : '',
    at.records.reseat.has(assignmentIdOf(at, sitter)) ? 'has not seen the change yet' : '',
    sitter.work === 'running' ? 'at work' : sitter.work === 'paused' ? 'pausing' : '',
  ].filter(Boolean)
  return (
    <li className="border-b border-line py-2 last:border-b-0">
      <div className="flex items-center gap-3">
        <Stool state={stoolState(sitter)} initial={sitter.name.slice(0, 1)} size={34} isHeld={sitter.how === 'held'} />
        <div className="min-w-0 flex-1">
          <p className="font-strong">
            {sitter.name}
            {sitter.how === 'held' ? <Mark name="hold" size={20} label="held" className="ml-1 inline" /> : null}
            {sitter.how === 'claimed' ? <Mark name="claim" size={20} label="claimed" className="ml-1 inline" /> : null}
          </p>
          <p className="text-small text-umber">
            {words.join(', ')}
            {pieces.length > 1 && piece ? ` on ${piece.number}` : ''}
            {sitter.look === 'late' ? `; late${sitter.dueAt ? `, due ${sitter.dueAt}` : ''}` : ''}
            {sitter.look === 'away' ? '; away' : ''}
          </p>
        </div>
        {isMe ? (
          <Link className={buttonClass('quiet')} href="/mine">
            My shift
          </Link>
        ) : null}
      </div>
      {!at.isPast && (isStaff || isMe) ? <Attendance at={at} sitter={sitter} trying={trying} /> : null}
      {!at.isPast && isStaff ? <StaffActs at={at} floor={floor} sitter={sitter} trying={trying} /> : null}
      {!at.isPast && isMe && !isStaff && sitter.how === 'claimed' ? (
        <Button
          kind="quiet"
          onClick={() => trying.attempt({ kind: 'unclaim', assignmentId: assignmentIdOf(at, sitter) })}
        >
          Give the claim back
        </Button>
      ) : null}
      {trying.problem === undefined ? null : <Notice kind="error">{trying.problem}</Notice>}
    </li>
  )
}

const assignmentIdOf = (at: FloorAt, sitter: Sitter): string => `${at.date}.${sitter.shiftId}.${sitter.personId}`

/** Here, late until, away: one tap each; late asks for the time. */
function Attendance({ at, sitter, trying }: RowPartProps) {
  const [isLate, setLate] = useState(false)
  const [dueAt, setDueAt] = useState('')
  const state = at.records.attendance.get(assignmentIdOf(at, sitter))?.state ?? null
  const tick = (next: 'in' | 'late' | 'away' | 'left', due: string | null = null) =>
    trying.attempt({
      kind: 'attend',
      personId: sitter.personId,
      date: at.date,
      shiftId: sitter.shiftId,
      state: state === next && next !== 'late' ? null : next,
      dueAt: due,
    })
  return (
    <fieldset className="mt-2 flex flex-wrap gap-2">
      <legend className="sr-only">Is {sitter.name} here</legend>
      <Button aria-pressed={state === 'in'} onClick={() => tick('in')}>
        Here
      </Button>
      <Button aria-pressed={state === 'late'} aria-haspopup="dialog" onClick={() => setLate(true)}>
        Late…
      </Button>
      <Button aria-pressed={state === 'away'} onClick={() => tick('away')}>
        Away
      </Button>
      {state === 'in' || state === 'left' ? (
        <Button aria-pressed={state === 'left'} onClick={() => tick('left')}>
          Left
        </Button>
      ) : null}
      <Dialog
        isOpen={isLate}
        width="narrow"
        title={`${sitter.name} is late`}
        onClose={() => setLate(false)}
        actions={
          <Button
            kind="ink"
            onClick={() => {
              if (tick('late', dueAt === '' ? null : dueAt)) setLate(false)
            }}
          >
            Note it
          </Button>
        }
      >
        <TextField
          label="Expected at, where it is known"
          type="time"
          value={dueAt}
          onChange={(event) => setDueAt(event.target.value)}
          problem={trying.problem}
        />
      </Dialog>
    </fieldset>
  )
}

function StaffActs({ at, floor, sitter, trying }: RowPartProps & { readonly floor: Floor }) {
  const wouldRefuse = useWouldRefuse()
  const isManager = useWho()?.role === 'manager'
  const [wish, setWish] = useState<readonly HandTurn[] | null>(null)
  const { records } = at
  // Who can post may ask others to make way; for everybody else a full place is full.
  const kind = isManager || !records.day.has(at.date) ? ('hold' as const) : ('seat' as const)
  const looking = useAhead(sitter, { date: at.date })
  const turn = {
    date: at.date,
    shiftId: sitter.shiftId,
    personId: sitter.personId,
    pieceId: sitter.pieceId,
    stepId: sitter.stepId,
  }
  const isHeld = sitter.how === 'held'
  const id = assignmentIdOf(at, sitter)
  return (
    <div className="mt-2 flex flex-wrap gap-2">
      <Button
        mark="hold"
        aria-pressed={isHeld}
        onClick={() =>
          isHeld
            ? trying.attempt({ kind: 'unhold', holdId: id })
            : trying.attempt({ kind: 'hold', ...turn, placeId: sitter.placeId })
        }
      >
        {isHeld ? 'Held' : 'Hold'}
      </Button>
      <ChooseButton
        word="Move…"
        title={`Move ${sitter.name} to`}
        lead="No other place suits this step as things stand."
        {...looking}
        destinations={() =>
          floor.places
            .filter(({ place, isClosed }) => place.id !== sitter.placeId && !isClosed)
            .map(({ place, freeSeats }) => {
              const findings = wouldRefuse({ kind, ...turn, placeId: place.id })
              return {
                id: place.id,
                label: `${place.code} ${place.name}`,
                note: `${freeSeats} of ${place.seats} seats free`,
                ...(findings.length > 0 ? { reason: sayFindings(findings.slice(0, 1), records) } : {}),
              }
            })
            .toSorted((a, b) => Number('reason' in a) - Number('reason' in b))
        }
        onChoose={(placeId) =>
          putByHand({ attempt: trying.attempt, wouldRefuse, onMakeWay: isManager ? setWish : undefined }, records, [
            { ...turn, placeId: placeId as typeof sitter.placeId },
          ])
        }
      />
      <MakeWay date={at.date} turns={wish} onClose={() => setWish(null)} />
      <Button onClick={() => trying.attempt({ kind: 'unseat', assignmentId: id })}>Unseat</Button>
    </div>
  )
}

type RowPartProps = { readonly at: FloorAt; readonly sitter: Sitter; readonly trying: Try }
