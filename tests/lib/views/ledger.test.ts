// The ledger of a day: figures as published, whatever the order of tools, never less for more work.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { exposureCorrected, exposureWith, toolMinutes } from '#lib/rules'
import { airDays, ledgerOf, ledgerOn, SILICA, silicaDays } from '#lib/views'
import { kinds, PersonId, PlaceId, put, withChanges } from '#lib/words'
import { sayAirDay } from '../../../app/safety/say-air.ts'
import { aLab, anAirTool, aPlace, aSmallLab, aTurn, aWork, TODAY } from '../../kit/makers.ts'

const lab = aLab()
const tool = (vibrationMs2: number | null, minutes: number, noiseDba: number | null = null) => ({
  ...{ techniqueId: 'scribe' as never, name: 'Scribe', minutes, isDone: true },
  ...{ vibrationMs2, vibrationSource: '', noiseDba, noiseSource: '' },
})

describe('the ledger', () => {
  test('R5 gives A(8) and points of the HSE calculator page: 2, 6 and 3.5 m/s² for 15, 30 and 90 min are 2.2 and 75', () => {
    const ledger = ledgerOf(lab, [tool(2, 15), tool(6, 30), tool(3.5, 90)])
    expect(ledger.a8Ms2).toBeCloseTo(2.2, 1)
    expect(Math.round(ledger.points)).toBe(75)
  })

  test('R5 tells the minutes left to the action and limit value after all tools of the day', () => {
    // 5 m/s²: 100 points are 2 h, 400 are 8 h (HSE ready-reckoner); 1 h is gone.
    const [part] = ledgerOf(lab, [tool(5, 60)]).tools
    expect(part).toMatchObject({ points: 50, leftToActionMinutes: 60, leftToLimitMinutes: 420 })
  })

  test('R5 an unknown figure stays unknown and is named', () => {
    const ledger = ledgerOf(lab, [tool(null, 60)])
    expect(ledger.tools[0]).toMatchObject({ points: null, partialMs2: null, leftToActionMinutes: null })
    expect(ledger).toMatchObject({ points: 0, unknownVibration: ['Scribe'], unknownNoise: ['Scribe'] })
  })

  test('R5 the room’s own level is added by energy, and fills the time without a tool', () => {
    const room = aLab({ limits: { ...lab.limits, backgroundDba: 80 } })
    const quiet = ledgerOf(room, [tool(null, 240, 80)], 480)
    // 80 with 80 dB are 83 dB for 4 h, 80 dB for the other 4 h: 10·lg((2 + 1) / 2) above 80.
    expect(quiet.noise.levelDba).toBeCloseTo(80 + 10 * Math.log10(1.5), 6)
  })

  test('R5 each station has the level around it: the place’s own where it was measured, else the room’s', () => {
    const records = (patch: object) =>
      aSmallLab(
        put('lab', aLab({ limits: { ...lab.limits, backgroundDba: 80 }, techniques: [anAirTool({ noiseDba: 80 })] })),
        put('place', aPlace({ id: 'b1', ...patch })),
        put('place', aPlace({ id: 'b2' })),
      )
    const level = (patch: object, placeId: string) => {
      const board = records(patch)
      const scribe = board.lab.get('lab')?.techniques[0]
      if (!scribe) throw new Error('the lab has a scribe')
      const use = { ...toolMinutes(board, scribe, placeId, 480), isDone: true }
      return ledgerOf(board.lab.get('lab') ?? lab, [use]).noise.levelDba
    }
    // 80 with 80 are 83.01; 80 with a neighbour's 90 are 90.41 (energy sum).
    expect(level({}, 'b1')).toBeCloseTo(83.01, 2)
    expect(level({ backgroundDba: 90 }, 'b1')).toBeCloseTo(90.41, 2)
    expect(level({ backgroundDba: 90 }, 'b2')).toBeCloseTo(83.01, 2)
    expect(level({ backgroundDba: null }, 'b1')).toBeCloseTo(83.01, 2)
  })

  test('R5 kept minutes stand by station, and a correction finds them although the place was measured since', () => {
    const board = (backgroundDba: number | null) =>
      aSmallLab(
        put('lab', aLab({ techniques: [anAirTool()] })),
        put('place', aPlace({ id: 'b1', backgroundDba: 70 })),
        put('place', aPlace({ id: 'b2', backgroundDba })),
      )
    const ran = (id: string, placeId: string, runningMinutes: number) =>
      aWork({ id, placeId, personId: 'ben', techniqueId: 'scribe', state: 'finished', runningMinutes })
    const works = [ran('w1', 'b1', 20), ran('w2', 'b2', 30), ran('w3', 'b1', 5)]
    const [month] = exposureWith(board(75), PersonId.parse('ben'), works)
    const tools = month?.days[0]?.tools.map(({ minutes, backgroundDba }) => [minutes, backgroundDba])
    expect(tools).toEqual([
      [25, 70],
      [30, 75],
    ])
    const later = withChanges(board(78), month ? [put('exposureMonth', month)] : [])
    const log = { ...ran('w2', 'b2', 30), placeId: PlaceId.parse('b2') }
    const corrected = exposureCorrected(later, log, 10)?.days[0]?.tools.reduce((sum, { minutes }) => sum + minutes, 0)
    expect(corrected).toBe(35)
  })

  test('R5 the jurisdiction says how noise adds: 95 dB for 4 h are 100 % of OSHA’s dose, and by 3 dB far more', () => {
    const rule = (noiseRule: 'osha' | 'niosh') =>
      ledgerOf(aLab({ limits: { ...lab.limits, noiseRule } }), [tool(null, 240, 95)]).noise.dosePercent
    expect(rule('osha')).toBeCloseTo(100, 9)
    expect(rule('niosh')).toBeCloseTo((100 * 240) / (480 / 2 ** (10 / 3)), 9)
  })

  test('R5 uncertainty by ISO 9612 only where every loud tool was sampled', () => {
    const sampled = (noiseSamplesDba?: number[]) =>
      aLab({ techniques: [anAirTool(noiseSamplesDba ? { noiseSamplesDba } : {})] })
    expect(ledgerOf(sampled(), [tool(4, 90, 84)]).noiseUncertaintyDb).toBeNull()
    expect(ledgerOf(sampled([83, 84, 85]), [tool(4, 90, 84)]).noiseUncertaintyDb).toBeGreaterThan(2.9)
  })

  const tools = fc.array(
    fc.record({
      a: fc.double({ min: 0, max: 30, noNaN: true }),
      t: fc.integer({ min: 0, max: 480 }),
      l: fc.integer({ min: 40, max: 120 }),
    }),
    { maxLength: 8 },
  )
  test('R5 exposure never falls when work is added, and the order of tools does not matter', () => {
    fc.assert(
      fc.property(
        tools,
        fc.double({ min: 0, max: 30, noNaN: true }),
        fc.integer({ min: 0, max: 480 }),
        (list, a, t) => {
          const day = list.map((one) => tool(one.a, one.t, one.l))
          const now = ledgerOf(lab, day)
          const more = ledgerOf(lab, [...day, tool(a, t, 70)])
          expect(more.points).toBeGreaterThanOrEqual(now.points)
          expect(more.a8Ms2).toBeGreaterThanOrEqual(now.a8Ms2 - 1e-12)
          expect(more.noise.dosePercent).toBeGreaterThanOrEqual(now.noise.dosePercent)
          const turned = ledgerOf(lab, day.toReversed())
          expect(turned.points).toBeCloseTo(now.points, 6)
          expect(turned.noise.dosePercent).toBeCloseTo(now.noise.dosePercent, 6)
          for (const [i, part] of now.tools.entries())
            expect(more.tools[i]?.leftToActionMinutes ?? 0).toBeLessThanOrEqual((part.leftToActionMinutes ?? 0) + 1e-9)
        },
      ),
      { numRuns: 300 },
    )
  })

  test('R5 today comes from the board: 3 h × 50 % at 4 m/s² planned are 48 points', () => {
    const records = aSmallLab(put('assignment', aTurn({ personId: 'ben', pieceId: 'rib' })))
    expect(ledgerOn(records, 'ben', TODAY)).toMatchObject({ points: 48, tools: [{ isDone: false, minutes: 90 }] })
  })
})

