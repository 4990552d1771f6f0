// Every op once: done by each role that may, refused to each that may not, refused in a state in which it makes no
// sense. What an op does beyond that is told in the tests of its family.
import { describe, expect, test } from 'vitest'
import { addDays } from '#lib/base'
import { type OpKind, opSchemas, parseOp } from '#lib/ops'
import { Forecast, put, type Records, Role, withChanges } from '#lib/words'
import { aDue, aPerson, aSmallLab, TODAY, TOMORROW } from '../../kit/makers.ts'
import { act, system, whenAt } from '../../kit/makers-ops.ts'
import { type Case, turn } from './case-parts.ts'
import { clockCases } from './cases-clocks.ts'
import { crewCases } from './cases-crew.ts'
import { custodyCases } from './cases-custody.ts'
import { dayCases } from './cases-day.ts'
import { joinCases } from './cases-joins.ts'
import { labCases } from './cases-lab.ts'
import { materialCases } from './cases-materials.ts'
import { photoCases } from './cases-photos.ts'
import { pieceCases } from './cases-pieces.ts'
import { safetyCases } from './cases-safety.ts'
import { strokeCases } from './cases-strokes.ts'
import { waitingCases } from './cases-waits.ts'
import { letterOf, mayDo } from './tables.ts'

type Server = 'beginDay' | 'keepForecasts' | 'noteOutlooks'
/** Every op but the server's own. */
const cases: Readonly<Record<Exclude<OpKind, Server>, Case>> = {
  ...labCases,
  ...pieceCases,
  ...waitingCases,
  ...custodyCases,
  ...dayCases,
  ...safetyCases,
  ...joinCases,
  ...materialCases,
  ...photoCases,
  ...strokeCases,
  ...clockCases,
  ...crewCases,
}

const people = { m: 'mira', p: 'pia', v: 'ana', r: 'rex' } as const
const named = Object.entries(cases) as [Exclude<OpKind, Server>, Case][]
const labOf = (one: Case): Records => aSmallLab(...(one.lab ?? []))

