'use client'
// One person's day against the lab's limits, done and planned, for that person and the manager only. A tool whose
// figure nobody has entered is named, not guessed.
import type { CrewExposure } from '#lib/views'
import { Section } from '../_parts/controls/index.ts'
import { ExposureBar } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { sayNoise, sayPoints } from '../_text/index.ts'

/** The bar with its figure, in one line. */
export function ExposureLine({ exposure }: { readonly exposure: CrewExposure }) {
  const { donePoints, plannedPoints, limit } = exposure
  const sum = donePoints + plannedPoints
  return (
    <span className="flex flex-wrap items-center gap-x-3 text-small">
      <ExposureBar
        done={donePoints}
        planned={plannedPoints}
        action={limit}
        width={140}
        label={`Vibration today: ${sayPoints(sum, limit)}`}
      />
      <span>
        {sum === 0 ? 'No vibration planned today' : `${sayPoints(sum, limit)} of vibration today`}
        {sum > 0 ? `, ${Math.round(donePoints)} of them done` : ''}
      </span>
    </span>
  )
}

/** The section on a person's page. */
export function ExposureSection({ exposure }: { readonly exposure: CrewExposure }) {
  const { noiseDba, noiseLimit, unknown } = exposure
  return (
    <Section title="Today’s exposure" aside="for them and the manager">
      <div className="flex flex-col gap-2 pt-3">
        <ExposureLine exposure={exposure} />
        <p className="text-small">
          {noiseDba === null
            ? 'No noise is counted today.'
            : `Noise over the day ${sayNoise(noiseDba)}; the lab’s limit is ${sayNoise(noiseLimit)}.`}
        </p>
        {unknown.length === 0 ? null : (
          <p className="flex items-start gap-2 text-small">
            <Mark name="why" size={20} />
            Not counted, because nobody has entered a figure: {unknown.join(', ')}.
          </p>
        )}
        <p className="text-small text-umber">Published vibration points; local codes decide.</p>
      </div>
    </Section>
  )
}
