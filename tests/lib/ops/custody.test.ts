// What an assessment, a relation, a housing and a hand-over bring about beyond the act itself.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { missingAtHandOver, rackLoads, standingKg } from '#lib/rules'
import { put, type Records, withChanges } from '#lib/words'
import { aDue, aJacket, anEntry, aSmallLab, aSpecimen, aStep, aTurn, NOW, TODAY } from '../../kit/makers.ts'
import { aCustody, aHousing, anAssessment, aRack, said } from '../../kit/makers-custody.ts'
import { act } from '../../kit/makers-ops.ts'
import { custodyCases } from './cases-custody.ts'

const posted = [
  put('day', { id: TODAY, postedAt: NOW, postedBy: aTurn().by, times: 1, note: '' }),
  put('assignment', aTurn()),
  put('assignment', aTurn({ personId: 'pia', pieceId: 'rib', stepId: 'rib-1', placeId: 'b2' })),
]

describe('an assessment', () => {
  test('R3 a lower ceiling takes off the turns it makes unlawful, tells whoever sat there, and leaves the rest', () => {
    const lab = aSmallLab(...posted)
    const done = act(lab, 'mira', { kind: 'assess', assessment: said(anAssessment(), { forceCeiling: 'brush' }) })
    expect(done.codes).toEqual([])
    const turn = aTurn()
    expect([...done.records.assignment.values()].map((one) => one.pieceId)).toEqual(['rib'])
    expect(done.records.reseat.get(turn.id)).toMatchObject({ personId: turn.personId, was: { pieceId: 'skull' } })
    expect(done.records.specimen.get('skull')).toMatchObject({ forceCeiling: 'brush' })
  })

  test('R6 each names the one before it, and all stay', () => {
    let lab = aSmallLab()
    for (const id of ['a1', 'a2', 'a3'])
      lab = act(lab, 'pia', { kind: 'assess', assessment: said(anAssessment({ id })) }).records
    expect([...lab.assessment.values()].map(({ id, former }) => [id, former])).toEqual([
      ['a1', null],
      ['a2', 'a1'],
      ['a3', 'a2'],
    ])
  })

  test('O what a sealed jacket is thought to hold becomes its contents, and rates its rock', () => {
    const guess = { pieceId: 'jacket1', element: 'two vertebrae', taxon: 'sauropod', rockHardness: 5 }
    const done = act(aSmallLab(), 'pia', { kind: 'assess', assessment: said(anAssessment(), guess) })
    expect(done.records.jacket.get('jacket1')).toMatchObject({ contents: 'two vertebrae, sauropod', rockHardness: 5 })
  })
})

describe('a rack', () => {
  const mass = (lowKg: number, highKg: number, weighedKg: number | null = null) => ({ lowKg, highKg, weighedKg })
  const rack = put('rack', aRack({ name: 'bay 1', ratedKg: 100 }))
  const standing = put('jacket', aJacket({ shelf: 'Bay 1, shelf a', mass: mass(40, 60) }))
  const taken = (shelf: string, own: ReturnType<typeof mass>, standsDespite?: string) => ({
    kind: 'addJacket' as const,
    jacket: aJacket({ id: 'j9', shelf, mass: own, ...(standsDespite === undefined ? {} : { standsDespite }) }),
    steps: [],
  })

  test('O is asked about where it may be over, and refused where it is over whatever the reason', () => {
    const lab = aSmallLab(rack, standing)
    expect(act(lab, 'pia', taken('bay 1, shelf b', mass(30, 40))).codes).toEqual([])
    const perhaps = act(lab, 'pia', taken('bay 1, shelf b', mass(30, 40.1)))
    expect(perhaps.codes).toEqual(['O rack-perhaps-over'])
    expect(perhaps.findings[0]?.numbers).toMatchObject({ ratedKg: 100, standsKg: 60, pieceKg: 40.1, highKg: 100.1 })
    expect(act(lab, 'pia', taken('bay 1, shelf b', mass(30, 40.1), 'to be weighed today')).codes).toEqual([])
    expect(act(lab, 'pia', taken('bay 1, shelf b', mass(60.1, 80), 'no room')).codes).toEqual(['O rack-over'])
    // Another rack whose name only begins alike is another rack.
    expect(act(lab, 'pia', taken('bay 10', mass(900, 900))).codes).toEqual([])
  })

  test('O what is taken out of a jacket that stands there is not counted twice', () => {
    const opened = aJacket({ state: 'opened', shelf: 'bay 1', mass: mass(60, 90) })
    const lab = aSmallLab(rack, put('jacket', opened))
    const made = aSpecimen({ id: 's9', jacketId: 'jacket1', shelf: 'bay 1', mass: mass(60, 90) })
    const done = act(lab, 'pia', { kind: 'addSpecimen', specimen: made, steps: [] })
    expect(done.codes).toEqual([])
    expect(rackLoads(done.records, 'bay 1', null)).toMatchObject([{ standsLowKg: 60, standsHighKg: 90, pieces: 2 }])
  })

  test('O bears what stands on it: the sum of the pieces, in any order, without what was taken away', () => {
    const kg = fc.integer({ min: 0, max: 500 })
    const piece = fc.record({ low: kg, more: kg, weighed: fc.option(kg), away: fc.boolean() })
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 8 }), (pieces) => {
        const made = pieces.map((one, i) =>
          aSpecimen({
            id: `s${i}`,
            shelf: 'bay 1',
            placeId: one.away ? 'b1' : null,
            mass: mass(one.low, one.low + one.more, one.weighed),
          }),
        )
        const lab = withChanges(
          aSmallLab(rack),
          made.toReversed().map((one) => put('specimen', one)),
        )
        const stands = made.filter((one) => one.placeId === null).map(standingKg)
        const [load] = rackLoads(lab, 'bay 1', null)
        expect(load?.standsLowKg).toBeCloseTo(stands.reduce((sum, one) => sum + one.lowKg, 0))
        expect(load?.standsHighKg).toBeCloseTo(stands.reduce((sum, one) => sum + one.highKg, 0))
      }),
      { numRuns: 200 },
    )
  })
})

