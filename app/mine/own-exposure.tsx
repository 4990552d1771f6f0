'use client'
// One's own day in figures, short: vibration and noise against the lab's limits, done and planned, and what is not counted.
// Nothing for whoever has no such tool today; the whole ledger with its formulas is on one's page.
import Link from 'next/link'
import { useMemo } from 'react'
import { exposureToday, withHandMinutes } from '#lib/views'
import type { PersonId, Records } from '#lib/words'
import { Section } from '../_parts/controls/index.ts'
import { sayNoise } from '../_text/index.ts'
import { ExposureLine } from '../crew/exposure.tsx'
import { useHandMinutes } from '../safety/use-hand-minutes.ts'

type OwnExposureProps = { readonly records: Records; readonly personId: PersonId; readonly date: string }

/** The lines. */
export function OwnExposure({ records, personId, date }: OwnExposureProps) {
  const { works } = useHandMinutes(records, personId, true)
  const told = useMemo(() => withHandMinutes(records, works), [records, works])
  const exposure = exposureToday(told, personId, date)
  if (!exposure) return null
  const { donePoints, plannedPoints, limit, noiseDba, noiseLimit, unknown } = exposure
  if (donePoints + plannedPoints === 0 && noiseDba === null && unknown.length === 0) return null
  return (
    <Section title="Your day’s exposure" aside="private" className="pt-5">
      <div className="flex flex-col gap-1 py-2">
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
