'use client'
// The first two weeks as they would go if all took its median time and everybody came: what the line-ups are drawn
// towards, not what anybody has been told.
import type { SeasonAnswer } from '#lib/season'
import { planByDay } from '#lib/views'
import type { Records } from '#lib/words'
import { FieldNumber, Fold, Section } from '../_parts/controls/index.ts'
import { namesIn, sayCount, sayDate } from '../_text/index.ts'

/** One fold a day. */
export function PlanDays({ season, records }: { readonly season: SeasonAnswer; readonly records: Records }) {
  const names = namesIn(records)
  const days = planByDay(season.plan)
  return (
    <Section title="The first two weeks" aside="not posted">
      {days.size === 0 ? <p className="py-2 text-umber">Nobody has anything to do in the next two weeks.</p> : null}
      {[...days].map(([date, turns]) => (
        <Fold key={date} title={`${sayDate(date, 'long')}: ${sayCount(turns.length, 'seat')}`}>
          <ul className="pb-2 text-small">
            {turns.map((turn) => (
              <li key={`${turn.shiftId} ${turn.personId}`} className="border-b border-line py-1.5">
                {names.person(turn.personId)}, {names.shift(turn.shiftId)}, at {names.place(turn.placeId)}:{' '}
                <FieldNumber>{names.piece(turn.pieceId)}</FieldNumber>, {names.step(turn.stepId)}
              </li>
            ))}
          </ul>
        </Fold>
      ))}
    </Section>
  )
}
