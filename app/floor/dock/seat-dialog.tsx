'use client'
// Seats somebody by hand: who, on which piece and step. On a posted day they sit there at once; before, it is a hold
// that the draw-up keeps. What stands against it is said while one chooses, from the rules that will decide.
import { useMemo, useState } from 'react'
import { type Floor, openSteps, pieceChoices } from '#lib/views'
import { useWouldRefuse } from '../../_board/index.ts'
import { Button, Dialog, Notice, Select } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayFindings } from '../../_text/index.ts'
import { seatByHand } from '../by-hand.ts'
import type { FloorAt } from '../use-floor.ts'

export type SeatDialogProps = {
  readonly at: FloorAt
  readonly floor: Floor
  readonly placeId: string
  /** Asks for a hold even on a posted day: a proposal is being shaped. */
  readonly isHold?: boolean
  readonly personId?: string
  readonly word?: string
  readonly onDone?: () => void
}

/** The button and its form. */
export function SeatDialog(props: SeatDialogProps) {
  const [isOpen, setOpen] = useState(false)
  return (
    <>
      <Button aria-haspopup="dialog" onClick={() => setOpen(true)}>
        {props.word ?? 'Seat somebody…'}
      </Button>
      <Dialog
        isOpen={isOpen}
        title={`Seat somebody at ${props.at.records.place.get(props.placeId as never)?.code ?? ''}`}
        onClose={() => setOpen(false)}
      >
        <SeatForm
          {...props}
          onDone={() => {
            setOpen(false)
            props.onDone?.()
          }}
        />
      </Dialog>
    </>
  )
}

function SeatForm({ at, floor, placeId, isHold = false, personId: given, onDone }: SeatDialogProps) {
  const { records, shift } = at
  const wouldRefuse = useWouldRefuse()
  const { attempt, problem } = useTry()
  const people = useMemo(() => {
    const seatOf = new Map(
      floor.places.flatMap(({ place, sitters }) => sitters.map((one) => [one.personId, place.code])),
    )
    return [...floor.presence.values()]
      .filter((person) => person.state !== 'away' && person.state !== 'left')
      .map((person) => ({ id: person.personId, name: person.name, seat: seatOf.get(person.personId) }))
      .toSorted((a, b) => Number(a.seat !== undefined) - Number(b.seat !== undefined))
  }, [floor])
  const pieces = useMemo(() => pieceChoices(records, placeId, at.date), [records, placeId, at.date])
  const [personId, setPersonId] = useState<string>(given ?? people[0]?.id ?? '')
  const [pieceId, setPieceId] = useState<string>(pieces[0]?.pieceId ?? '')
  const steps = openSteps(records, pieceId)
  const [wantedStep, setWantedStep] = useState('')
  const step = steps.find((one) => one.id === wantedStep) ?? steps[0]
  if (!shift) return null
  if (people.length === 0) return <p className="named text-say">Nobody is in for this shift.</p>
  const isPosted = records.day.has(at.date)
  const kind = isPosted && !isHold ? ('seat' as const) : ('hold' as const)
  const body = step && {
    kind,
    date: at.date,
    shiftId: shift.id,
    personId: personId as never,
    pieceId: step.pieceId,
    stepId: step.id,
    placeId: placeId as never,
  }
  const findings = body ? wouldRefuse(body) : []
  return (
    <form
      className="flex flex-col gap-4"
      onSubmit={(event) => {
        event.preventDefault()
        if (!body) return
        const { kind: _kind, ...turn } = body
        const isDone = kind === 'seat' ? seatByHand(attempt, records, turn) : attempt(body)
        if (isDone) onDone?.()
      }}
    >
      <Select
        label="Who"
        value={personId}
        onValue={setPersonId}
        choices={people.map((one) => ({
          value: one.id as string,
          label: one.seat === undefined ? `${one.name}, no seat yet` : `${one.name}, now at ${one.seat}`,
        }))}
      />
      <Select
        label="Piece"
        value={pieceId}
        onValue={(id) => {
          setPieceId(id)
          setWantedStep('')
        }}
        choices={pieces.map((one) => ({
          value: one.pieceId as string,
          label: `${one.number} ${one.name}${one.isHere ? ', lies here' : ''}`,
        }))}
      />
      <Select
        label="Step"
        value={step?.id ?? ''}
        onValue={setWantedStep}
        choices={steps.map((one) => ({ value: one.id as string, label: one.title }))}
      />
      {findings.length > 0 || problem !== undefined ? (
        <Notice kind="error">{problem ?? sayFindings(findings, records)}</Notice>
      ) : null}
      <Button kind="ink" type="submit" disabled={!body || findings.length > 0}>
        {kind === 'seat' ? 'Seat them here' : 'Hold this for the draw-up'}
      </Button>
    </form>
  )
}
