'use client'
// The usual cautions of the piece itself, before anybody opens or lifts it. Talus never says that something may be done
// without risk; it names who decides.
import { HEAVY_KG, liftingGear } from '#lib/views'
import { Mark } from '../_parts/marks/index.ts'
import { fieldHazards } from '../mine/cautions.ts'
import { sayGear, sayNeed } from './say-lift.ts'
import type { SheetAt } from './sheet-at.ts'

/** Who or what lifts it, and the hoists there are. */
const sayHeavy = (at: SheetAt, massKg: number): string =>
  [sayNeed(at.sheet.piece.mass), ...liftingGear(at.records, massKg).map(sayGear)].join(' ')

/** What to mind with this piece; nothing when there is nothing in particular. */
export function Cautions({ at }: { readonly at: SheetAt }) {
  const { jacket, specimen, from, piece } = at.sheet
  const hazards = (jacket ?? from)?.hazards ?? []
  const massKg = piece.mass.weighedKg ?? piece.mass.highKg
  const lines: {
    readonly key: string
    readonly mark: 'fragile' | 'ceiling' | 'caution' | 'lift'
    readonly text: string
  }[] = [
    ...(specimen?.fragile ? [{ key: 'fragile', mark: 'fragile' as const, text: `Fragile: ${specimen.fragile}` }] : []),
    ...(specimen?.stopLine ? [{ key: 'stop', mark: 'ceiling' as const, text: `Stop line: ${specimen.stopLine}` }] : []),
    ...(piece.sampling === 'wanted'
      ? [{ key: 'samples', mark: 'caution' as const, text: 'Samples are wanted: take them before any consolidant.' }]
      : []),
    ...hazards.map((hazard) => ({ key: hazard, mark: 'caution' as const, text: fieldHazards[hazard] })),
    ...(massKg >= HEAVY_KG ? [{ key: 'lift', mark: 'lift' as const, text: sayHeavy(at, massKg) }] : []),
  ]
  if (lines.length === 0) return null
  const contact = at.records.lab.get('lab')?.safetyContact ?? ''
  const isHazard = hazards.length > 0 || massKg >= HEAVY_KG
  return (
    <section aria-label="Cautions" className="border-l-[5px] border-ink pl-3">
      <ul>
        {lines.map((line) => (
          <li key={line.key} className="flex items-start gap-2.5 py-1">
            <Mark name={line.mark} size={22} />
            <span>{line.text}</span>
          </li>
        ))}
      </ul>
      {isHazard ? (
        <p className="pt-1 text-small text-umber">
          {contact === '' ? '' : `${contact}. `}Local codes and the site’s safety officer decide.
        </p>
      ) : null}
    </section>
  )
}
