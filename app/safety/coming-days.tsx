'use client'
// What is planned for somebody on the days to come, each day opening to its figures as today's does. Its reader is whoever may
// read today's: the person, the managers and whoever looks after safety.
import { useMemo } from 'react'
import { type ComingDay, comingDays, hasTool } from '#lib/views'
import type { PersonId, Records } from '#lib/words'
import { Fold, Section } from '../_parts/controls/index.ts'
import { capital } from '../_text/index.ts'
import { ExposureLine } from '../crew/exposure.tsx'
import { DayFigures } from './day-figures.tsx'
import { sayComingDate, sayOn, sayPlanned } from './say-day.ts'

type ComingDaysProps = { readonly records: Records; readonly personId: PersonId; readonly today: string }

/** The section on a person's page, below today's. */
export function ComingDays({ records, personId, today }: ComingDaysProps) {
  const days = useMemo(() => comingDays(records, personId, today), [records, personId, today])
  const name = records.person.get(personId)?.name ?? 'this person'
  return (
    <Section title="Planned exposure" aside="private">
      {days.length === 0 ? (
        <p className="pt-3">No day after today is posted with a seat for {name}.</p>
      ) : (
        <>
          <ul aria-label={`Planned exposure of ${name}, by day`}>
            {days.map((day) => (
              <li key={day.date} className="border-b border-line">
                <Fold
                  title={
                    <span className="min-w-0 py-1.5">
                      <span className="block text-ink">{sayComingDate(day.date, today)}</span>
                      <span className="block font-plain text-small">{capital(sayPlanned(day))}</span>
                    </span>
                  }
                >
                  <Day records={records} day={day} on={sayOn(day.date, today)} />
                </Fold>
              </li>
            ))}
          </ul>
          <p className="pt-3 text-small text-umber">
            As the line-up plans it: time in the hand is each tool’s usual share of the shift. When the line-up changes,
            so does this.
          </p>
        </>
      )}
    </Section>
  )
}

type DayProps = { readonly records: Records; readonly day: ComingDay; readonly on: string }

function Day({ records, day, on }: DayProps) {
  return (
    <div className="flex flex-col gap-2 pb-4">
      <ul className="text-small">
        {day.turns.map(({ shift, technique, placeCode }) => (
          <li key={shift.id}>
            {shift.name}: {technique.name} at {placeCode}
          </li>
        ))}
      </ul>
      {hasTool(day) ? <ExposureLine exposure={day.exposure} on={on} /> : null}
      <DayFigures records={records} day={day} on={on} isOpen />
    </div>
  )
}
