'use client'
// Under the plan: the compressor's air as one pipe, with extraction and hood beside it in words.
import { airOf, type Floor, plantOf } from '#lib/views'
import type { Records } from '#lib/words'
import { AirPipe } from '../_parts/figures/index.ts'
import { useShared } from '../_parts/shared.ts'
import { sayAir } from '../_text/index.ts'

export type AirStripProps = {
  readonly records: Records
  readonly floor: Floor
  /** Turns (shift.person) that are only drawn up. */
  readonly proposed?: ReadonlySet<string>
  readonly isProposal?: boolean
}

const stateWords = { used: '', reserved: ' late', proposed: ' new' } as const

/** The pipe of the shift; nothing in a lab without a compressor. */
export function AirStrip({ records, floor, proposed, isProposal = false }: AirStripProps) {
  const air = airOf(records, floor, proposed)
  const plant = plantOf(records, floor)
  const parts = useShared(
    air.parts.map((part) => ({
      id: `${part.placeId} ${part.state}`,
      label: `${part.code}${stateWords[part.state]} ${part.lpm}`,
      flowLpm: part.lpm,
      kind: part.state,
    })),
  )
  if (air.totalLpm === 0) return null
  const more = [
    plant.extraction.all > 0 ? `extraction ${plant.extraction.used} of ${plant.extraction.all} arms` : '',
    plant.hood.all > 0 ? (plant.hood.used > 0 ? 'hood in use' : 'hood free') : '',
  ].filter(Boolean)
  const caption = isProposal
    ? `Air, litres a minute at ${air.dutyPct} % duty · as drawn up`
    : [`Air, litres a minute at ${air.dutyPct} % duty`, ...more].join(' · ')
  const drawn = air.parts.map((part) => `${part.code} ${sayAir(part.lpm)}${stateWords[part.state]}`)
  return (
    <AirPipe
      caption={caption}
      capacityLpm={air.totalLpm}
      parts={parts}
      label={`${drawn.length > 0 ? drawn.join(', ') : 'No air in use'}; ${sayAir(air.freeLpm)} free of ${sayAir(air.totalLpm)}.`}
    />
  )
}
