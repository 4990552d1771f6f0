// What the demo lab looks after: checks before use, one near miss, air samples of one person, and what ran in their hands
// last month. Invented like everything here; figures are of a plausible size and no measurement.
import { addDays } from '#lib/base'
import type { Change } from '#lib/words'
import { type Draft, instant, record } from './dice.ts'

interface Around {
  readonly lab: Draft<'lab'>
  readonly today: string
}

/** The safety records as the demo is first opened; everything is good or due, so the day can be drawn up. */
export function demoSafety({ lab, today }: Around): Change[] {
  const yesterday = addDays(today, -1)
  const at = instant(lab.zone, yesterday, 9 * 60 + 5)
  const good = (by: string) => ({ date: yesterday, shiftId: 'morning', by, at, result: 'good' as const, note: '' })
  const check = (
    over: Pick<Draft<'check'>, 'id' | 'name' | 'what' | 'placeId' | 'ratedKg'>,
    days: number,
    by: string,
  ) =>
    record('check', {
      ...{ every: { unit: 'days', count: days }, since: addDays(today, -60), isActive: true, last: good(by) },
      ...over,
    })
  const technique = lab.techniques.find(({ id }) => id === 'fine-scribe') ?? lab.techniques[0]
  const month = addDays(today, -31).slice(0, 7)
  const tool = (minutes: number) => ({
    ...{ techniqueId: technique?.id ?? 'fine-scribe', name: technique?.name ?? 'Fine air scribe', minutes },
    ...{ vibrationMs2: technique?.vibrationMs2 ?? null, vibrationSource: technique?.vibrationSource ?? '' },
    ...{ noiseDba: technique?.noiseDba ?? null, noiseSource: technique?.noiseSource ?? '' },
  })
  const sampledOn = addDays(today, -20)
  return [
    check(
      { id: 'check-a1', name: 'Extraction arm at A1', what: 'extraction', placeId: 'a1', ratedKg: null },
      1,
      'zosia',
    ),
    check({ id: 'check-eyewash', name: 'Eyewash', what: 'eyewash', placeId: null, ratedKg: null }, 7, 'emeka'),
    check(
      { id: 'check-air', name: 'Compressor, drain and belt', what: 'compressor', placeId: null, ratedKg: null },
      7,
      'emeka',
    ),
    check({ id: 'check-hoist', name: 'Gantry hoist', what: 'hoist', placeId: null, ratedKg: 500 }, 180, 'zosia'),
    record('incident', {
      ...{
        id: 'incident-1',
        kind: 'near miss',
        date: addDays(today, -12),
        personId: null,
        placeId: 'a1',
        pieceId: null,
      },
      what: 'The air hose came off its barb while the scribe was running and whipped once. Nobody stood near.',
      done: 'Hose cut back, clamp renewed, the other three looked at.',
      ...{ by: 'amara', at: instant(lab.zone, addDays(today, -12), 15 * 60), corrects: null },
    }),
    record('airSample', {
      ...{ id: 'sample-1', personId: 'zosia', date: sampledOn, agent: 'respirable crystalline silica', amount: 31 },
      ...{ unit: 'µg/m³', minutes: 190, method: 'invented sample, cyclone and filter', by: 'thea' },
      ...{ at: instant(lab.zone, sampledOn, 17 * 60), corrects: null },
    }),
    record('exposureMonth', {
      ...{ id: `${month}.zosia`, personId: 'zosia', month },
      days: [4, 11, 18].map((day) => ({
        date: `${month}-${String(day).padStart(2, '0')}`,
        formula: 1,
        tools: [tool(30 + 5 * day)],
      })),
    }),
  ]
}
