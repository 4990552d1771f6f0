// What is believed before a lab has work of its own. Common practice, no source: hours that people of the trade name.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Facts, learn, logHoursOf, usualModel } from '#lib/forecast'

const model = usualModel()
const aStep: Facts = {
  group: 'exposing',
  techniqueId: 'needle',
  sizeCm2: 120,
  rockHardness: 3,
  contrast: 3,
  soundness: 3,
  breakage: 3,
  isPriority: false,
  sharedBy: 1,
  typedH: null,
  isUnseen: false,
}
const medianH = (facts: Partial<Facts>) => Math.exp(logHoursOf(model, { ...aStep, ...facts }).mean)
/** A piece's usual course: so many steps of exposing, the others one each, all by their medians. */
const pieceH = (facts: Partial<Facts>, exposing: number, others: readonly Facts['group'][]) =>
  exposing * medianH({ ...facts, sharedBy: exposing }) +
  others.reduce((sum, group) => sum + medianH({ ...facts, group }), 0)

describe('common practice', () => {
  it('takes about 16 h for a tiny piece in good condition', () => {
    const h = pieceH({ sizeCm2: 10, rockHardness: 2, contrast: 4, soundness: 4, breakage: 1 }, 2, ['housing'])
    expect(h).toBeGreaterThan(12)
    expect(h).toBeLessThan(21)
  })

  it('takes about 100 h for one the size of a walnut in hard rock', () => {
    // A sphere of 4 cm has 50 cm² of surface.
    const h = pieceH({ sizeCm2: 50, rockHardness: 5, breakage: 2 }, 2, ['joining', 'housing'])
    expect(h).toBeGreaterThan(75)
    expect(h).toBeLessThan(135)
  })

  it('takes more than two years of 1 500 h for a very large skull', () => {
    const skull = { sizeCm2: 45_000, rockHardness: 4, breakage: 4 }
    expect(pieceH(skull, 3, ['opening', 'consolidating', 'joining', 'housing'])).toBeGreaterThan(3000)
  })

  it('takes longer in harder rock, with poorer contrast, with broken and unsound bone, with more to expose', () => {
    const rating = fc.integer({ min: 1, max: 5 })
    const facts = fc.record({ rockHardness: rating, contrast: rating, soundness: rating, breakage: rating })
    fc.assert(
      fc.property(facts, fc.double({ min: 1, max: 1e5, noNaN: true }), (known, sizeCm2) => {
        const own = medianH({ ...known, sizeCm2 })
        if (known.rockHardness < 5)
          expect(medianH({ ...known, sizeCm2, rockHardness: known.rockHardness + 1 })).toBeGreaterThan(own)
        if (known.contrast > 1)
          expect(medianH({ ...known, sizeCm2, contrast: known.contrast - 1 })).toBeGreaterThan(own)
        if (known.soundness > 1)
          expect(medianH({ ...known, sizeCm2, soundness: known.soundness - 1 })).toBeGreaterThan(own)
        if (known.breakage < 5)
          expect(medianH({ ...known, sizeCm2, breakage: known.breakage + 1 })).toBeGreaterThan(own)
        expect(medianH({ ...known, sizeCm2: sizeCm2 * 2 })).toBeGreaterThan(own)
      }),
    )
  })

  it('is what is learnt from nothing', () => {
    const learnt = learn([]).model
    const by = (one: typeof model) =>
      new Map(
        one.keys.map((key, i) => [key, Array.from({ length: i + 1 }, (_, j) => one.covariance[(i * (i + 1)) / 2 + j])]),
      )
    for (const [key, row] of by(model)) expect(by(learnt).get(key)?.at(-1), key).toBeCloseTo(row.at(-1) ?? 0, 6)
    for (const row of by(learnt).values()) for (const other of row.slice(0, -1)) expect(other).toBeCloseTo(0, 9)
    const { keys: _, covariance: __, mean: ___, ...scales } = model
    expect(learnt).toMatchObject(scales)
  })

  it('is wide: from a third to three times, and wider before anybody has looked inside', () => {
    const sd = (facts: Partial<Facts>) => {
      const { shared, own } = logHoursOf(model, { ...aStep, ...facts })
      return Math.sqrt(shared + own)
    }
    expect(Math.exp(1.2816 * sd({}))).toBeGreaterThan(3)
    expect(sd({ isUnseen: true })).toBeGreaterThan(sd({}))
    // Somebody's estimate makes it narrower, and nobody is believed to the hour.
    expect(sd({ typedH: 30 })).toBeLessThan(sd({}))
    expect(Math.exp(1.2816 * sd({ typedH: 30 }))).toBeGreaterThan(1.8)
  })
})
