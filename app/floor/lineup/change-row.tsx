'use client'
// One change of the proposal: its number, who goes where, why, and what one may wish instead. The number is the same
// in the plan and here; choosing it shows its thread.
import type { ReactNode } from 'react'
import type { PlaceOnFloor, Turn } from '#lib/views'
import type { Records } from '#lib/words'
import { useNewId, useWouldRefuse } from '../../_board/index.ts'
import { Button, ChooseButton, type Destination, Notice } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayFindings } from '../../_text/index.ts'
import { inked } from '../inked.tsx'
import { numberOf } from '../number-of.ts'
import type { Wanted } from '../what-if/say-what-if.ts'
import { useAhead } from '../what-if/use-ahead.ts'
import { few, names } from '../words.ts'

export type ChangeRowProps = {
  readonly n: number | null
  readonly title: string
  readonly reasons: readonly string[]
  readonly isChosen: boolean
  readonly onChoose: () => void
  /** Two acts as marks, while the row is not chosen. */
  readonly quick?: ReactNode
  readonly children?: ReactNode
}

/** The row; its acts are given by the caller: two marks beside it, all in words beneath once it is chosen. */
export function ChangeRow({ n, title, reasons, isChosen, onChoose, quick, children }: ChangeRowProps) {
  return (
    <li className={`border-b border-b-line py-2 ${isChosen ? 'row-chosen' : ''}`}>
      <div className="flex items-start gap-2">
        <button
          type="button"
          className="flex min-h-11 min-w-0 flex-1 items-start gap-3 py-1 text-left"
          aria-pressed={isChosen}
          onClick={onChoose}
        >
          {n === null ? null : (
            <span className="grid size-7 flex-none place-items-center rounded-full border-2 border-dashed border-chalk text-small font-strong text-chalk">
              <span className="sr-only">Change </span>
              {n}
            </span>
          )}
          <span className="min-w-0 flex-1">
            <span className="block font-strong">{inked(title)}</span>
            <span className="block text-small text-wash">{inked(reasons.join(' '))}</span>
          </span>
        </button>
        {isChosen || quick === undefined ? null : <span className="flex flex-none gap-1.5">{quick}</span>}
      </div>
      {isChosen && children !== undefined ? <div className="mt-1.5 flex flex-wrap gap-2 pl-10">{children}</div> : null}
    </li>
  )
}

export type WishesProps = {
  readonly records: Records
  readonly date: string
  readonly turn: Turn
  /** Others at the same or the mentor's place, whom one may wish apart. */
  readonly beside: readonly string[]
  /** Marks alone, for the narrow column beside the words. */
  readonly isQuick?: boolean
  /** The places as drawn up, where the turn's shift is the one shown. */
  readonly places?: readonly PlaceOnFloor[] | undefined
  /** The whole proposal, from which one looks ahead. */
  readonly from?: readonly Wanted[] | undefined
  /** Called after a wish that the proposal on the table does not keep. */
  readonly onWish: () => void
}

