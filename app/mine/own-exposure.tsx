'use client'
// One's own day in figures, short: vibration and noise against the lab's limits, done and planned, and what is not counted;
// then a line for each posted day to come. Nothing for whoever has no such tool; the whole ledger with its formulas is on
// one's page.
import Link from 'next/link'
import { useMemo } from 'react'
import { type CrewExposure, comingDays, dayExposureOf, hasTool, withHandMinutes } from '#lib/views'
import type { PersonId, Records } from '#lib/words'
import { Section } from '../_parts/controls/index.ts'
import { sayNoise } from '../_text/index.ts'
import { ExposureLine } from '../crew/exposure.tsx'
import { sayComingDate, sayPlanned } from '../safety/say-day.ts'
import { useHandMinutes } from '../safety/use-hand-minutes.ts'

type OwnExposureProps = { readonly records: Records; readonly personId: PersonId; readonly date: string }

/** Days to come that stand here; the others are on one's page. */
const DAYS_MAX = 3

/** The lines. */
export function OwnExposure({ records, personId, date }: OwnExposureProps) {
  const { works } = useHandMinutes(records, personId, true)
  const told = useMemo(() => withHandMinutes(records, works), [records, works])
  const day = dayExposureOf(told, personId, date)
  const coming = useMemo(() => comingDays(records, personId, date).filter(hasTool), [records, personId, date])
  if (!day || (!hasTool(day) && coming.length === 0)) return null
  return (
    <Section title="Your exposure" aside="private" className="pt-5">
      <div className="flex flex-col gap-1 py-2">
        {hasTool(day) ? <Today exposure={day.exposure} /> : null}
        {coming.slice(0, DAYS_MAX).map((one) => (
          <p key={one.date} className="text-small">
            {sayComingDate(one.date, date)}, planned: {sayPlanned(one)}.
          </p>
        ))}
        <p>
          <Link
            className="inline-flex min-h-11 items-center underline underline-offset-4"
            href={`/crew?person=${personId}`}
          >
            How it is reckoned
          </Link>
        </p>
      </div>
    </Section>
  )
}

function Today({ exposure }: { readonly exposure: CrewExposure }) {
  const { donePoints, limit, noiseDba, noiseLimit, unknown } = exposure
  return (
    <>
      {donePoints >= limit ? (
        <p className="font-strong">You are at the lab’s limit of the day: rest from air tools.</p>
      ) : null}
      <ExposureLine exposure={exposure} />
      {noiseDba === null ? null : (
        <p className="text-small">
          Noise {sayNoise(noiseDba)} over 8 h, done and planned; the lab’s limit is {sayNoise(noiseLimit)}.
        </p>
      )}
      {unknown.length === 0 ? null : (
        <p className="text-small">Not counted, figure unknown: {unknown.join(', ')}. Ask for it to be measured.</p>
      )}
    </>
  )
}
