// What is planned for one after this shift.
import type { MyTurn } from '#lib/views'
import { FieldNumber, Row, Rows, SectionHeading } from '../_parts/controls/index.ts'
import { sayDay } from '../_text/index.ts'

/** The list; nothing when nothing is posted further on. */
export function NextTurns({ turns, today }: { readonly turns: readonly MyTurn[]; readonly today: string }) {
  if (turns.length === 0) return null
  return (
    <section className="mt-6">
      <SectionHeading title="After this" />
      <Rows label="After this">
        {turns.map(({ assignment, shift, place, piece, technique }) => (
          <Row
            key={assignment.id}
            note={`${technique.name}, at ${place.code}`}
            end={
              <span>
                {sayDay(assignment.date, today)}
                <span className="block font-plain text-umber">{shift.start}</span>
              </span>
            }
          >
            <FieldNumber>{'number' in piece ? piece.number : piece.fieldNumber}</FieldNumber>
          </Row>
        ))}
      </Rows>
    </section>
  )
}
