// Jackets of the demo lab: sealed, of this season or at rest, and opened ones with their loose rock.
import { type Find, sites } from './catalogue.ts'
import { type Dice, type Draft, round2 } from './dice.ts'
import { massOf, minutesOf, type PlannedStep, type Project, shelfFor, stepOf, waiting } from './plan.ts'

/** A sealed jacket round a find of that size. */
export function jacketOf(
  fieldNumber: string,
  find: Pick<Find, 'site' | 'name' | 'age'>,
  inside: readonly [number, number, number],
  today: string,
  chance: Dice,
): Draft<'jacket'> {
  const site = sites[find.site]
  const [lengthM, widthM, heightM] = inside.map((side) => round2(Math.min(2.6, side * 1.25 + 0.08))) as [
    number,
    number,
    number,
  ]
  const year = 2000 + Number(fieldNumber.slice(2, 4))
  const mass = massOf(lengthM, widthM, heightM, site.densityKgM3)
  const isOld = Number(today.slice(0, 4)) - year > 6
  return {
    id: fieldNumber.toLowerCase(),
    fieldNumber,
    contents: chance.happens(70) ? find.name : 'not known before opening',
    container: mass.highKg < 6 ? 'bag' : find.site === 'NR' ? 'block' : 'jacket',
    state: 'sealed',
    partOf: chance.happens(10) ? { n: chance.between(1, 2), total: 2 } : null,
    locality: site.locality,
    horizon: site.horizon,
    collector: chance.pick(['Tamsin', 'Ulrich', 'Zosia', 'Emeka', 'a field party of six']),
    collectedOn: `${year}-0${chance.between(6, 9)}-${String(chance.between(1, 28)).padStart(2, '0')}`,
    rockHardness: site.hardness,
    hazards: [
      ...(isOld ? ['old plaster' as const] : []),
      ...(find.site === 'WK' && chance.happens(25) ? ['pyrite' as const] : []),
      ...(chance.happens(6) ? [chance.pick(['wet', 'mould'] as const)] : []),
    ],
    isInSeason: false,
    shelf: shelfFor(mass.highKg, chance),
    placeId: null,
    isTied: false,
    lengthM,
    widthM,
    heightM,
    mass: {
      ...mass,
      weighedKg: chance.happens(40) ? round2(chance.around((mass.lowKg + mass.highKg) / 2, 1.15)) : null,
    },
    note: '',
  }
}

const openingHours = (jacket: Draft<'jacket'>): number => 1.5 + Math.sqrt(jacket.mass.highKg) / 4

/** A jacket that nobody has opened; one of this season has its steps. */
export function sealedJacket(jacket: Draft<'jacket'>, isInSeason: boolean, today: string, chance: Dice): Project {
  const steps: PlannedStep[] = []
  if (isInSeason) {
    const isHeavy = jacket.mass.highKg > 250
    // Above what two people lift, a jacket is turned under the hoist, by three.
    if (isHeavy)
      steps.push(waiting({ ...stepOf(jacket.id, 0, 'turning', 'Turn under the hoist', 2), peopleMin: 2, peopleMax: 3 }))
    const opening = stepOf(jacket.id, steps.length, 'opening', 'Jacket opening', openingHours(jacket))
    opening.after = steps.map(({ step }) => step.id)
    opening.peopleMax = isHeavy ? 3 : 1
    steps.push(waiting(opening))
    const brush = stepOf(jacket.id, steps.length, 'stiff-brush', 'Loose rock off', chance.around(6, 1.6))
    brush.after = [opening.id]
    steps.push(waiting(brush))
  }
  return {
    id: jacket.id,
    number: jacket.fieldNumber,
    jacket: { ...jacket, isInSeason },
    specimen: null,
    steps,
    from: today,
    to: today,
    isTied: false,
    waitsForId: null,
  }
}

/** A jacket opened between two days, emptied or with loose rock left in it. */
export function openedJacket(
  jacket: Draft<'jacket'>,
  isEmpty: boolean,
  from: string,
  to: string,
  chance: Dice,
): Project {
  const hours = openingHours(jacket)
  const opening = stepOf(jacket.id, 0, 'opening', 'Jacket opening', hours)
  const steps = [
    { step: opening, wantMinutes: minutesOf(hours * chance.around(1, 1.4)), isFinal: true, mayBegin: false },
  ]
  if (!isEmpty) {
    const soft = chance.pick([
      ['stiff-brush', 'Loose rock off'],
      ['brush', 'Sift and brush the crumbs'],
      ['quill', 'Small bones along the edge'],
    ] as const)
    const rest = stepOf(jacket.id, 1, soft[0], soft[1], chance.around(14, 1.5))
    rest.after = [opening.id]
    rest.peopleMax = jacket.lengthM > 0.6 ? 2 : 1
    steps.push({
      step: rest,
      wantMinutes: chance.happens(50) ? minutesOf(rest.hours.likelyH * 0.3) : 0,
      isFinal: false,
      mayBegin: true,
    })
  }
  return {
    id: jacket.id,
    number: jacket.fieldNumber,
    jacket: { ...jacket, state: isEmpty ? 'empty' : 'opened', isInSeason: true },
    specimen: null,
    steps,
    from,
    to,
    isTied: false,
    waitsForId: null,
  }
}
