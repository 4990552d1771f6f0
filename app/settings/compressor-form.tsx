'use client'
// The compressor that feeds every air tool: what it delivers, and how much of the time it may run.
import { sayAir } from '../_text/index.ts'
import { KeptNumber } from '../room/kept-field.tsx'
import type { LabInHand } from './use-lab.ts'

/** Delivery and duty, and what that leaves for the tools. */
export function CompressorForm({ lab, keep }: LabInHand) {
  const { compressor } = lab
  const free = Math.floor((compressor.deliveryLpm * compressor.dutyPct) / 100)
  return (
    <div className="flex flex-col gap-3">
      <div className="grid gap-3 tablet:grid-cols-2">
        <KeptNumber
          label="Delivery at working pressure"
          unit="L/min"
          step={10}
          value={compressor.deliveryLpm}
          onKeep={(deliveryLpm) => keep({ compressor: { ...compressor, deliveryLpm } })}
        />
        <KeptNumber
          label="May run"
          unit="% of the time"
          step={5}
          max={100}
          value={compressor.dutyPct}
          onKeep={(dutyPct) => keep({ compressor: { ...compressor, dutyPct } })}
        />
      </div>
      <p className="text-umber">
        {free > 0
          ? `${sayAir(free)} for all air tools of a shift together; a line-up never draws more.`
          : 'Without air no line-up plans an air tool.'}{' '}
        The plate on the machine says its figures.
      </p>
    </div>
  )
}
