// The lifting equation, its tables and what stands around it; the source of each figure stands beside it in the data.
import { describe, expect, test } from 'vitest'
import {
  compositeIndex,
  frequencyMultiplier,
  LIFT_FILTER,
  LIFT_US,
  type Lift,
  liftDuration,
  liftFrequency,
  liftLimit,
  liftRefusals,
  recoveryMinutes,
  teamCapacity,
} from '#lib/limits'
import { checkValue, expectNear, expectWithin } from '../../kit/check-values.ts'

/** A lift at which every multiplier is 1. */
const IDEAL: Lift = { load: 10, h: 25, v: 75, d: 25, angleDeg: 0, perMinute: 0.2, durationH: 1, coupling: 'good' }
const multipliers = (part: Partial<Lift>) => liftLimit({ ...IDEAL, ...part }).multipliers

type Place = { H_in: number; V_in: number; D_in: number; A: number }
type UsLift = { load_lb: number; origin: Place; destination: Place }

const usLift = ({ load_lb }: UsLift, place: Place, perMinute: number) =>
  liftLimit(
    {
      load: load_lb,
      h: place.H_in,
      v: place.V_in,
      d: place.D_in,
      angleDeg: place.A,
      perMinute,
      durationH: 1,
      coupling: 'fair',
    },
    LIFT_US,
  )

