'use client'
// What changes hands among the crew, for staff: offered turns that nobody has taken, and those that were taken.
import { memo } from 'react'
import { shiftOf } from '#lib/rules'
import { swapsSeen } from '#lib/views'
import { paintsFor } from '../_board/index.ts'
import { Row, Rows, Section } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { sayDay } from '../_text/index.ts'
import { type CrewAt, nameIn } from './use-crew-at.ts'

/** The list; nothing when no turn was offered. */
export const SwapsSeen = memo(
  function SwapsSeen({ at }: { readonly at: CrewAt }) {
    const swaps = swapsSeen(at.records)
    if (!at.isStaff || swaps.length === 0) return null
    const whenOf = (id: string) => {
      const [date = '', shiftId = ''] = id.split('.')
      return `${sayDay(date, at.today)}, ${shiftOf(at.records, shiftId)?.name.toLowerCase() ?? ''}`
    }
    return (
      <Section title="Turns from hand to hand" className="max-w-3xl pb-6">
        <Rows label="Turns from hand to hand">
          {swaps.map(({ id, personId, note, taken }) => (
            <Row key={id} lead={<Mark name="person" size={22} />} note={note}>
              <b>{nameIn(at.records, personId)}</b> offered {whenOf(id)}
              {taken === null ? '; nobody has taken it' : `; ${nameIn(at.records, taken.by)} took it`}
              {taken?.gave ? ` for ${whenOf(taken.gave)}` : ''}
            </Row>
          ))}
        </Rows>
      </Section>
    )
  },
  paintsFor('swap', 'assignment', 'person'),
)
