// What an entry says beside its words, what a finish says of the rock, and what is known of a ladder from both.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { gentlestOf, triedOn } from '#lib/views'
import { Entry, put } from '#lib/words'
import { aLog, anEntry, aSmallLab, aSpecimen, aTurn, aWork } from '../../kit/makers.ts'
import { act } from '../../kit/makers-ops.ts'

// Nobody wants a sample of it, so that a consolidant is not asked about.
const lab = aSmallLab(put('assignment', aTurn()), put('specimen', aSpecimen({ sampling: 'not wanted' })))
const write = (over: object = {}) => ({
  kind: 'write' as const,
  entryId: 'e1',
  pieceId: 'skull',
  entryKind: 'consolidant' as const,
  techniqueId: null,
  text: 'palate edge, two coats',
  ...over,
})
const finish = (over: object = {}) => ({
  kind: 'finish' as const,
  workId: 'work1',
  logId: 'l1',
  minutes: 60,
  runningMinutes: 0,
  note: '',
  stepDone: false,
  shelf: null,
  ...over,
})

describe('the treatment record', () => {
  test('R6 an entry keeps material, batch and strength with its convention, and a correction keeps them', () => {
    const detail = { material: 'B-72 in acetone', batch: 'B12', strength: { amount: 5, convention: 'wv' } }
    const once = act(lab, 'ana', write({ detail })).records
    expect(once.entry.get('e1')).toMatchObject({ kind: 'consolidant', detail })
    const body = { kind: 'correctEntry' as const, entryId: 'e2', corrects: 'e1', pieceId: 'skull', text: 'three coats' }
    const twice = act(once, 'ana', body).records
    expect(twice.entry.get('e2')).toMatchObject({ corrects: 'e1', detail, text: 'three coats' })
    expect(twice.entry.get('e1')).toEqual(once.entry.get('e1'))
  })

  test('R6 an entry from before particulars were asked for reads as it did', () => {
    const old = { ...anEntry() }
    expect(Entry.parse(old)).toEqual(old)
    expect('detail' in Entry.parse(old)).toBe(false)
  })

  test('O a strength without its convention, and a strength of nothing, are not let in', () => {
    expect(() => act(lab, 'ana', write({ detail: { strength: { amount: 5 } } }))).toThrow('not an op')
    expect(() => act(lab, 'ana', write({ detail: { strength: { amount: 0, convention: 'ww' } } }))).toThrow('not an op')
  })

  test('O a question in the record is asked where questions are answered, once', () => {
    const asked = act(lab, 'ana', write({ entryKind: 'question', text: 'which rib is it?' })).records
    expect(asked.question.get('e1')).toMatchObject({ pieceId: 'skull', text: 'which rib is it?', answer: null })
    const twice = act(asked, 'ana', write({ entryKind: 'question' }))
    expect(twice.codes).toEqual(['R6 only-added', 'O id-taken'])
  })

  test('O who agreed must be of the lab, and only a technique of the ladder moves rock', () => {
    expect(act(lab, 'ana', write({ detail: { agreed: ['nobody'] } })).codes).toEqual(['O unknown-person'])
    expect(act(lab, 'ana', write({ detail: { movedRock: true } })).codes).toEqual(['O not-on-ladder'])
    expect(act(lab, 'ana', write({ techniqueId: 'joining', detail: { movedRock: true } })).codes).toEqual([
      'O not-on-ladder',
    ])
    expect(act(lab, 'ana', write({ techniqueId: 'needle', detail: { movedRock: true } })).codes).toEqual([])
  })

  test('R6 a finish says whether the rock moved, and says nothing where nothing was said', () => {
    const working = aSmallLab(put('assignment', aTurn()), put('work', aWork({ id: 'work1' })))
    expect(act(working, 'ana', finish({ movedRock: false })).records.log.get('l1')).toMatchObject({ movedRock: false })
    expect(act(working, 'ana', finish()).records.log.get('l1')).not.toHaveProperty('movedRock')
  })
})

describe('what was tried', () => {
  const techniques = lab.lab.get('lab')?.techniques ?? []
  const ladder = techniques.filter((one) => one.force !== null).toSorted((a, b) => (a.force ?? 0) - (b.force ?? 0))

  test('R6 a corrected word no longer speaks', () => {
    const old = aLog({ id: 'l1', movedRock: true })
    const right = aLog({ id: 'l2', corrects: 'l1', movedRock: false })
    expect(triedOn(techniques, [old, right], []).map((one) => one.movedRock)).toEqual([false])
  })

  test('R3 the gentlest is one that moved the rock, and none gentler is known to', () => {
    const word = fc.record({
      rung: fc.nat({ max: ladder.length - 1 }),
      moved: fc.boolean(),
      minute: fc.nat({ max: 59 }),
    })
    fc.assert(
      fc.property(fc.array(word, { maxLength: 12 }), (words) => {
        const entries = words.map(({ rung, moved, minute }, n) =>
          anEntry({
            id: `e${n}`,
            at: `2026-03-11T10:${String(minute).padStart(2, '0')}:00.000Z`,
            techniqueId: ladder[rung]?.id ?? null,
            detail: { movedRock: moved },
          }),
        )
        const last = (id: string) => {
          const own = entries.filter((one) => one.techniqueId === id)
          const at = own
            .map((one) => one.at)
            .sort()
            .at(-1)
          const then = own.filter((one) => one.at === at)
          return then.length > 0 && then.every((one) => one.detail?.movedRock === true)
        }
        const gentlest = gentlestOf(triedOn(techniques, [], entries))
        expect(gentlest?.id ?? null).toBe(ladder.find((one) => last(one.id))?.id ?? null)
      }),
    )
  })
})