describe('lifting equation', () => {
  test('an ideal lift may be the whole load constant, lift-constants', () => {
    const { expected } = checkValue('lifting', 'lift-constants')
    expect(liftLimit(IDEAL).limit).toBeCloseTo(expected.LC_kg ?? 0, 9)
    const us = liftLimit({ ...IDEAL, h: 10, v: 30, d: 10 }, LIFT_US)
    expect(us.limit).toBeCloseTo(expected.LC_lb ?? 0, 9)
    // At the edge of each reach it is still something, beyond it nothing (lift-zero).
    const { H_max_cm = 0, V_max_cm = 0, D_max_cm = 0, A_max_deg = 0, H_min_cm = 0, D_min_cm = 0 } = expected
    for (const edge of [{ h: H_max_cm }, { v: V_max_cm }, { d: D_max_cm }, { angleDeg: A_max_deg }]) {
      expect(liftLimit({ ...IDEAL, ...edge }).limit).toBeGreaterThan(0)
    }
    expect(multipliers({ h: H_min_cm - 10 }).hm).toBe(1)
    expect(multipliers({ d: D_min_cm - 10 }).dm).toBeCloseTo(1, 12)
  })

  test('beyond its reach the limit is 0 and there is no index, lift-zero', () => {
    type Cases = { cases: { H_cm?: number; V_cm?: number; D_cm?: number; A_deg?: number }[] }
    const entry = checkValue<Cases, { RWL_kg: number[] }>('lifting', 'lift-zero')
    const got = entry.inputs.cases.map((one) =>
      liftLimit({
        ...IDEAL,
        h: one.H_cm ?? IDEAL.h,
        v: one.V_cm ?? IDEAL.v,
        d: one.D_cm ?? IDEAL.d,
        angleDeg: one.A_deg ?? IDEAL.angleDeg,
      }),
    )
    expectNear(
      entry,
      got.map(({ limit }) => limit),
      entry.expected.RWL_kg,
    )
    expect(got.map(({ index }) => index)).toEqual([null, null, null, null])
  })

  test('multipliers of Tables 1 to 4, lift-multipliers-metric; where print and formula differ, lift-table-typos', () => {
    type Inputs = { H_cm: number[]; V_cm: number[]; D_cm: number[]; A_deg: number[] }
    const entry = checkValue<Inputs, Record<string, number[]>>('lifting', 'lift-multipliers-metric')
    const { H_cm, V_cm, D_cm, A_deg } = entry.inputs
    const { HM, VM, DM, AM } = entry.expected
    expectNear(
      entry,
      H_cm.map((h) => multipliers({ h }).hm),
      HM,
    )
    expectNear(
      entry,
      V_cm.map((v) => multipliers({ v }).vm),
      VM,
    )
    expectNear(
      entry,
      D_cm.map((d) => multipliers({ d }).dm),
      DM,
    )
    expectNear(
      entry,
      A_deg.map((angleDeg) => multipliers({ angleDeg }).am),
      AM,
    )
    const typos = checkValue<Record<string, never>, { formula: number[] }>('lifting', 'lift-table-typos')
    const us = [22, 23].map((h) => liftLimit({ ...IDEAL, h, v: 30, d: 10 }, LIFT_US).multipliers.hm)
    expectNear(typos, [...us, multipliers({ d: 130 }).dm], typos.expected.formula)
  })

  test('the whole of Table 5, lift-FM, and Table 7, lift-CM', () => {
    for (const [rate = 0, ...cells] of checkValue('lifting', 'lift-FM').rows) {
      const got = [1, 2, 8].flatMap((hours) => [true, false].map((isLow) => frequencyMultiplier(rate, hours, isLow)))
      expect(got, `${rate} lifts a minute`).toEqual(cells)
    }
    expect(frequencyMultiplier(0, 8, true)).toBe(0.85)
    expect(frequencyMultiplier(15.01, 1, false)).toBe(0)
    for (const row of checkValue('lifting', 'lift-CM').rows) {
      const coupling = String(row[0]) as Lift['coupling']
      expect([multipliers({ coupling, v: 74.9 }).cm, multipliers({ coupling, v: 75 }).cm]).toEqual(row.slice(1))
    }
  })

  test('straight lines between the rows of Table 5, lift-fm-interp; work in spells, lift-frequency-adjust', () => {
    const between = checkValue('lifting', 'lift-fm-interp')
    expectNear(between, frequencyMultiplier(2.4, 1, true), between.expected.FM)
    const spells = checkValue('lifting', 'lift-frequency-adjust')
    expectNear(spells, liftFrequency(10, 8), spells.expected.F)
  })

  test('Example 4 (package inspection) in full precision, lift-ex4', () => {
    const entry = checkValue<UsLift>('lifting', 'lift-ex4')
    const { origin, destination } = entry.inputs
    const [from, to] = [usLift(entry.inputs, origin, 3), usLift(entry.inputs, destination, 3)]
    const { RWL_origin_lb_full, RWL_dest_lb_full, LI_origin, LI_dest } = entry.expected
    expectNear(entry, [from.limit, to.limit], [RWL_origin_lb_full, RWL_dest_lb_full])
    expectNear(entry, [from.index, to.index], [LI_origin, LI_dest])
    // The manual multiplies rounded factors: a tenth of a pound away.
    expectWithin(from.limit, entry.expected.RWL_origin_lb_printed, 0.15)
  })

  test('Example 1 (punch press): printed figures come from rounded factors, full precision is lower, lift-ex1', () => {
    type Printed = UsLift & { multipliers_origin: number[]; multipliers_dest: number[] }
    const entry = checkValue<Printed>('lifting', 'lift-ex1')
    const { origin, destination, multipliers_origin, multipliers_dest } = entry.inputs
    const product = (factors: number[]) => factors.reduce((all, factor) => all * factor, 51)
    const { RWL_origin_lb, RWL_dest_lb, LI_origin, LI_dest } = entry.expected
    expectNear(entry, [product(multipliers_origin), product(multipliers_dest)], [RWL_origin_lb, RWL_dest_lb])
    const [from, to] = [usLift(entry.inputs, origin, 0.2), usLift(entry.inputs, destination, 0.2)]
    // HM prints .44 for 10/23: in full precision 51·(10/23)·.8875·.8575·.95 and 51·(10/23)·.7525·.8575, by hand.
    expectWithin([from.limit, to.limit], [16.03, 14.31], 0.006)
    expectWithin([from.index, to.index], [LI_origin, LI_dest], 0.11)
    const own = Object.values(from.multipliers)
    expectWithin(
      [own[0], own[1], own[2], own[3], own[4], own[5]].map((value) => Math.round((value ?? 0) * 100) / 100),
      multipliers_origin,
      0.011,
    )
  })

  test('a lift from the floor is more than recommended, lift-ccohs', () => {
    const entry = checkValue<{ load_kg: number; lifts_per_hour: number }>('lifting', 'lift-ccohs')
    const { load_kg: load, lifts_per_hour } = entry.inputs
    const perMinute = lifts_per_hour / 60
    const found = liftLimit({ load, h: 30, v: 0, d: 115, angleDeg: 0, perMinute, durationH: 1, coupling: 'poor' })
    expectNear(entry, found.limit, entry.expected.RWL_kg_full_formula)
    expect(found.index).toBeGreaterThan(1)
  })

  test('several tasks together, lift-cli', () => {
    type Inputs = { tasks_in_STLI_order: { F: number; FILI: number }[] }
    const entry = checkValue<Inputs>('lifting', 'lift-cli')
    const tasks = entry.inputs.tasks_in_STLI_order.map(({ F, FILI }) => ({ perMinute: F, rareIndex: FILI }))
    expectNear(entry, compositeIndex(tasks, 1, true), entry.expected.CLI)
    expect(compositeIndex(tasks.toReversed(), 1, true)).toBe(compositeIndex(tasks, 1, true))
    expect(compositeIndex([...tasks, { perMinute: 9, rareIndex: 0.1 }], 1, true)).toBeNull()
  })

  test('is refused for each manner it was not made for, and for all of them at once (manual p. 6)', () => {
    const manners = { hands: 1, seated: true, kneeling: true, unstable: true, restricted: true, persons: 2 } as const
    const codes = ['one-hand', 'seated', 'kneeling', 'unstable', 'restricted', 'team']
    expect(Object.entries(manners).map(([key, value]) => liftRefusals({ [key]: value }, 1))).toEqual(
      codes.map((code) => [code]),
    )
    expect(liftRefusals(manners, 8.01)).toHaveLength(7)
    expect(liftRefusals({ hands: 2, persons: 1, seated: false }, 8)).toEqual([])
  })
})

