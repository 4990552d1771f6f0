// Who is put to work, what comes next on a path, and which week holds on a date.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { addDays, daysBetween } from '#lib/base'
import { buildProblem } from '#lib/lineup'
import { fitForMe, judgeDay, pathOf, patternOn, presenceOf } from '#lib/rules'
import { put, type Records, type Spell, withChanges } from '#lib/words'
import { aHold, aLab, aPerson, aSmallLab, aTurn, skilled, TODAY, TOMORROW } from '../../kit/makers.ts'

const exits = { id: 'exits', name: 'fire exits', isRequired: true, from: TODAY }
const tour = { id: 'tour', name: 'the tour', isRequired: false, from: TODAY }
const been = (itemId: string) => [{ itemId, by: 'pia', on: TODAY }]
const inducted = put('person', aPerson({ inducted: been('exits') }))
/** Ana comes every day, as nobody else does. */
const comes = aPerson({ pattern: [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, shiftId: 'morning' })) })

describe('induction', () => {
  const lab = aSmallLab(put('lab', aLab({ induction: [exits, tour] })), put('person', comes))
  const codes = (records: Records, date = TODAY) => judgeDay(records, date, [aTurn({ date })]).map(({ code }) => code)

  test('O nobody is put to work before a required item, which is named; an optional one stops nobody', () => {
    expect(judgeDay(lab, TODAY, [aTurn()])).toMatchObject([{ code: 'not-inducted', ids: { item: 'fire exits' } }])
    expect(codes(withChanges(lab, [inducted]))).toEqual([])
  })

  test('O an item asks from its day on', () => {
    const later = withChanges(lab, [put('lab', aLab({ induction: [{ ...exits, from: TOMORROW }] }))])
    expect([codes(later), codes(later, TOMORROW)]).toEqual([[], ['not-inducted']])
  })

  test('O claims and the solver keep to it, and a hold against it is told', () => {
    const fits = (records: Records) => fitForMe(records, { personId: 'ana' }, TODAY, 'morning')
    expect(fits(lab).every(({ isFit, findings }) => !isFit && findings[0]?.code === 'not-inducted')).toBe(true)
    expect(fits(withChanges(lab, [inducted])).some(({ isFit }) => isFit)).toBe(true)
    const inDay = (records: Records) => buildProblem(records, TODAY).problem.people.map(({ id }) => id)
    expect(inDay(lab)).not.toContain('ana')
    const ready = put('person', { ...comes, inducted: aPerson({ inducted: been('exits') }).inducted })
    expect(inDay(withChanges(lab, [ready]))).toContain('ana')
    const held = withChanges(lab, [put('hold', aHold())])
    expect(buildProblem(held, TODAY).findings.map(({ code }) => code)).toContain('not-inducted')
  })
})

describe('a learning path', () => {
  const path = {
    ...{ id: 'fine', name: 'Fine work' },
    steps: [
      { kind: 'item', itemId: 'exits' },
      { kind: 'skill', techniqueId: 'needle', level: 2 },
      { kind: 'skill', techniqueId: 'scribe', level: 1 },
    ] as const,
  }
  const on = (over: Parameters<typeof aPerson>[0]) => {
    const person = aPerson({ pathId: 'fine', pattern: comes.pattern, ...over })
    const lab = aSmallLab(
      put('lab', aLab({ induction: [{ ...exits, isRequired: false }], paths: [path as never] })),
      put('person', person),
    )
    const found = pathOf(lab, person, TODAY)
    return { next: found?.next ?? null, lab }
  }

  test('S its next step is the first that is not reached, skills that have run out included', () => {
    expect(on({ pathId: null }).next).toBeNull()
    expect(on({}).next).toEqual(path.steps[0])
    expect(on({ inducted: been('exits'), skills: skilled({ needle: 1 }) }).next).toEqual(path.steps[1])
    expect(on({ inducted: been('exits'), skills: skilled({ needle: 3 }) }).next).toEqual(path.steps[2])
    expect(on({ inducted: been('exits'), skills: skilled({ needle: 3 }, '2026-03-01') }).next).toEqual(path.steps[1])
    expect(on({ inducted: been('exits'), skills: skilled({ needle: 2, scribe: 2 }) }).next).toBeNull()
  })

  test('S the day solver is told the technique of it', () => {
    const { lab } = on({ inducted: been('exits'), skills: skilled({ needle: 1 }) })
    expect(buildProblem(lab, TODAY).problem.people.find(({ id }) => id === 'ana')?.learnsNext).toBe('needle')
  })
})

describe('terms and holidays', () => {
  const week = (shiftId: string): Spell['pattern'] =>
    aPerson({ pattern: [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, shiftId })) }).pattern
  const person = aPerson({
    pattern: week('morning'),
    spells: [
      { from: TODAY, to: addDays(TODAY, 30), pattern: week('afternoon') },
      { from: addDays(TODAY, 5), to: addDays(TODAY, 9), pattern: [] },
    ],
  })
  const lab = aSmallLab(put('person', person))
  const at = (days: number, shiftId: string) => {
    const { isIn, isAway } = presenceOf(lab, person, addDays(TODAY, days), shiftId)
    return isIn ? 'in' : isAway ? 'away' : 'no'
  }

  test('O a term has its week, a holiday within it has none, and the usual week holds around them', () => {
    expect([at(0, 'morning'), at(0, 'afternoon')]).toEqual(['away', 'in'])
    expect([at(5, 'morning'), at(9, 'afternoon')]).toEqual(['away', 'no'])
    expect([at(10, 'afternoon'), at(31, 'morning'), at(31, 'afternoon')]).toEqual(['in', 'in', 'no'])
  })

  test('O what was said of one date counts more than a stretch', () => {
    const extra = { ...person, exceptions: [{ date: addDays(TODAY, 5), shiftId: null, kind: 'extra' as const }] }
    expect(presenceOf(lab, extra, addDays(TODAY, 5), 'morning')).toMatchObject({ isIn: true, basis: 'exception' })
  })

  test('O the shortest stretch holds, in whatever order they were written', () => {
    const span = fc.record({ from: fc.nat(20), length: fc.nat(10), isMorning: fc.boolean() })
    fc.assert(
      fc.property(fc.array(span, { maxLength: 5 }), fc.nat(35), (spans, day) => {
        const spells = spans.map(({ from, length, isMorning }) => ({
          from: addDays(TODAY, from),
          to: addDays(TODAY, from + length),
          pattern: isMorning ? week('morning') : [],
        }))
        const date = addDays(TODAY, day)
        const there = spells.filter(({ from, to }) => from <= date && date <= to)
        const least = Math.min(...there.map(({ from, to }) => daysBetween(from, to)))
        const shortest = there.filter(({ from, to }) => daysBetween(from, to) === least)
        const usual = week('afternoon')
        const held = patternOn({ ...person, pattern: usual, spells }, date)
        const may = shortest.length === 0 ? [usual] : shortest.map(({ pattern }) => pattern)
        expect(may).toContainEqual(held)
      }),
    )
  })
})
