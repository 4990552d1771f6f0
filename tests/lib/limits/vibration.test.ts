// Daily vibration against printed figures of the standard and of the regulator's ready-reckoner; the source of each
// stands beside it in the data file.
import { describe, expect, test } from 'vitest'
import {
  minutesTo,
  VIBRATION_ACTION_MS2,
  VIBRATION_LIMIT_MS2,
  vibrationA8,
  vibrationDaily,
  vibrationPoints,
  vibrationTotal,
  yearsToBlanching,
} from '#lib/limits'
import { checkValue, expectNear, expectWithin } from '../../kit/check-values.ts'

type Tools = { tools: { a_hv_m_s2: number; hours?: number; minutes?: number }[] }
type Axes = { axes_m_s2: [number, number, number] }

const usesOf = ({ tools }: Tools) =>
  tools.map((tool) => ({ vibrationMs2: tool.a_hv_m_s2, minutes: tool.minutes ?? (tool.hours ?? 0) * 60 }))

describe('vibration', () => {
  test('A(8) of one tool, vib-iso5349-2-E.2.1', () => {
    const entry = checkValue('vibration', 'vib-iso5349-2-E.2.1')
    const { a_hv_m_s2: vibrationMs2 = 0, hours = 0 } = entry.inputs
    expectNear(entry, vibrationA8([{ vibrationMs2, minutes: hours * 60 }]).a8Ms2, entry.expected.A8)
  })

  test('A(8) of three tools adds their parts in quadrature, vib-iso5349-2-E.3', () => {
    const entry = checkValue<Tools, { partial_A8: number[]; A8: number }>('vibration', 'vib-iso5349-2-E.3')
    const { a8Ms2, partialMs2 } = vibrationA8(usesOf(entry.inputs))
    expectNear(entry, partialMs2, entry.expected.partial_A8)
    expectNear(entry, a8Ms2, entry.expected.A8)
    expect(a8Ms2 > VIBRATION_ACTION_MS2 && a8Ms2 < VIBRATION_LIMIT_MS2).toBe(true)
  })

  test('points of one tool, vib-hse-rr-example; and of three, which add, vib-hse-three-tools', () => {
    const one = checkValue('vibration', 'vib-hse-rr-example')
    expectNear(one, vibrationPoints([{ vibrationMs2: 5, minutes: 180 }]), one.expected.points)
    const three = checkValue<Tools>('vibration', 'vib-hse-three-tools')
    const day = vibrationDaily(usesOf(three.inputs))
    expectNear(three, day.points, three.expected.points, 'points')
    expectNear(three, day.a8Ms2, three.expected.A8, 'A8')
    expect(day.a8Ms2).toBeLessThan(VIBRATION_ACTION_MS2)
  })

  test('points an hour are 2·a², vib-points-per-hour', () => {
    type Inputs = { a_hv_m_s2: number[] }
    const entry = checkValue<Inputs, { points_per_hour: number[] }>('vibration', 'vib-points-per-hour')
    const got = entry.inputs.a_hv_m_s2.map((vibrationMs2) => vibrationPoints([{ vibrationMs2, minutes: 60 }]))
    expectNear(entry, got, entry.expected.points_per_hour)
  })

  test('the whole ready-reckoner grid and its printed cells, vib-ready-reckoner-grid, vib-ready-reckoner-printed-cells', () => {
    const hours = [0.25, 0.5, 1, 2, 3, 4, 5, 6, 8, 10]
    const points = (vibrationMs2: number, h: number) => vibrationPoints([{ vibrationMs2, minutes: h * 60 }])
    for (const [a = 0, ...cells] of checkValue('vibration', 'vib-ready-reckoner-grid').rows) {
      // The grid is the formula's own value, so it is met to the last digits and not just within the printed rounding.
      expectWithin(
        hours.map((h) => points(a, h)),
        cells,
        1e-9,
      )
    }
    const printed = checkValue('vibration', 'vib-ready-reckoner-printed-cells')
    for (const [a = 0, h = 0, cell] of printed.rows) expectNear(printed, points(a, h), cell)
  })

  test('times to action and limit value, vib-time-to-limits; the values themselves, vib-limits', () => {
    type Expected = { T_EAV_h: number[]; T_ELV_h: number[] }
    const entry = checkValue<{ a_hv_m_s2: number[] }, Expected>('vibration', 'vib-time-to-limits')
    const limits = checkValue('vibration', 'vib-limits').expected
    expect([VIBRATION_ACTION_MS2, VIBRATION_LIMIT_MS2]).toEqual([limits.EAV_m_s2_A8, limits.ELV_m_s2_A8])
    const hoursTo = (value: number) => entry.inputs.a_hv_m_s2.map((a) => (minutesTo(value, a) ?? 0) / 60)
    expectNear(entry, hoursTo(VIBRATION_ACTION_MS2), entry.expected.T_EAV_h)
    expectNear(entry, hoursTo(VIBRATION_LIMIT_MS2), entry.expected.T_ELV_h)
    const atAction = [{ vibrationMs2: VIBRATION_ACTION_MS2, minutes: 480 }]
    const atLimit = [{ vibrationMs2: VIBRATION_LIMIT_MS2, minutes: 480 }]
    expect([vibrationPoints(atAction), vibrationPoints(atLimit)]).toEqual([limits.EAV_points, limits.ELV_points])
  })

  test('the total of three axes, vib-axes, and years to blanching, vib-vwf-Dy', () => {
    const axes = checkValue<Axes>('vibration', 'vib-axes')
    expectNear(axes, vibrationTotal(axes.inputs.axes_m_s2), axes.expected.a_hv_m_s2)
    const years = checkValue('vibration', 'vib-vwf-Dy')
    expectNear(years, yearsToBlanching(7), years.expected.Dy_years)
  })

  test('a tool that does not shake never reaches a value', () => {
    expect(vibrationDaily([{ vibrationMs2: 0, minutes: 60 }])).toMatchObject({
      minutesToAction: [null],
      minutesToLimit: [null],
      points: 0,
    })
  })
})