describe('air', () => {
  const sample = (over: object) =>
    kinds.airSample.parse({
      ...{ id: 's1', personId: 'ana', date: TODAY, agent: 'respirable crystalline silica', amount: 50, unit: 'µg/m³' },
      ...{ minutes: 240, method: '', by: 'mira', at: `${TODAY}T10:00:00Z`, corrects: null },
      ...over,
    })

  test('R5 silica is averaged over 8 h: 50 µg/m³ for 4 h are 25, at OSHA’s action level and not above its limit', () => {
    const [day] = airDays([sample({})], { jurisdiction: 'us' })
    expect(day?.silica).toMatchObject({
      twaUgM3: 25,
      atOrAboveAction: true,
      aboveLimit: false,
      limit: { amount: 50, isOwn: false },
    })
    expect(
      silicaDays(airDays([sample({}), sample({ id: 's2', date: '2026-03-09' })], { jurisdiction: 'us' }), '2026'),
    ).toBe(2)
    expect(silicaDays(airDays([sample({ minutes: 239 })], { jurisdiction: 'us' }), '2026')).toBe(0)
    // The EU's text has no action level.
    expect(airDays([sample({})], { jurisdiction: 'eu' })[0]?.silica).toMatchObject({
      atOrAboveAction: null,
      limit: { amount: 100, isRead: false },
    })
  })

  test('R5 solvents of a day add by the mixture rule, and one without a limit is named', () => {
    const vapour = (id: string, agent: string, amount: number) =>
      sample({ id, agent, amount, unit: 'ppm', minutes: 480 })
    const [day] = airDays([vapour('a', 'acetone', 500), vapour('b', 'ethanol', 500), vapour('c', 'ether', 1)], {
      jurisdiction: 'us',
    })
    expect(day?.mixture).toEqual({ ratio: 1, within: true })
    expect(day?.withoutLimit).toEqual(['ether'])
  })

  test('R5 a limit of the lab’s own comes before the published one, and gives one to what had none', () => {
    const limit = (agent: string, kind: 'limit' | 'action', amount: number, unit: 'ppm' | 'µg/m³') => ({
      ...{ id: `${kind}-${amount}`, agent, kind, amount, unit, title: 'A newer text' },
      ...{ setBy: PersonId.parse('mira'), setOn: TODAY },
    })
    const rules = {
      jurisdiction: 'other' as const,
      airLimits: [
        limit(SILICA, 'limit', 20, 'µg/m³'),
        limit(SILICA, 'action', 10, 'µg/m³'),
        limit('ether', 'limit', 4, 'ppm'),
      ],
    }
    const ether = sample({ id: 'e', agent: 'ether', amount: 5, unit: 'ppm', minutes: 480 })
    expect(airDays([sample({}), ether], { jurisdiction: 'other' })[0]?.withoutLimit).toEqual([SILICA, 'ether'])
    const [day] = airDays([sample({}), ether], rules)
    expect(day?.silica).toMatchObject({ twaUgM3: 25, aboveLimit: true, limit: { title: 'A newer text', isOwn: true } })
    expect(day?.mixture).toEqual({ ratio: 1.25, within: false })
    expect(day?.withoutLimit).toEqual([])
    expect(day && sayAirDay(day)).toMatch(
      /silica 25\.0 µg\/m³ over 8 h .*; limit 20 µg\/m³, A newer text, the lab’s own: above the limit\. Solvents ether 5\.0\/4 ppm = 1\.250: above 1/,
    )
    const [eu] = airDays([sample({})], { jurisdiction: 'eu' })
    expect(eu && sayAirDay(eu)).toContain(
      'Directive (EU) 2017/2398, Annex III (12 December 2017), to be held against its text',
    )
  })
})
