// The bridge from records to the day problem: who is in and for how long, what is left of limits, what may be next, and
// what is told as findings because it cannot be.
import { describe, expect, it } from 'vitest'
import { minuteOf } from '#lib/base'
import { noiseTogether } from '#lib/limits'
import { buildProblem, judgeProblem, propose } from '#lib/lineup'
import { type Change, noRecords, PersonId, put, type RecordOf, type Records, remove, withChanges } from '#lib/words'
import { demoRecords } from '../../../demo/index.ts'

const date = '2026-03-12'
const demo = withChanges(noRecords(), demoRecords({ seed: 20, today: date }))

const build = (...changes: Change[]) => buildProblem(withChanges(demo, changes), date)
const given = <T>(value: T | undefined): T => {
  if (value === undefined) throw new Error('not there')
  return value
}
const personOf = (id: string, built = build()) => built.problem.people.find((person) => person.id === id)
const pieceNamed = (name: string, records: Records = demo) =>
  given([...records.specimen.values()].find((specimen) => specimen.name === name))
const attendance = (personId: string, state: RecordOf<'attendance'>['state'], dueAt: string | null = null) =>
  put('attendance', {
    ...given(demo.attendance.get(`${date}.morning.amara`)),
    id: `${date}.morning.${personId}`,
    personId: PersonId.parse(personId),
    state,
    dueAt,
  })
const workOn = (turnId: string, over: Partial<RecordOf<'work'>> = {}) => {
  const { personId, pieceId, stepId, placeId, shiftId } = given(demo.assignment.get(turnId))
  return put('work', {
    ...{ id: 'work-1', personId, pieceId, stepId, placeId, shiftId, date },
    techniqueId: given(demo.step.get(stepId)).techniqueId,
    state: 'running',
    startedAt: `${date}T09:40:00.000Z`,
    since: `${date}T09:40:00.000Z`,
    minutes: 0,
    runningMinutes: 0,
    ...over,
  })
}

describe('built problem', () => {
  it('has no loose ends and the same content for the same records', () => {
    const { problem, findings } = build()
    expect(judgeProblem(problem)).toEqual([])
    expect(findings).toEqual([])
    expect(build().problem).toEqual(problem)
    expect(problem.shifts.map(({ id }) => id)).toEqual(['morning', 'afternoon', 'evening'])
    expect(problem.shifts[0]?.airLpm).toBe(300)
  })

  it('knows who is in, late and away', () => {
    expect(personOf('esme')).toBeUndefined()
    expect(personOf('farid')?.presence).toEqual([{ shift: 'morning', from: minuteOf('10:15'), to: minuteOf('12:30') }])
    expect(personOf('zosia')?.presence.map(({ shift }) => shift)).toEqual(['morning', 'afternoon'])
    expect(personOf('tamsin')).toBeUndefined()
    expect(personOf('amara', build(attendance('amara', 'left')))).toBeUndefined()
  })

  it('leaves out a skill that has run out', () => {
    const emeka = given(demo.person.get('emeka'))
    const skills = emeka.skills.map((skill) =>
      skill.techniqueId === 'heavy-scribe' ? { ...skill, expiresOn: '2026-03-11' } : skill,
    )
    expect(personOf('emeka')?.levels['heavy-scribe']).toBe(4)
    expect(personOf('emeka', build(put('person', { ...emeka, skills })))?.levels['heavy-scribe'] ?? 0).toBe(0)
  })

  it('offers only steps whose predecessors are done', () => {
    const steps = new Map(build().problem.pieces.map((piece) => [piece.id, piece.steps.map(({ id }) => id)]))
    for (const list of steps.values()) {
      for (const id of list) {
        for (const before of given(demo.step.get(id)).after) expect(demo.step.get(before)?.state).toBe('done')
      }
    }
    const thigh = pieceNamed('Thigh bone')
    expect(steps.get(thigh.id)?.map((id) => demo.step.get(id)?.techniqueId)).toEqual(['documentation'])
  })

  it('lifts the ceiling only as far as a standing escalation', () => {
    const eggs = pieceNamed('Eggs, a clutch of four')
    const ceiling = (built = build()) => built.problem.pieces.find(({ id }) => id === eggs.id)?.ceiling
    expect(ceiling()).toBe(4)
    const escalation = given([...demo.escalation.values()][0])
    expect(ceiling(build(put('escalation', { ...escalation, endedAt: '2026-03-11T09:00:00.000Z' })))).toBe(3)
  })

  it('keeps others away from a place that a tied piece has to itself', () => {
    const { problem } = build()
    const back = pieceNamed('Back with ribs')
    const piece = given(problem.pieces.find(({ id }) => id === back.id))
    expect(piece.tiedTo).toBe(back.placeId)
    const place = given(problem.places.find(({ id }) => id === back.placeId))
    const suits = (features: readonly string[]) => features.every((feature) => place.features.includes(feature))
    expect(piece.steps.every((step) => suits(step.features))).toBe(true)
    const others = problem.pieces.filter(({ id }) => id !== back.id)
    expect(others.some((other) => other.steps.some((step) => suits(step.features)))).toBe(false)
  })

  it('presses near and risky dates most, and not at all without a date', () => {
    const chances = new Map([...demo.due.values()].map((due) => [due.id as string, 0.5]))
    const urgency = (name: string, of = chances) =>
      buildProblem(demo, date, { chances: of }).problem.pieces.find(({ id }) => id === pieceNamed(name).id)
        ?.urgencyPercent ?? -1
    expect(urgency('Back with ribs')).toBeGreaterThan(urgency('Skull in block'))
    expect(urgency('Fish, whole')).toBe(0)
    const due = given([...demo.due.values()].find(({ pieceId }) => pieceId === pieceNamed('Skull in block').id))
    const at = (chance: number) => urgency('Skull in block', new Map([[due.id, chance]]))
    expect(at(0.3)).toBeGreaterThan(at(0.9))
    expect(at(0.3)).toBeGreaterThan(at(0.001))
  })

  it('lets a piece without a date press a little when the season wants it now, and less than any near date', () => {
    const fish = pieceNamed('Fish, whole').id
    const { pieces } = buildProblem(demo, date, { pulls: new Map([[fish, 1]]) }).problem
    const urgency = (id: string) => pieces.find((piece) => piece.id === id)?.urgencyPercent ?? -1
    expect(urgency(fish)).toBeGreaterThan(0)
    expect(urgency(fish)).toBeLessThan(urgency(pieceNamed('Back with ribs').id))
  })

  it('closes places that are out of use, and tells neighbours', () => {
    const { places } = build().problem
    expect(places.find(({ id }) => id === 'm2')?.closed).toEqual(['morning', 'afternoon', 'evening'])
    const near = (a: string, b: string) =>
      places.some(({ id, neighbours }) => (id === a && neighbours.includes(b)) || (id === b && neighbours.includes(a)))
    expect(near('m3', 'm4')).toBe(true)
    expect(near('m1', 'm4')).toBe(false)
  })
})

