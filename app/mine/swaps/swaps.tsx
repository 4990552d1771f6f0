'use client'
// Turns from hand to hand: one's own, to be offered, and those others offer, taken with one press. Whether somebody may
// is judged as it is pressed, by the rules on both turns, and said beside the button.
import { useState } from 'react'
import { type OfferedTurn, offersFor, ownTurns } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { Button, DialogButton, FieldNumber, Notice, Row, Rows, SectionHeading } from '../../_parts/controls/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayDay } from '../../_text/index.ts'
import { ActButton } from '../act-button.tsx'

type SwapsProps = {
  readonly records: Records
  readonly personId: RecordOf<'person'>['id']
  readonly today: string
  readonly minute: number
}

/** Both lists; nothing when there is neither a turn nor an offer. */
export function Swaps({ records, personId, today, minute }: SwapsProps) {
  const own = ownTurns(records, personId, { date: today, minute })
  const offers = offersFor(records, personId, { date: today, minute })
  if (own.length === 0 && offers.length === 0) return null
  const when = (one: OfferedTurn) => `${sayDay(one.assignment.date, today)}, ${one.shift.name.toLowerCase()}`
  return (
    <section className="mt-6" aria-label="Turns from hand to hand">
      <SectionHeading title="Turns from hand to hand" />
      <Rows label="Turns others offer">
        {offers.map((one) => (
          <Row
            key={one.assignment.id}
            height="action"
            lead={<Mark name="person" size={24} />}
            note={`${one.technique.name}, at ${one.place.code}${one.swap?.note ? `; ${one.swap.note}` : ''}`}
            end={
              <span className="flex flex-col items-end gap-2">
                <ActButton
                  word="Take it"
                  kind="ink"
                  label={`Take ${one.name}’s turn, ${when(one)}`}
                  done={`${one.name}’s turn is yours.`}
                  act={{ kind: 'takeSwap', swapId: one.assignment.id, gives: null }}
                />
                {own.length === 0 ? null : (
                  <DialogButton
                    kind="quiet"
                    word="For mine…"
                    label={`Swap a turn of mine for ${one.name}’s, ${when(one)}`}
                    title={`For ${one.name}’s turn, ${when(one)}`}
                    width="narrow"
                  >
                    {(close) => <ForMine offer={one} own={own} when={when} onDone={close} />}
                  </DialogButton>
                )}
              </span>
            }
          >
            <b>{one.name}</b> offers {when(one)}: <FieldNumber>{one.number}</FieldNumber>
          </Row>
        ))}
      </Rows>
      <Rows label="Your turns">
        {own.map((one) => (
          <Row
            key={one.assignment.id}
            note={one.swap ? 'offered to others; it is yours until somebody takes it' : `at ${one.place.code}`}
            end={
              one.swap ? (
                <ActButton
                  word="Take back"
                  label={`Take back the offer, ${when(one)}`}
                  done="It is offered no more."
                  act={{ kind: 'dropSwap', swapId: one.assignment.id }}
                />
              ) : (
                <ActButton
                  word="Offer"
                  label={`Offer your turn, ${when(one)}`}
                  done="It is offered to others."
                  act={{ kind: 'offerSwap', assignmentId: one.assignment.id, note: '' }}
                />
              )
            }
          >
            {when(one)}: <FieldNumber>{one.number}</FieldNumber>
          </Row>
        ))}
      </Rows>
    </section>
  )
}

type ForMineProps = {
  readonly offer: OfferedTurn
  readonly own: readonly OfferedTurn[]
  readonly when: (one: OfferedTurn) => string
  readonly onDone: () => void
}

function ForMine({ offer, own, when, onDone }: ForMineProps) {
  const { attempt, problem } = useTry()
  const [tried, setTried] = useState('')
  return (
    <div className="flex flex-col gap-3">
      <p>{offer.name} gets the turn you give. Both of you must be able to do what you take.</p>
      {own.map((one) => (
        <Button
          key={one.assignment.id}
          aria-pressed={tried === one.assignment.id}
          onClick={() => {
            setTried(one.assignment.id)
            if (attempt({ kind: 'takeSwap', swapId: offer.assignment.id, gives: one.assignment.id })) onDone()
          }}
        >
          {when(one)}: {one.number}
        </Button>
      ))}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </div>
  )
}
