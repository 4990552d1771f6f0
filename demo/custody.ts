// What the demo lab knows of its pieces beside the work: racks with their ratings, assessments of what is being worked
// on, housings of what is housed, two jackets that hold one animal. Made from the pieces alone, so that nothing else of
// the demo changes with it.
import { addDays } from '#lib/base'
import type { Change, RecordOf } from '#lib/words'
import { record } from './dice.ts'

/** Kilograms a rack is rated for beyond what stands on it, at the least. */
const SPARE_KG = 150

/** The records. `staff` wrote them; `today` is the day the demo is first opened. */
export function demoCustody(pieces: readonly Change[], staff: readonly string[], today: string): readonly Change[] {
  const jackets = pieces.flatMap((one) => (one.kind === 'jacket' && one.record ? [one.record] : []))
  const specimens = pieces.flatMap((one) => (one.kind === 'specimen' && one.record ? [one.record] : []))
  const by = staff[0] ?? ''
  const at = (days: number): string => `${addDays(today, -days)}T10:30:00.000Z`
  const assessed = specimens.filter((one) => one.stage !== 'released' && one.ratings.by !== null).slice(0, 12)
  const housed = specimens.filter((one) => one.stage === 'housed').slice(0, 8)
  const [first, second] = jackets.filter((one) => one.partOf?.total === 2)
  return [
    ...racks([...jackets, ...specimens]),
    ...assessed.map((one, i) => assessment(one, staff[i % Math.max(1, staff.length)] ?? by, at(20 + i))),
    ...housed.map((one, i) => housing(one, by, at(5 + i))),
    ...(first && second
      ? [
          record('relation', {
            id: 'demo-one-animal',
            what: 'one animal',
            pieceIds: [first.id, second.id],
            note: 'The same break runs through both.',
            by,
            at: at(9),
            ends: null,
          }),
        ]
      : []),
  ]
}

function racks(pieces: readonly (RecordOf<'jacket'> | RecordOf<'specimen'>)[]): readonly Change[] {
  const stands = new Map<string, number>()
  for (const { shelf, mass, placeId } of pieces) {
    const name = shelf.split(',')[0] ?? ''
    if (!name.startsWith('rack') || placeId !== null) continue
    stands.set(name, (stands.get(name) ?? 0) + (mass.weighedKg ?? mass.highKg))
  }
  return [...stands]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, kg]) =>
      record('rack', { id: name.replace(' ', '-'), name, ratedKg: Math.ceil((kg + SPARE_KG) / 100) * 100 }),
    )
}

function assessment(specimen: RecordOf<'specimen'>, by: string, at: string): Change {
  const { ratings, purpose, side, stopLine, forceCeiling } = specimen
  const { rockHardness, contrast, soundness, breakage, toExposeCm2 } = ratings
  return record('assessment', {
    ...{ id: `assessed-${specimen.id}`, pieceId: specimen.id, by, at, on: at.slice(0, 10), former: null },
    ...{ why: 'first look', rockHardness, contrast, soundness, breakage, toExposeCm2, purpose, side, stopLine },
    ...{
      exposedCm2: Math.round(toExposeCm2 / 4),
      taxon: '',
      element: specimen.name,
      forceCeiling,
      note: '',
      meant: [],
    },
  })
}

function housing(specimen: RecordOf<'specimen'>, by: string, at: string): Change {
  const aloneKg = specimen.mass.weighedKg ?? specimen.mass.highKg
  const massKg = Math.round(aloneKg * 1.3 + 1)
  return record('housing', {
    ...{ id: `housed-${specimen.id}`, pieceId: specimen.id, by, at, form: 'cradle' },
    ...{ materials: ['plaster', 'polyethylene foam'], liftPoints: 'both ends', side: specimen.side },
    ...{ massKg, isWeighed: false, bearsKg: massKg * 2, shelf: specimen.shelf, note: '' },
  })
}
