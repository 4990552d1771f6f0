// Vapours and silica of a day, and the limits they are held against; the source of each stands beside it in the data.
import { describe, expect, test } from 'vitest'
import { airMixture, airSilica, airTwa, EDITIONS, mgM3OfPpm, PUBLISHED_LIMITS } from '#lib/limits'
import { checkValue, expectNear, expectWithin } from '../../kit/check-values.ts'

type Substances = { substances: { ppm: number; PEL: number }[] }
type Dusts = { periods: { ug_m3: number; hours: number }[] }

const OSHA = { limitUgM3: 50, actionUgM3: 25 }
const bandOf = ({ atOrAboveAction, aboveLimit }: ReturnType<typeof airSilica>): string =>
  aboveLimit ? 'over PEL' : atOrAboveAction ? 'at or above action level' : 'below action level'

describe('air', () => {
  test('a vapour over a day, sil-1910.1000-d1', () => {
    type Inputs = { periods: { ppm: number; hours: number }[]; PEL_ppm: number }
    const entry = checkValue<Inputs, { E_ppm: number; acceptable: boolean }>('silica-solvent', 'sil-1910.1000-d1')
    const periods = entry.inputs.periods.map(({ ppm, hours }) => ({ ppm, minutes: hours * 60 }))
    const day = airTwa(periods, entry.inputs.PEL_ppm)
    expectNear(entry, day.twaPpm, entry.expected.E_ppm)
    expect(day.within).toBe(entry.expected.acceptable)
  })

  test.each(['sil-1910.1000-d2', 'sil-mix-lab'])('vapours together, %s', (id) => {
    const entry = checkValue<Substances>('silica-solvent', id)
    const got = airMixture(entry.inputs.substances.map(({ ppm, PEL }) => ({ ppm, limitPpm: PEL })))
    expectNear(entry, got.ratio, entry.expected.Em)
    expect(got.within).toBe(true)
  })

  test('a mixture exactly at its limit is within, also when the sum of its shares rounds up', () => {
    expect(airMixture([1, 2, 3, 4].map((tenths) => ({ ppm: tenths, limitPpm: 10 }))).within).toBe(true)
    expect(airMixture([{ ppm: 10.0001, limitPpm: 10 }]).within).toBe(false)
  })

  test.each(['sil-twa-short', 'sil-twa-band'])('silica over a day and its band, %s', (id) => {
    const entry = checkValue<Dusts, { TWA_ug_m3: number; band: string }>('silica-solvent', id)
    const samples = entry.inputs.periods.map((one) => ({ ugM3: one.ug_m3, minutes: one.hours * 60 }))
    const day = airSilica(samples, OSHA)
    expectNear(entry, day.twaUgM3, entry.expected.TWA_ug_m3)
    expect(bandOf(day)).toBe(entry.expected.band)
  })

  test('exactly at the action level counts, exactly at the limit is not over it, sil-edge', () => {
    type Inputs = { TWA_ug_m3: number[] }
    const entry = checkValue<Inputs, { band: string[] }>('silica-solvent', 'sil-edge')
    const got = entry.inputs.TWA_ug_m3.map((ugM3) => bandOf(airSilica([{ ugM3, minutes: 480 }], OSHA)))
    expect(got).toEqual(entry.expected.band)
    // The same 25 µg/m³ in three unequal parts of the day, whose sum of doubles need not be 25.
    const parts = [97, 131, 252].map((minutes) => ({ ugM3: 25, minutes }))
    expect(bandOf(airSilica(parts, OSHA))).toBe('at or above action level')
    const edge = parts.map(({ minutes }) => ({ ugM3: 50, minutes }))
    expect(bandOf(airSilica(edge, OSHA))).toBe('at or above action level')
    expect(airSilica(edge, { limitUgM3: 50, actionUgM3: null }).atOrAboveAction).toBeNull()
  })

  test('vapour by weight, sil-ppm-mg and the mg/m³ column of sil-osha-Z1', () => {
    const entry = checkValue('silica-solvent', 'sil-ppm-mg')
    expectNear(entry, mgM3OfPpm(1000, 58.08), entry.expected.mg_m3)
    const table = checkValue('silica-solvent', 'sil-osha-Z1')
    for (const [, , molarMass = 0, ppm = 0, mgM3] of table.rows) {
      if (mgM3 !== null) expectNear(table, mgM3OfPpm(ppm, molarMass), mgM3)
    }
  })
})

