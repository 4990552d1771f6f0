'use client'
// One change of the proposal: its number, who goes where, why, and what one may wish instead. The number is the same
// in the plan and here; choosing it shows its thread.
import type { ReactNode } from 'react'
import type { Turn } from '#lib/views'
import type { Records } from '#lib/words'
import { useNewId } from '../../_board/index.ts'
import { Button, ChooseButton, type Destination, Notice } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { numberOf } from '../number-of.ts'

export type ChangeRowProps = {
  readonly n: number | null
  readonly title: ReactNode
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
            <span className="grid size-7 flex-none place-items-center rounded-full border-[1.6px] border-chalk text-small font-strong text-chalk">
              <span className="sr-only">Change </span>
              {n}
            </span>
          )}
          <span className="min-w-0 flex-1">
            <span className="block font-strong">{title}</span>
            <span className="block text-small text-wash">{reasons.join(' ')}</span>
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
  /** Called after a wish was noted. */
  readonly onWish: () => void
}

/** Hold it, forbid it, put them elsewhere: each is a wish that the next draw-up keeps. */
export function Wishes({ records, date, turn, beside, isQuick = false, onWish }: WishesProps) {
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
  const toggleHold = () =>
    wish(attempt(isHeld ? { kind: 'unhold', holdId: id } : { kind: 'hold', ...body, placeId: turn.placeId }))
  const choices = forbidChoices(records, turn, beside, name)
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
          title={`What should not be, for ${name}`}
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
        title={`What should not be, for ${name}`}
        destinations={choices}
        onChoose={forbid}
      />
      <ChooseButton
        word="Move…"
        mark="move"
        title={`Hold ${name} with ${numberOf(records, turn.pieceId)} at`}
        destinations={[...records.place.values()]
          .filter((place) => place.id !== turn.placeId)
          .toSorted((a, b) => (a.code < b.code ? -1 : 1))
          .map((place) => ({ id: place.id, label: `${place.code} ${place.name}`, note: place.kind }))}
        onChoose={(placeId) => wish(attempt({ kind: 'hold', ...body, placeId: placeId as typeof turn.placeId }))}
      />
      {said}
    </>
  )
}

function forbidChoices(records: Records, turn: Turn, beside: readonly string[], name: string): readonly Destination[] {
  const number = numberOf(records, turn.pieceId)
  const code = records.place.get(turn.placeId)?.code ?? ''
  return [
    { id: 'today-piece', label: `${name} and ${number}`, note: 'not on this day' },
    { id: 'always-piece', label: `${name} and ${number}`, note: 'never, until it is allowed again' },
    { id: 'today-place', label: `${name} at ${code}`, note: 'not on this day' },
    ...beside.map((other) => ({
      id: `today-with ${other}`,
      label: `${name} beside ${records.person.get(other)?.name ?? ''}`,
      note: 'not on this day',
    })),
  ]
}