describe('special places', () => {
  const sitsAt = (technique: string, placeId: string, built = build()) => {
    const step = given(
      built.problem.pieces.flatMap(({ steps }) => steps).find((one) => one.technique === technique && !isTied(one.id)),
    )
    const place = given(built.problem.places.find(({ id }) => id === placeId))
    return step.features.every((feature) => place.features.includes(feature))
  }
  const isTied = (stepId: string) => demo.specimen.get(demo.step.get(stepId)?.pieceId ?? '')?.isTied === true

  it('are kept for what they are for: hood for solvents, air stations for dust', () => {
    expect(sitsAt('documentation', 'f1')).toBe(false)
    expect(sitsAt('documentation', 'a1')).toBe(false)
    expect(sitsAt('documentation', 'h1')).toBe(true)
    expect(sitsAt('consolidating', 'f1')).toBe(true)
    expect(sitsAt('fine-scribe', 'a1')).toBe(true)
    expect(sitsAt('abrasion', 'a4')).toBe(true)
  })

  it('take any work when somebody is held there, or when there is nothing else', () => {
    const hold = given(demo.hold.get(`${date}.morning.amara`))
    const step = given([...demo.step.values()].find((one) => one.techniqueId === 'quill' && one.state !== 'done'))
    const held = put('hold', {
      ...hold,
      pieceId: step.pieceId,
      stepId: step.id,
      placeId: given(demo.place.get('a1')).id,
    })
    expect(sitsAt('documentation', 'a1', build(held))).toBe(build(held).findings.length === 0)
    const special = ['a1', 'a2', 'a3', 'a4', 'f1', 't1']
    const others = [...demo.place.keys()].filter((id) => !special.includes(id)).map((id) => remove('place', id))
    expect(sitsAt('documentation', 'a1', build(...others))).toBe(true)
  })
})