describe('each op', () => {
  test('O there is a case for every op', () => {
    expect([...Object.keys(cases), 'beginDay', 'keepForecasts', 'noteOutlooks'].sort()).toEqual(
      Object.keys(opSchemas).sort(),
    )
  })

  test.each(named)('O %s is done by those who may and changes something', (kind, one) => {
    const able = one.isOwn
      ? [one.who]
      : Object.entries(people).flatMap(([letter, who]) => (mayDo[kind].includes(letter) ? [who] : []))
    for (const who of able) {
      const done = act(labOf(one), who, { ...one.good, kind })
      expect([who, done.codes]).toEqual([who, []])
      expect(done.changes.length).toBeGreaterThan(0)
    }
  })

  test.each(named)('O %s is refused to every other role, and to the wall', (kind, one) => {
    const lab = labOf(one)
    for (const [role, letter] of Object.entries(letterOf)) {
      if (mayDo[kind].includes(letter)) continue
      const personId = letter === 'w' ? people.m : people[letter]
      const who = { personId: aPerson({ id: personId }).id, role: Role.parse(role) }
      expect([role, act(lab, who, { ...one.good, kind }).codes]).toEqual([role, ['O role']])
    }
  })

  test.each(named)('O %s is refused where it makes no sense', (kind, one) => {
    for (const [code, over, more] of one.bad) {
      const done = act(withChanges(labOf(one), more ?? []), one.who, { ...over, kind })
      expect([code, done.codes]).toEqual([code, expect.arrayContaining([code])])
      expect(done.changes).toEqual([])
    }
  })

  test('O beginDay is the server’s alone', () => {
    const body = { kind: 'beginDay', date: TODAY } as const
    expect(act(aSmallLab(), 'mira', body).codes).toEqual(['O role'])
    expect(act(aSmallLab(), system, body).codes).toEqual([])
    expect(act(aSmallLab(), system, { ...body, date: TOMORROW }).codes).toEqual(['O not-yet'])
  })

  test('R6 keepForecasts is the server’s alone, and keeps nothing twice', () => {
    const one = {
      ...{ id: 's1.begun.1', stepId: 's1', pieceId: 'skull', at: `${TODAY}T09:00:00.000Z`, on: TODAY, why: 'begun' },
      ...{ doneMinutes: 0, by: [], left: { median: 12, logSd: 0.6 }, beside: null },
      facts: {
        ...{ group: 'exposing', techniqueId: 'needle', sizeCm2: 90, rockHardness: 4, contrast: 3, soundness: 3 },
        ...{ breakage: 2, isPriority: false, sharedBy: 2, typedH: 10, isUnseen: false },
      },
    }
    const body = { kind: 'keepForecasts', forecasts: [Forecast.parse(one)] } as const
    expect(act(aSmallLab(), 'mira', body).codes).toEqual(['O role'])
    const kept = act(aSmallLab(), system, body)
    expect(kept.codes).toEqual([])
    expect(act(kept.records, system, body).codes).toEqual(['R6 only-added'])
    // The same said a moment later is the same.
    const later = { ...body, forecasts: [Forecast.parse({ ...one, id: 's1.begun.2' })] }
    expect(act(kept.records, system, later).codes).toEqual(['R6 only-added'])
  })

  test('O noteOutlooks is the server’s alone, keeps what is live and lets the old go', () => {
    const told = { dueId: 'opening', date: '2026-05-02', chance: 0.6, median: null }
    const body = { kind: 'noteOutlooks', on: TODAY, outlooks: [told, { ...told, dueId: 'gone' }] } as const
    expect(act(aSmallLab(), 'mira', body).codes).toEqual(['O role'])
    expect(act(aSmallLab(), system, { ...body, on: TOMORROW }).codes).toEqual(['O not-yet'])
    const lab = aSmallLab(put('due', aDue({ id: 'opening' })))
    const { records } = act(lab, system, body)
    expect([...records.outlook.values()]).toEqual([expect.objectContaining({ id: `opening.${TODAY}`, chance: 0.6 })])
    const later = addDays(TODAY, 64)
    const kept = act(records, system, { ...body, on: later }, whenAt({ date: later })).records
    expect([...kept.outlook.keys()]).toEqual([`opening.${later}`])
  })

  test('O a role that changed, a person who left and a stranger are told so', () => {
    const body = { kind: 'watch', pieceId: 'skull' } as const
    const ana = { personId: aPerson().id, role: 'preparator' } as const
    expect(act(aSmallLab(), ana, body).codes).toEqual(['O role-changed'])
    const left = aSmallLab(put('person', aPerson({ isActive: false })))
    expect(act(left, 'ana', body).codes).toEqual(['O not-of-the-lab'])
    const stranger = { personId: aPerson({ id: 'nobody' }).id, role: 'manager' } as const
    expect(act(aSmallLab(), stranger, body).codes).toEqual(['O not-of-the-lab'])
  })

  test('O the door names an unknown kind and the field that is wrong', () => {
    expect(parseOp({ id: 'a', kind: 'explode' }).findings).toMatchObject([{ code: 'unknown-kind' }])
    expect(parseOp({ id: 'a', kind: 'toString' }).findings).toMatchObject([{ code: 'unknown-kind' }])
    expect(parseOp({ id: 'a', kind: 'watch', pieceId: 7 }).findings).toMatchObject([
      { code: 'malformed', ids: { op: 'watch', field: 'pieceId' } },
    ])
    expect(parseOp({ id: 'a', kind: 'watch', pieceId: 'skull', role: 'manager' }).findings).toHaveLength(1)
    expect(
      parseOp({
        id: 'a',
        kind: 'writePrivateNote',
        note: { id: 'n', aboutPersonId: null, aboutPieceId: null, text: 'x'.repeat(8001) },
      }).op,
    ).toBeUndefined()
  })

  test('O a shift that is over is claimed no more', () => {
    const late = whenAt({ minute: 720 })
    expect(act(aSmallLab(), 'ana', { kind: 'claim', ...turn }, late).codes).toEqual(['O shift-over'])
    expect(act(aSmallLab(), 'ana', { kind: 'claim', ...turn }, whenAt({ minute: 719 })).codes).toEqual([])
  })
})
