// Lifting as it is read: the manual's example with its numbers, each refusal, who bears what, and the hoists.
import { describe, expect, it } from 'vitest'
import { liftingGear, liftNeed, liftSaid, liftsOf } from '#lib/views'
import { kinds, put } from '#lib/words'
import { sayGear, sayLift, sayLiftFormula, sayNeed } from '../../../app/sheet/say-lift.ts'
import { aSmallLab } from '../../kit/makers.ts'
import { aLift } from '../../kit/makers-custody.ts'

describe('a measured lift', () => {
  it('opens to the formula with its numbers: example 4 of NIOSH 94-110, at its origin', () => {
    // Printed in inches and pounds: RWL 34.9 lb with multipliers 1.0, .94, .87, 1.0, .88, .95; in metric 23 · … = 15.7 kg.
    const lift = aLift()
    const said = liftSaid(lift)
    expect(said).toMatchObject({ isRefused: false })
    expect(sayLiftFormula(lift, said)).toMatch(
      /23 · 0\.98 · 0\.94 · 0\.87 · 1\.00 · 0\.88 · 0\.95 = 15\.\d kg\. LI = 11\.8 \/ 15\.\d = 0\.7\d\. NIOSH 94-110/,
    )
    expect(sayLift(said)).toMatch(/^Lifting index 0\.8\. Recommended weight limit 15\.\d kg\.$/)
  })

  it('is refused plainly wherever the equation does not speak of it', () => {
    const refused = (over: object) => sayLift(liftSaid(aLift(over)))
    expect(refused({ persons: 2 })).toBe(
      'The lifting equation does not apply: more than one person lifts. Use mechanical aid, or have it assessed.',
    )
    for (const manner of ['one hand', 'seated', 'kneeling', 'unstable', 'restricted'])
      expect(refused({ manner: [manner] })).toMatch(/^The lifting equation does not apply: .*mechanical aid/)
    expect(refused({ durationH: 8.1 })).toMatch(/over 8 hours/)
    expect(refused({ hCm: 64 })).toMatch(/limit is 0: nobody should lift this by hand/)
    expect(refused({ loadKg: 60 })).toMatch(/far above 1/)
  })

  it('stands before those measured earlier', () => {
    const records = aSmallLab(
      put('lift', aLift()),
      put('lift', aLift({ id: 'lift2', at: '2027-01-01T00:00:00.000Z' })),
      put('lift', aLift({ id: 'lift3', pieceId: 'jacket1' })),
    )
    expect(liftsOf(records, 'skull').map(({ id }) => id)).toEqual(['lift2', 'lift1'])
  })
})

describe('who is needed', () => {
  const mass = (lowKg: number, highKg: number, weighedKg: number | null = null) => ({ lowKg, highKg, weighedKg })

  it('goes by the heavier end of the range, or by what was weighed', () => {
    expect([mass(5, 24), mass(5, 25), mass(5, 33), mass(5, 34)].map((one) => liftNeed(one).need)).toEqual([
      ...['one', 'two', 'two', 'aid'],
    ])
    expect(liftNeed(mass(5, 90, 20)).need).toBe('one')
    expect(sayNeed(mass(12, 40))).toMatch(/^12 kg to 40 kg\. Not by hand: hoist, trolley or crane/)
  })

  it('names hoists and slings with rating, inspection and the next one', () => {
    const check = (over: object) =>
      put(
        'check',
        kinds.check.parse({
          ...{ id: 'h', name: 'Gantry', what: 'hoist', placeId: null, every: { unit: 'days', count: 365 } },
          ...{ ratedKg: 250, since: '2026-01-05', isActive: true, last: null, ...over },
        }),
      )
    const last = {
      date: '2026-02-02',
      shiftId: null,
      by: 'pia',
      at: '2026-02-02T09:00:00.000Z',
      result: 'good',
      note: '',
    }
    const said = (over: object, kg: number) => liftingGear(aSmallLab(check(over)), kg).map(sayGear)
    expect(said({ last }, 300)).toEqual([
      'Gantry, rated 250 kg, too little for this; inspected 2 February 2026, good, next by 2 February 2027.',
    ])
    expect(said({ what: 'sling', ratedKg: null }, 10)[0]).toMatch(/^Gantry, no rated load entered; not inspected yet/)
    expect(said({ what: 'extraction' }, 10)).toEqual([])
    expect(said({ isActive: false }, 10)).toEqual([])
  })
})
