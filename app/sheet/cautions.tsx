'use client'
// The usual cautions of the piece itself, before anybody opens or lifts it. Talus never says that something may be done
// without risk; it names who decides.
import type { Records } from '#lib/words'
import { Mark } from '../_parts/marks/index.ts'
import { sayDate, sayKg } from '../_text/index.ts'
import { fieldHazards } from '../mine/cautions.ts'
import type { SheetAt } from './sheet-at.ts'

/** From here on nobody lifts alone; the usual figure for a team lift with good grip is well below it. */
const HEAVY_KG = 25

/** Two strong people by hand, HSE guidance on team handling: two thirds of 25 + 25 kg. Above it Talus names no team. */
const HANDS_KG = 33

/** Who or what lifts so much. The lifting equation speaks of one person's two-handed lifts and of no jacket turned by several. */
function liftWords(records: Records, massKg: number): string {
  const heavy = `Up to ${sayKg(massKg)}: agree who leads.`
  if (massKg <= HANDS_KG)
    return `${heavy} Two people or a trolley (HSE L23, team handling); the safety officer assesses it.`
  const hoists = [...records.check.values()]
    .filter((check) => check.isActive && check.ratedKg !== null)
    .map(({ name, ratedKg, last }) => {
      const short = (ratedKg ?? 0) < massKg ? ', too little for this' : ''
      const looked = last === null ? 'not checked yet' : `checked ${sayDate(last.date, 'full')}, ${last.result}`
      return `${name}, rated ${sayKg(ratedKg ?? 0)}${short}, ${looked}`
    })
  return [
    `${heavy} Not by hand: hoist, trolley or crane. The NIOSH equation does not speak of turning or of several people.`,
    ...(hoists.length > 0 ? [`${hoists.join('; ')}.`] : []),
  ].join(' ')
}

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
    ...(massKg >= HEAVY_KG ? [{ key: 'lift', mark: 'lift' as const, text: liftWords(at.records, massKg) }] : []),
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
