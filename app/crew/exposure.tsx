'use client'
// One person's day against the lab's limits, done and planned, for that person and the manager only. The
// whole ledger is app/safety/ledger.tsx.
import type { CrewExposure } from '#lib/views'
import { ExposureBar } from '../_parts/figures/index.ts'
import { sayPoints } from '../_text/index.ts'

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