describe('a hand-over', () => {
  const whole = custodyCases.handOver
  const lab = (...more: Parameters<typeof aSmallLab>) => aSmallLab(...whole.lab, ...more)
  const give = (records: Records, who: string, over: object = {}) =>
    act(records, who, { kind: 'handOver', ...whole.good, ...over })

  test('O leaves the board whole, with its dates met, and is found by what stands on its Sheet', () => {
    const more = [put('due', aDue()), put('entry', anEntry({ id: 'e2', text: 'Consolidant on the palate.' }))]
    const done = give(lab(...more), 'mira')
    expect(done.codes).toEqual([])
    expect(done.records.specimen.has('skull')).toBe(false)
    const resting = done.records.resting.get('skull')
    expect(resting).toMatchObject({ specimen: { stage: 'released' }, custody: { to: 'collection' } })
    expect(resting?.dues.map((due) => due.state)).toEqual(['met'])
    for (const word of ['palate', 'type', 'registrar', 'pia', TODAY]) expect(resting?.found).toContain(word)
  })

  test('O comes back housed, with the change of hands on its Sheet', () => {
    const gone = give(lab(), 'mira').records
    const back = act(gone, 'pia', { kind: 'bringBack', pieceId: 'skull' })
    expect(back.codes).toEqual([])
    expect(back.records.specimen.get('skull')).toMatchObject({ stage: 'housed', stageSince: TODAY })
    expect([...back.records.custody.values()].map((one) => one.to)).toEqual(['collection', 'lab'])
  })

  test('O names everything that is missing; a manager signs all the same with a reason, which stays on record', () => {
    const bare = aSmallLab()
    const told = {
      said: { ...whole.good.said, isPurposeMet: false, isLabelled: false, condition: '', photographs: ' ' },
    }
    const asked = give(bare, 'mira', told)
    expect(asked.codes).toEqual([
      'O hand-step-open',
      'O hand-step-open',
      'O hand-purpose',
      'O hand-condition',
      'O hand-labels',
      'O hand-photographs',
      'O hand-housing',
      'O hand-record',
      'O hand-assessment',
      'O hand-catalogue',
    ])
    expect(give(bare, 'pia', { ...told, reason: 'the lorry waits' }).codes).toEqual(['O hand-manager'])
    const signed = give(bare, 'mira', { ...told, reason: 'the lorry waits' })
    expect(signed.codes).toEqual([])
    expect([...signed.records.custody.values()][0]).toMatchObject({
      reason: 'the lorry waits',
      missing: expect.arrayContaining(['hand-labels', 'hand-housing']),
    })
  })

  test('O each thing put right is one line less, in whatever order', () => {
    const all = whole.lab.filter((change) => change.kind !== 'specimen')
    fc.assert(
      fc.property(fc.shuffledSubarray(all.map((_, i) => i)), (order) => {
        let records: Records = aSmallLab(put('specimen', aSpecimen()))
        let left = missingAtHandOver(records, 'skull', aCustody()).length
        for (const i of order) {
          records = withChanges(records, all.slice(i, i + 1))
          const now = missingAtHandOver(records, 'skull', aCustody()).length
          expect(now).toBe(left - 1)
          left = now
        }
      }),
    )
  })

  test('O a housing that bears less than the specimen may weigh is not suited', () => {
    const heavy = put(
      'specimen',
      aSpecimen({ catalogueNumber: 'C 1', mass: { lowKg: 50, highKg: 130, weighedKg: null } }),
    )
    expect(give(lab(heavy), 'mira').codes).toEqual(['O hand-housing-weak'])
    const better = put('housing', aHousing({ id: 'h2', at: '2026-03-13T08:00:00.000Z', bearsKg: 131 }))
    expect(give(lab(heavy, better), 'mira').codes).toEqual([])
  })

  test('O a step that is begun again keeps it here', () => {
    expect(give(lab(put('step', aStep({ state: 'begun' }))), 'mira').codes).toEqual(['O hand-step-open'])
  })
})