/** Hold it, forbid it, put them elsewhere: each is a wish that the next draw-up keeps. */
export function Wishes({ records, date, turn, beside, places, from, isQuick = false, onWish }: WishesProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const id = `${date}.${turn.shiftId}.${turn.personId}`
  const hold = records.hold.get(id)
  const isHeld = hold !== undefined && hold.placeId === turn.placeId && hold.pieceId === turn.pieceId
  const name = records.person.get(turn.personId)?.name ?? ''
  const wish = (isDone: boolean) => {
    if (isDone) onWish()
  }
  const body = {
    date,
    shiftId: turn.shiftId,
    personId: turn.personId,
    pieceId: turn.pieceId,
    stepId: turn.stepId,
  }
  const forbid = (choice: string) => {
    const [what = '', of = ''] = choice.split(' ')
    wish(
      attempt({
        kind: 'forbid',
        forbid: {
          id: newId(),
          date: what.startsWith('always') ? null : date,
          personId: turn.personId,
          pieceId: what.endsWith('piece') ? turn.pieceId : null,
          placeId: what.endsWith('place') ? turn.placeId : null,
          withPersonId: what.endsWith('with') ? (of as typeof turn.personId) : null,
        },
      }),
    )
  }
  // Held as it was drawn up: the proposal stands, and a post keeps the hold.
  const toggleHold = () =>
    attempt(isHeld ? { kind: 'unhold', holdId: id } : { kind: 'hold', ...body, placeId: turn.placeId })
  const choices = forbidChoices(records, turn, beside)
  const said = problem === undefined ? null : <Notice kind="error">{problem}</Notice>
  if (isQuick)
    return (
      <>
        <Button
          mark="hold"
          label={isHeld ? `${name} is held` : `Hold ${name}`}
          aria-pressed={isHeld}
          onClick={toggleHold}
        />
        <ChooseButton
          label={`Not together: ${name}`}
          mark="forbid"
          title={`Keep ${name} apart from`}
          destinations={choices}
          onChoose={forbid}
        />
        {said}
      </>
    )
  return (
    <>
      <Button mark="hold" aria-pressed={isHeld} onClick={toggleHold}>
        {isHeld ? 'Held' : 'Hold'}
        <span className="sr-only"> {name}</span>
      </Button>
      <ChooseButton
        word="Not together…"
        mark="forbid"
        title={`Keep ${name} apart from`}
        destinations={choices}
        onChoose={forbid}
      />
      <MoveButton
        records={records}
        turn={turn}
        date={date}
        places={places}
        from={from}
        onMove={(placeId) => wish(attempt({ kind: 'hold', ...body, placeId: placeId as typeof turn.placeId }))}
      />
      {said}
    </>
  )
}

/** Where else they could sit with the piece: first what the rules allow, with the seats that are free as drawn up. */
function MoveButton({ records, turn, date, places, from, onMove }: MoveButtonProps) {
  const wouldRefuse = useWouldRefuse()
  const looking = useAhead(turn, { date, from })
  const { shiftId, personId, pieceId, stepId } = turn
  const byId = new Map(places?.map((entry) => [entry.place.id, entry]))
  const destinations = [...records.place.values()]
    .filter((place) => place.id !== turn.placeId)
    .toSorted((a, b) => (a.code < b.code ? -1 : 1))
    .map((place): Destination => {
      const findings = wouldRefuse({ kind: 'hold', date, shiftId, personId, pieceId, stepId, placeId: place.id })
      const entry = byId.get(place.id)
      return {
        id: place.id,
        label: `${place.code} ${place.name}`,
        note: entry === undefined ? place.kind : seatWords(entry),
        // The first reason is the deciding one; the others would fill the list.
        ...(findings.length > 0 ? { reason: sayFindings(findings.slice(0, 1), records) } : {}),
      }
    })
    .toSorted((a, b) => Number(a.reason !== undefined) - Number(b.reason !== undefined))
  return (
    <ChooseButton
      word="Move…"
      mark="move"
      title={`Move ${records.person.get(personId)?.name ?? ''} with ${numberOf(records, pieceId)} to`}
      lead="No other place suits this step as things stand."
      destinations={destinations}
      {...looking}
      onChoose={onMove}
    />
  )
}

/** "one of two seats free" or who would have to make room. */
function seatWords({ place, freeSeats, sitters }: PlaceOnFloor): string {
  if (freeSeats > 0) return place.seats === 1 ? 'free' : `${few(freeSeats)} of ${few(place.seats)} seats free`
  return `full: ${names(sitters.map((sitter) => sitter.name))} would make room`
}

type MoveButtonProps = Pick<WishesProps, 'records' | 'turn' | 'date' | 'places' | 'from'> & {
  readonly onMove: (placeId: string) => void
}

function forbidChoices(records: Records, turn: Turn, beside: readonly string[]): readonly Destination[] {
  const number = numberOf(records, turn.pieceId)
  const code = records.place.get(turn.placeId)?.code ?? ''
  return [
    { id: 'today-piece', label: inked(number), note: 'on this day' },
    { id: 'always-piece', label: inked(number), note: 'on every day, until it is allowed again' },
    { id: 'today-place', label: code, note: 'on this day' },
    ...beside.map((other) => ({
      id: `today-with ${other}`,
      label: records.person.get(other)?.name ?? '',
      note: 'on this day',
    })),
  ]
}
