// The words at the door: identifiers, texts, homes, and what each face is shown.
import { describe, expect, test } from 'vitest'
import {
  type AnyRecord,
  faceFor,
  homeOf,
  isHome,
  kindNames,
  kinds,
  Line,
  noRecords,
  Outlook,
  PieceId,
  Prose,
  project,
  put,
  RecordId,
  Role,
  remove,
  withChanges,
} from '#lib/words'
import {
  aDue,
  aLog,
  anEntry,
  aPerson,
  aSmallLab,
  aSpecimen,
  aTurn,
  skilled,
  TODAY,
  TOMORROW,
} from '../../kit/makers.ts'

describe('words', () => {
  test('O ids are short, lower case and without dots; joined keys may have dots', () => {
    expect(PieceId.safeParse('01jbone-7').success).toBe(true)
    for (const bad of ['', 'A', 'a.b', '-a', 'a b', 'é', 'x'.repeat(41), '../x']) {
      expect([bad, PieceId.safeParse(bad).success]).toEqual([bad, false])
    }
    const longest = `${TODAY}.${'s'.repeat(40)}.${'p'.repeat(40)}`
    expect(RecordId.safeParse(longest).success).toBe(true)
  })

  test('O texts carry no control characters and no overrides of direction', () => {
    expect(Line.safeParse('Ünal’s block №7').success).toBe(true)
    for (const bad of ['a\u202eb', 'a\u0000', '\ufeffa', ' ', 'a\nb']) expect(Line.safeParse(bad).success).toBe(false)
    expect(Prose.safeParse('two\nlines').success).toBe(true)
  })

  test('O each record has its home', () => {
    expect(homeOf('specimen', aSpecimen())).toBe('board')
    expect(homeOf('hold', null)).toBe('office')
    expect(homeOf('log', aLog())).toBe('sheet/skull')
    expect(() => homeOf('log', null)).toThrow('Believed')
    expect(isHome('sheet/skull')).toBe(true)
    expect(isHome('sheet/../office')).toBe(false)
  })

  test('O changes are laid over without touching what was there', () => {
    const before = withChanges(noRecords(), [put('specimen', aSpecimen())])
    const after = withChanges(before, [remove('specimen', 'skull'), put('entry', anEntry())])
    expect(before.specimen.size).toBe(1)
    expect(after.specimen.size).toBe(0)
    expect(after.person).toBe(before.person)
    expect(withChanges(after, [])).toBe(after)
  })

  test('O the office is open to staff alone, and the wall reads the board', () => {
    expect(faceFor('volunteer', 'office')).toBeNull()
    expect(faceFor('researcher', 'office')).toBeNull()
    expect([faceFor('preparator', 'office'), faceFor('manager', 'office')]).toEqual(['crew', 'manager'])
    expect([faceFor('preparator', 'board'), faceFor('manager', 'board')]).toEqual(['crew', 'crew'])
    expect(faceFor('wall', 'sheet/skull')).toBeNull()
    expect(faceFor('wall', 'board')).toBe('wall')
  })

  test('O kept forecasts are nobody’s document, and what hands do to hours is sent to no screen', () => {
    expect(isHome('forecasts')).toBe(false)
    for (const role of Role.options) expect(faceFor(role, 'forecasts')).toBeNull()
    const none = { keys: [], mean: [], covariance: [], noise: [0.2, 0.2], piece: 0.1, technique: 0.1, hands: 0.1 }
    const byHands = [{ stepId: 'skull-1', shift: 0.2, variance: 0.1 }]
    const hours = kinds.hours.parse({
      id: 'hours',
      ...none,
      trust: 0.6,
      skill: 0,
      widen: 1,
      finished: 0,
      open: 0,
      byHands,
    })
    for (const face of ['crew', 'guest'] as const) {
      expect(project(face, 'hours', hours, TODAY)).toEqual({ ...hours, byHands: [] })
    }
    expect(project('wall', 'hours', hours, TODAY)).toBeNull()
  })

  test('O private notes are the managers’ alone', () => {
    const note = { id: 'n1', text: 'Not yet.' } as AnyRecord
    expect(project('manager', 'privateNote', note, TODAY)).toBe(note)
    for (const face of ['crew', 'guest', 'wall'] as const) expect(project(face, 'privateNote', note, TODAY)).toBeNull()
    expect(project('crew', 'hold', note, TODAY)).toBe(note)
  })

  test('O guests and the wall never see family names, skills or patterns', () => {
    const ana = aPerson({ familyName: 'Secret', skills: skilled({ needle: 2 }) })
    for (const face of ['guest', 'wall'] as const) {
      expect(JSON.stringify(project(face, 'person', ana, TODAY))).not.toContain('Secret')
      expect(project(face, 'person', ana, TODAY)).toMatchObject({ skills: [], pattern: [] })
    }
    expect(project('crew', 'person', ana, TODAY)).toBe(ana)
  })

  test('O the wall reads today and no other day', () => {
    expect(project('wall', 'assignment', aTurn(), TODAY)).not.toBeNull()
    expect(project('wall', 'assignment', aTurn({ date: TOMORROW }), TODAY)).toBeNull()
    expect(project('wall', 'due', aDue({ note: 'private' }), TODAY)).toMatchObject({ note: '' })
    expect(project('wall', 'log', aLog(), TODAY)).toBeNull()
    // By its noted chance the wall draws a date as the Floor does.
    const noted = {
      id: 'due1.2026-03-09',
      dueId: 'due1',
      on: '2026-03-09',
      date: '2026-05-01',
      chance: 0.9,
      median: null,
    }
    const outlook = Outlook.parse(noted)
    expect(project('wall', 'outlook', outlook, TODAY)).toEqual(outlook)
  })

  test('O no face but the crew’s shows office records, asks or tallies', () => {
    for (const kind of ['hold', 'forbid', 'contact', 'lately', 'privateNote', 'signOffAsk', 'tally'] as const) {
      for (const face of ['guest', 'wall'] as const) {
        expect(project(face, kind, { id: 'x' } as AnyRecord, TODAY)).toBeNull()
      }
    }
  })

  test('O the small lab of the tests is made of every kind that matters', () => {
    const lab = aSmallLab()
    expect(kindNames.filter((kind) => lab[kind].size > 0)).toEqual([
      'lab',
      'room',
      'place',
      'person',
      'jacket',
      'specimen',
      'step',
    ])
  })
})
