'use client'
// What this day's draw-up has to keep: holds and what must not be together, each with its way back.
import type { Records } from '#lib/words'
import { Button, Notice, Row, Rows, Section } from '../../_parts/controls/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { numberOf } from '../number-of.ts'

export type WishesListProps = { readonly records: Records; readonly date: string; readonly onWish: () => void }

/** Holds and forbids of the day; nothing when there are none. */
export function WishesList({ records, date, onWish }: WishesListProps) {
  const { attempt, problem } = useTry()
  const holds = [...records.hold.values()].filter((hold) => hold.date === date)
  const forbids = [...records.forbid.values()].filter((forbid) => forbid.date === null || forbid.date === date)
  if (holds.length + forbids.length === 0) return null
  const person = (id: string) => records.person.get(id)?.name ?? 'Somebody'
  const code = (id: string) => records.place.get(id)?.code ?? 'a place'
  const shift = (id: string) =>
    records.lab
      .get('lab')
      ?.shifts.find((one) => one.id === id)
      ?.name.toLowerCase() ?? ''
  return (
    <Section title="Kept by every draw-up" aside={holds.length + forbids.length}>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <Rows>
        {holds.map((hold) => (
          <Row
            key={hold.id}
            lead={<Mark name="hold" size={22} label="held" />}
            note={`${shift(hold.shiftId)}, on ${numberOf(records, hold.pieceId)}`}
            end={
              <Button
                kind="quiet"
                onClick={() => {
                  if (attempt({ kind: 'unhold', holdId: hold.id })) onWish()
                }}
              >
                Let go<span className="sr-only"> of {person(hold.personId)}</span>
              </Button>
            }
          >
            {person(hold.personId)} at {code(hold.placeId)}
          </Row>
        ))}
        {forbids.map((forbid) => (
          <Row
            key={forbid.id}
            lead={<Mark name="forbid" size={22} label="not together" />}
            note={forbid.date === null ? 'on every day' : 'on this day'}
            end={
              <Button
                kind="quiet"
                onClick={() => {
                  if (attempt({ kind: 'allow', forbidId: forbid.id })) onWish()
                }}
              >
                Allow<span className="sr-only"> {person(forbid.personId)} again</span>
              </Button>
            }
          >
            {person(forbid.personId)}, not{' '}
            {forbid.pieceId
              ? `with ${numberOf(records, forbid.pieceId)}`
              : forbid.placeId
                ? `at ${code(forbid.placeId)}`
                : `beside ${person(forbid.withPersonId ?? '')}`}
          </Row>
        ))}
      </Rows>
    </Section>
  )
}