describe('around lifting', () => {
  test('duration classes, lift-duration', () => {
    expect(checkValue<never, { answers: string[] }>('lifting', 'lift-duration').expected.answers).toEqual([
      'moderate (75 min)',
      'short',
      '36 min',
    ])
    const day = (lightMinutes: number) =>
      liftDuration([
        { liftMinutes: 30, lightMinutes },
        { liftMinutes: 45, lightMinutes: 0 },
      ])
    expect(day(10)).toEqual({ kind: 'moderate', minutes: 75 })
    expect(day(30)).toEqual({ kind: 'short', minutes: 45 })
    expect(recoveryMinutes('moderate', 120)).toBe(36)
    const hours = (count: number) => Array.from({ length: count }, () => ({ liftMinutes: 60, lightMinutes: 0 }))
    expect([liftDuration(hours(8)).kind, liftDuration(hours(9)).kind]).toEqual(['long', null])
  })

  test('teams, lift-team; more than three have no published share', () => {
    const entry = checkValue<{ cases: number[][] }, { capacity_kg: number[] }>('lifting', 'lift-team')
    expectNear(entry, entry.inputs.cases.map(teamCapacity), entry.expected.capacity_kg)
    expect(teamCapacity([20, 20, 20, 20])).toBeNull()
    expect(teamCapacity([])).toBeNull()
  })

  test('the guideline filter, lift-hse-guideline', () => {
    const zones = Object.values(LIFT_FILTER)
    const rows = zones.map(({ men, women }) => [men.closeKg, men.farKg, women.closeKg, women.farKg])
    expect(rows).toEqual(checkValue('lifting', 'lift-hse-guideline').rows.map((row) => row.slice(1)))
    const names = Object.keys(LIFT_FILTER).map((zone) => zone.replaceAll('-', ' '))
    expect(names).toEqual(checkValue('lifting', 'lift-hse-guideline').rows.map((row) => String(row[0])))
  })
})
