'use client'
// The usual cautions of the piece itself, before anybody opens or lifts it, and of the work that is next on it. Talus never says that something may be done
// without risk; it names who decides.
import { assignmentsOn } from '#lib/rules'
import { HEAVY_KG, liftingGear } from '#lib/views'
import type { Technique } from '#lib/words'
import { Fold } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { atWork, cautionsFor, fieldHazards, ofPiece } from '../mine/cautions.ts'
import { Mind } from '../mine/mind.tsx'
import { sayGear, sayNeed } from './say-lift.ts'
import { type SheetAt, techniqueIn } from './sheet-at.ts'

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
  const work = <OfWork at={at} />
  if (lines.length === 0) return work
  const contact = at.records.lab.get('lab')?.safetyContact ?? ''
  const isHazard = hazards.length > 0 || massKg >= HEAVY_KG
  return (
    <>
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
      {work}
    </>
  )
}

/** The usual cautions of what is done on it next; of one's own turn today with the press that says they were read. */
function OfWork({ at }: { readonly at: SheetAt }) {
  const { records, sheet, me, today } = at
  const { piece } = sheet
  const mine = assignmentsOn(records, today).find((turn) => turn.personId === me && turn.pieceId === piece.id)
  const own = mine && atWork(records, mine)
  if (own && me !== null) return <Mind records={records} turn={own} personId={me} />
  const open = [...records.step.values()].filter(
    (step) => step.pieceId === piece.id && (step.state === 'waiting' || step.state === 'begun'),
  )
  const techniques = new Map(
    open.flatMap(({ techniqueId }) => {
      const technique = techniqueIn(at, techniqueId)
      return technique && technique.hazards.length > 0 ? [[technique.id, technique] as const] : []
    }),
  )
  const begun = new Set(open.filter(({ state }) => state === 'begun').map(({ techniqueId }) => techniqueId))
  const all = [...techniques.values()]
  const later = all.filter(({ id }) => !begun.has(id))
  return (
    <div>
      {all
        .filter(({ id }) => begun.has(id))
        .map((technique) => (
          <Fold key={technique.id} className="no-print" title={`Cautions for ${technique.name.toLowerCase()}`}>
            <Usual at={at} technique={technique} />
          </Fold>
        ))}
      {later.length === 0 ? null : (
        <Fold
          className="no-print"
          title={`Cautions for later: ${later.map(({ name }) => name.toLowerCase()).join(', ')}`}
        >
          {later.map((technique) => (
            <section key={technique.id}>
              <h3 className="font-strong">{technique.name}</h3>
              <Usual at={at} technique={technique} />
            </section>
          ))}
        </Fold>
      )}
    </div>
  )
}

/** The usual cautions of one technique, without those that stand with the piece. */
function Usual({ at, technique }: { readonly at: SheetAt; readonly technique: Readonly<Technique> }) {
  return (
    <ul className="pb-2">
      {cautionsFor(at.records, { piece: at.sheet.piece, technique })
        .filter(({ key }) => !ofPiece.has(key) && !key.startsWith('field '))
        .map(({ key, mark, bold, text }) => (
          <li key={key} className="flex items-start gap-2.5 py-1">
            <Mark name={mark} size={22} />
            <span>
              {bold === undefined ? null : <b>{bold} </b>}
              {text}
            </span>
          </li>
        ))}
    </ul>
  )
}