describe('processes that end', () => {
  const step = given(
    [...demo.step.values()].find((one) => one.techniqueId === 'acid' && one.state !== 'done' && steps(one.id)),
  )
  function steps(id: string) {
    return buildProblem(demo, date).problem.pieces.some((piece) => piece.steps.some((one) => one.id === id))
  }
  const ofStep = { pieceId: step.pieceId, stepId: step.id }
  const ending = (at: string, time: string, of: Pick<RecordOf<'clock'>, 'pieceId' | 'stepId'> = ofStep) =>
    put('clock', {
      ...{ id: 'bath', ...of, techniqueId: step.techniqueId, what: 'acid bath' },
      ...{ about: '', begun: { date: '2026-03-11', time: '10:00' }, ends: { date: at, time }, despite: '', next: [] },
      ...{ by: PersonId.parse('thea'), at: '2026-03-11T10:00:00.000Z' },
    })

  it('are clocks of their shift on their day, until they are past', () => {
    const clock = { id: 'bath', shift: 'morning', minute: 660, piece: step.pieceId, step: step.id }
    expect(build(ending(date, '11:00')).problem.clocks).toEqual([clock])
    expect(build(ending('2026-03-13', '11:00')).problem.clocks).toEqual([])
    expect(build(ending(date, '05:00')).problem.clocks).toEqual([])
    const later = buildProblem(withChanges(demo, [ending(date, '11:00')]), date, { now: { date, minute: 700 } })
    expect(later.problem.clocks).toEqual([])
  })

  it('keep other work off the piece while they run, their own step and what was decided by hand excepted', () => {
    const off = (clock: Change | null, pieceId: string = step.pieceId) =>
      build(...(clock ? [clock] : []))
        .problem.forbids.filter(({ piece }) => piece === pieceId)
        .map(({ shift, step: of }) => [shift, of])
    /** Something that runs of itself, apart from any step. */
    const alone = (at: string, time: string) => ending(at, time, { pieceId: step.pieceId, stepId: null })
    const shifts = build().problem.shifts.map(({ id }) => id)
    expect(off(null)).toEqual([])
    // Over by ten in the morning; over at noon; not before tomorrow; over since yesterday.
    expect(off(alone(date, '10:00'))).toEqual([])
    expect(off(alone(date, '12:00'))).toEqual([['morning', step.id]])
    expect(off(alone('2026-03-13', '11:00'))).toEqual(shifts.map((shift) => [shift, step.id]))
    expect(off(alone('2026-03-11', '23:00'))).toEqual([])
    expect(off(ending('2026-03-13', '11:00'))).toEqual([])
    const hold = given([...demo.hold.values()][0])
    const held = off(ending('2026-03-13', '11:00', { pieceId: hold.pieceId, stepId: null }), hold.pieceId)
    expect(new Set(held.map(([shift]) => shift))).toEqual(new Set(shifts.filter((shift) => shift !== hold.shiftId)))
  })

  it('have somebody there who may do it, or are told', () => {
    const records = withChanges(demo, [ending(date, '11:00')])
    const { assignments, findings } = propose(records, date, { seq: 1, steps: 20_000 })
    const there = assignments.some((turn) => turn.stepId === step.id && turn.shiftId === 'morning')
    expect(findings.some(({ code }) => code === 'clock-alone')).toBe(!there)
    const nobody = withChanges(
      records,
      [...demo.person.values()].map((person) =>
        put('person', {
          ...person,
          skills: person.skills.filter(({ techniqueId }) => techniqueId !== step.techniqueId),
        }),
      ),
    )
    const alone = propose(nobody, date, { seq: 1, steps: 20_000 }).findings
    expect(alone.find(({ code }) => code === 'clock-alone')?.ids).toMatchObject({ step: step.id, at: '11:00' })
  })
})