describe('published limits', () => {
  const valueIn = (agent: string, kind: string, edition: string, unit: string) =>
    PUBLISHED_LIMITS.find(
      (one) => one.agent === agent && one.kind === kind && one.edition === edition && one.unit === unit,
    )?.value

  test('vibration and noise, vib-limits, noise-limits-osha, noise-limits-niosh, noise-limits-eu-uk', () => {
    const shaking = checkValue('vibration', 'vib-limits').expected
    for (const edition of ['eu-vibration', 'uk-vibration']) {
      expect(valueIn('hand-arm vibration', 'action', edition, 'm/s² A(8)')).toBe(shaking.EAV_m_s2_A8)
      expect(valueIn('hand-arm vibration', 'limit', edition, 'm/s² A(8)')).toBe(shaking.ELV_m_s2_A8)
    }
    expect(valueIn('hand-arm vibration', 'action', 'uk-vibration', 'points')).toBe(shaking.EAV_points)
    expect(valueIn('hand-arm vibration', 'limit', 'uk-vibration', 'points')).toBe(shaking.ELV_points)

    const osha = checkValue('noise', 'noise-limits-osha').expected
    expect(valueIn('noise', 'limit', 'osha-noise', 'dB(A)')).toBe(osha.PEL_dBA_8h)
    expect(valueIn('noise', 'action', 'osha-noise', 'dB(A)')).toBe(osha.action_level_dBA_8h)
    expect(valueIn('noise', 'action', 'osha-noise', '% dose')).toBe(osha.action_dose_percent)
    const niosh = checkValue('noise', 'noise-limits-niosh').expected
    expect(valueIn('noise', 'limit', 'niosh-noise', 'dB(A)')).toBe(niosh.REL_dBA_8h)
    const europe = checkValue('noise', 'noise-limits-eu-uk').expected
    for (const edition of ['eu-noise', 'uk-noise']) {
      const kinds = ['lower-action', 'action', 'limit'] as const
      expect(kinds.map((kind) => valueIn('noise', kind, edition, 'dB(A)'))).toEqual([
        europe.lower_EAV_dBA,
        europe.upper_EAV_dBA,
        europe.ELV_dBA,
      ])
      expect(kinds.map((kind) => valueIn('noise', kind, edition, 'dB(C) peak'))).toEqual([
        europe.lower_peak_dBC,
        europe.upper_peak_dBC,
        europe.ELV_peak_dBC,
      ])
    }
  })

  test('silica, sil-limits, and dusts, sil-dust-pels', () => {
    const limits = checkValue('silica-solvent', 'sil-limits').expected
    const silica = (kind: string, edition: string) =>
      valueIn('respirable crystalline silica', kind, edition, 'µg/m³') ?? Number.NaN
    expect(silica('limit', 'osha-silica')).toBe(limits.OSHA_PEL_ug_m3_8h)
    expect(silica('action', 'osha-silica')).toBe(limits.OSHA_action_level_ug_m3_8h)
    expect(silica('limit', 'niosh-silica')).toBe(limits.NIOSH_REL_ug_m3_10h)
    expectWithin(
      [silica('limit', 'uk-eh40'), silica('limit', 'eu-silica'), silica('limit', 'acgih')].map((ug) => ug / 1000),
      [limits.UK_WEL_mg_m3_8h, limits.EU_BOELV_mg_m3_8h, limits.ACGIH_TLV_mg_m3_8h],
      1e-12,
    )
    const names = ['particulates not otherwise regulated', 'plaster of Paris, gypsum, limestone']
    checkValue('silica-solvent', 'sil-dust-pels').rows.forEach(([, total, respirable], i) => {
      expect(valueIn(`${names[i]}, total`, 'limit', 'osha-z', 'mg/m³')).toBe(total)
      expect(valueIn(`${names[i]}, respirable`, 'limit', 'osha-z', 'mg/m³')).toBe(respirable)
    })
  })

  test('solvents of sil-osha-Z1 and sil-uk-wel', () => {
    // The tables' longer names, as the data has them.
    const nameOf = (name: string) =>
      name.replace(/ \(Table.*/, '').replace(/^(ethyl|isopropyl|methyl) alcohol$/, (_, stem) => {
        return { ethyl: 'ethanol', isopropyl: 'isopropanol', methyl: 'methanol' }[stem as 'ethyl']
      })
    for (const row of checkValue('silica-solvent', 'sil-osha-Z1').rows) {
      expect(valueIn(nameOf(String(row[0])), 'limit', 'osha-z', 'ppm'), String(row[0])).toBe(row[3])
    }
    for (const row of checkValue('silica-solvent', 'sil-uk-wel').rows) {
      expect(valueIn(String(row[0]), 'limit', 'uk-eh40', 'ppm') ?? null).toBe(row[1])
      expect(valueIn(String(row[0]), 'short-term', 'uk-eh40', 'ppm') ?? null).toBe(row[2])
    }
  })

  test('each row stands in an edition with jurisdiction and date, and none twice', () => {
    const keys = PUBLISHED_LIMITS.map((one) => [one.agent, one.kind, one.unit, one.edition].join('|'))
    expect(new Set(keys).size).toBe(keys.length)
    for (const { edition } of PUBLISHED_LIMITS) expect(EDITIONS[edition].date).toMatch(/^\d{4}(-\d\d-\d\d)?$/)
  })
})
