'use client'
// One person's day against the lab's limits, done and planned, for that person and the manager only. The
// whole ledger is app/safety/ledger.tsx.
import type { CrewExposure } from '#lib/views'
import { ExposureBar } from '../_parts/figures/index.ts'
import { sayPoints } from '../_text/index.ts'

type ExposureLineProps = {
  readonly exposure: CrewExposure
  /** When, within a sentence. */
  readonly on?: string
}

/** The bar with its figure, in one line. */
export function ExposureLine({ exposure, on = 'today' }: ExposureLineProps) {
  const { donePoints, plannedPoints, limit, unknown } = exposure
  const sum = donePoints + plannedPoints
  return (
    <span className="flex flex-wrap items-center gap-x-3 text-small">
      <ExposureBar
        done={donePoints}
        planned={plannedPoints}
        action={limit}
        width={140}
        label={`Vibration ${on}: ${sayPoints(sum, limit)}`}
      />
      <span>
        {sum > 0
          ? `${sayPoints(sum, limit)} of vibration ${on}`
          : `No vibration ${unknown.length === 0 ? 'planned' : 'counted'} ${on}`}
        {donePoints > 0 || (sum > 0 && on === 'today') ? `, ${Math.round(donePoints)} of them done` : ''}
      </span>
    </span>
  )
}