describe('holds and claims', () => {
  it('carries them into the problem', () => {
    const { problem } = build()
    expect(problem.holds.map(({ person, place }) => [person, place])).toEqual([['amara', 'm1']])
    expect(problem.claims.map(({ person, place }) => [person, place])).toEqual([['dov', 'h1']])
  })

  it('tells a hold that cannot be, with the rule, and draws up without it', () => {
    const hold = given(demo.hold.get(`${date}.morning.amara`))
    const atClosed = build(put('hold', { ...hold, placeId: given(demo.place.get('m2')).id }))
    expect(atClosed.problem.holds).toEqual([])
    expect(atClosed.findings.map(({ code, ids }) => [code, ids.hold])).toContainEqual(['place-closed', hold.id])
    const away = build(attendance('amara', 'away'))
    expect(away.problem.holds).toEqual([])
    expect(away.findings.map(({ code }) => code)).toContain('is-away')
  })

  it('expects whoever is held on a half-day outside their pattern', () => {
    const hold = given(demo.hold.get(`${date}.morning.amara`))
    const afternoon = given(demo.lab.get('lab')?.shifts.find(({ id }) => id === 'afternoon')).id
    const built = build(put('hold', { ...hold, id: `${date}.afternoon.amara`, shiftId: afternoon }))
    expect(personOf('amara', built)?.presence.map(({ shift }) => shift)).toEqual(['morning', 'afternoon'])
    expect(built.problem.holds).toHaveLength(2)
  })

  it('passes forbids on, and pairs apart', () => {
    const blank = { date: null, pieceId: null, placeId: null, withPersonId: null }
    const zosia = given(demo.person.get('zosia')).id
    const clio = given(demo.person.get('clio')).id
    const j1 = given(demo.place.get('j1')).id
    const { problem, apart } = build(
      // What dries in the demo lab keeps its piece from other work, which is no wish.
      remove('clock', 'demo-drying'),
      put('forbid', { ...blank, id: 'f1', personId: zosia, placeId: j1 }),
      put('forbid', { ...blank, id: 'f2', personId: clio, withPersonId: zosia }),
      put('forbid', { ...blank, id: 'f3', date: '2026-03-13', personId: clio, placeId: j1 }),
    )
    expect(problem.forbids).toEqual([{ person: 'zosia', shift: null, piece: null, step: null, place: 'j1' }])
    expect(apart).toEqual([{ personId: 'clio', withPersonId: 'zosia', pieceId: null, placeId: null }])
  })
})

describe('a day in progress', () => {
  it('keeps begun work, even of somebody who has left', () => {
    const claim = `${date}.morning.dov`
    const records = withChanges(demo, [workOn(claim), attendance('dov', 'left')])
    const built = buildProblem(records, date, { now: { date, minute: minuteOf('11:00') } })
    expect(built.kept.map(({ personId }) => personId)).toEqual(['dov'])
    expect(built.problem.begun.map(({ person }) => person)).toEqual(['dov'])
    expect(built.problem.claims).toEqual([])
    expect(personOf('dov', built)?.presence).toEqual([{ shift: 'morning', from: 570, to: 750 }])
    expect(personOf('amara', built)?.presence).toEqual([{ shift: 'morning', from: 660, to: 750 }])
  })

  it('offers nothing in a shift that is over, and keeps what was posted there', () => {
    const built = buildProblem(demo, date, { now: { date, minute: minuteOf('13:00') } })
    expect(built.kept.map(({ personId }) => personId)).toEqual(['dov'])
    expect(built.problem.holds).toEqual([])
    expect(personOf('amara', built)).toBeUndefined()
    expect(personOf('zosia', built)?.presence.map(({ shift }) => shift)).toEqual(['afternoon'])
  })

  it('counts a tool with the loudest of its places, so that no line-up is louder than the rules allow', () => {
    const loud = withChanges(
      demo,
      [...demo.place.values()].map((place, n) => put('place', { ...place, backgroundDba: 60 + ((7 * n) % 30) })),
    )
    const lab = given(loud.lab.get('lab'))
    const { problem } = buildProblem(loud, date)
    let checked = 0
    for (const { steps, tiedTo } of problem.pieces) {
      for (const { technique: id, noisePerHour } of steps) {
        const { noiseDba, needs } = given(lab.techniques.find((one) => one.id === id))
        if (noiseDba === null) continue
        for (const place of loud.place.values()) {
          // What is tied is worked on where it lies.
          const isThere = tiedTo === null || tiedTo === place.id
          if (!isThere || !needs.every((need) => place.features.includes(need))) continue
          const level = noiseTogether([noiseDba, place.backgroundDba ?? 0]) ?? 0
          expect(noisePerHour).toBeGreaterThanOrEqual((100 * 10 ** ((level - lab.limits.noiseDba) / 10)) / 8)
          checked++
        }
      }
    }
    expect(checked).toBeGreaterThan(10)
  })

  it('takes what a person has had today off their limits', () => {
    const turn = given([...demo.assignment.values()].find(({ personId }) => personId === 'emeka'))
    const scribe = workOn(turn.id, {
      techniqueId: given(demo.lab.get('lab')?.techniques.find(({ id }) => id === 'heavy-scribe')).id,
      state: 'finished',
      since: null,
      minutes: 100,
      runningMinutes: 60,
    })
    expect(personOf('emeka')?.vibrationPointsLeft).toBe(100)
    // 2·a²·T: 6.1 m/s² for one hour are 74.42 points.
    expect(personOf('emeka', build(scribe))?.vibrationPointsLeft).toBe(25)
    expect(personOf('emeka', build(scribe))?.noisePointsLeft).toBeLessThan(personOf('emeka')?.noisePointsLeft ?? 0)
  })
})
