'use client'
// A person's exposure today, to come and before, each figure opening to its formula with its numbers and the standard. Only
// for the person, the managers and whoever looks after safety; what is not on the board comes by a question that the server
// answers to them.
import { useMemo } from 'react'
import { dayExposureOf, withHandMinutes } from '#lib/views'
import type { PersonId, Records } from '#lib/words'
import { Section } from '../_parts/controls/index.ts'
import { ExposureLine } from '../crew/exposure.tsx'
import { ComingDays } from './coming-days.tsx'
import { DayFigures } from './day-figures.tsx'
import { KeptDays } from './kept-days.tsx'
import { useHandMinutes } from './use-hand-minutes.ts'

type LedgerProps = { readonly records: Records; readonly personId: PersonId; readonly today: string }

/** The sections on a person's page. */
export function LedgerSection({ records, personId, today }: LedgerProps) {
  const { works, answer } = useHandMinutes(records, personId, true)
  const told = useMemo(() => withHandMinutes(records, works), [records, works])
  const day = useMemo(() => dayExposureOf(told, personId, today), [told, personId, today])
  const lab = records.lab.get('lab')
  if (!day || !lab) return null
  return (
    <>
      <Section title="Today’s exposure" aside="private">
        <div className="flex flex-col gap-2 pt-3">
          <ExposureLine exposure={day.exposure} />
          <DayFigures records={records} day={day} />
          {answer === null ? null : <KeptDays lab={lab} answer={answer} />}
          <p className="text-small text-umber">
            For {records.person.get(personId)?.name ?? 'this person'}, the managers and whoever looks after safety.
            Published vibration points; local codes decide. So do the site’s safety officer and licensed practice. The
            figures are no promise for one person.
          </p>
        </div>
      </Section>
      <ComingDays records={records} personId={personId} today={today} />
    </>
  )
}
