// Proposals on the demo lab, day after day, in the morning and in the middle of a shift: whatever happened before, the
// rules that the gate asks find nothing against them.
import { describe, expect, it } from 'vitest'
import { addDays, minuteOf, seededRandom } from '#lib/base'
import { type Proposal, propose } from '#lib/lineup'
import { assignmentsOn, isFinished, isHeldOn, judgeDay, judgeHandsOfDay, turnId } from '#lib/rules'
import { type Change, noRecords, put, type RecordOf, type Records, withChanges } from '#lib/words'
import { demoRecords } from '../../../demo/index.ts'

const start = '2026-03-12'
const labs = [20, 1, 2, 3].map((seed) => withChanges(noRecords(), demoRecords({ seed, today: start })))
const STEPS = 6000

function draw(records: Records, date: string, options: Partial<Parameters<typeof propose>[2]> = {}): Proposal {
  return propose(records, date, { seq: 7, steps: STEPS, ...options })
}

/** What the gate would say to the proposal as a post. */
function against(records: Records, proposal: Proposal) {
  const { date, assignments } = proposal
  return [...judgeDay(records, date, assignments), ...judgeHandsOfDay(records, date, assignments)].filter(
    (one) => !isFinished(records, one.ids.assignment),
  )
}

/** Turns the solver found that the rules did not let through: the problem was built too generously. */
const dropped = (proposal: Proposal) =>
  proposal.findings.filter(({ ids }) => ids.hold === undefined && ids.claim === undefined)

/** The proposal posted: what the op `post` makes of it. */
function posted(records: Records, { date, assignments }: Proposal): Records {
  const at = `${date}T08:50:00Z`
  const by = [...records.person.values()].find(({ role }) => role === 'manager')?.id ?? assignments[0]?.personId
  if (!by) throw new Error('nobody posts')
  const changes: Change[] = assignments.map(({ shiftId, personId, pieceId, stepId, placeId, how }) =>
    put('assignment', {
      id: turnId(date, shiftId, personId),
      ...{ date, shiftId, personId, pieceId, stepId, placeId, how, by, at },
    }),
  )
  return withChanges(records, [...changes, put('day', { id: date, postedAt: at, postedBy: by, times: 1, note: '' })])
}

/** Things that happen to a lab before or during a day. */
function happenings(records: Records, date: string, seed: number): Change[] {
  const chance = seededRandom(seed)
  const changes: Change[] = []
  const people = [...records.person.values()].filter(({ role }) => role !== 'researcher')
  const places = [...records.place.values()]
  const shifts = records.lab.get('lab')?.shifts ?? []
  const at = `${date}T08:00:00Z`
  for (const person of people) {
    for (const shift of shifts) {
      if (chance.below(10) > 1) continue
      const state = chance.below(2) === 0 ? 'late' : 'away'
      const id = turnId(date, shift.id, person.id)
      const dueAt = state === 'late' ? '10:30' : null
      changes.push(put('attendance', { id, personId: person.id, date, shiftId: shift.id, state, dueAt, at }))
    }
    if (chance.below(8) > 0) continue
    const other = people[chance.below(people.length)]
    if (!other || other.id === person.id) continue
    changes.push(
      put('forbid', {
        id: `forbid-${person.id}`,
        date: chance.below(2) === 0 ? date : null,
        personId: person.id,
        pieceId: null,
        placeId: null,
        withPersonId: other.id,
      }),
    )
  }
  const place = places[chance.below(places.length)]
  if (place) changes.push(put('place', { ...place, closedUntil: addDays(date, 2), closedReason: 'out of order' }))
  return changes
}

/** Some of the day's turns begun, some finished, as of the middle of the morning. */
function begun(records: Records, date: string, seed: number): Change[] {
  const chance = seededRandom(seed)
  return assignmentsOn(records, date).flatMap((turn) => {
    const step = records.step.get(turn.stepId)
    if (turn.shiftId !== 'morning' || !step || chance.below(3) === 0) return []
    const isDone = chance.below(3) === 0
    const { personId, pieceId, stepId, placeId, shiftId } = turn
    const work: RecordOf<'work'> = {
      id: `work-${turn.id}`,
      ...{ personId, pieceId, stepId, placeId, shiftId, date },
      techniqueId: step.techniqueId,
      state: isDone ? 'finished' : 'running',
      startedAt: `${date}T09:35:00Z`,
      since: isDone ? null : `${date}T09:35:00Z`,
      minutes: isDone ? 70 : 0,
      runningMinutes: isDone ? 30 : 0,
    }
    const finished = put('step', { ...step, state: 'done' })
    return [put('work', work), ...(isDone ? [finished] : [])]
  })
}

describe('proposal', { timeout: 60_000 }, () => {
  it.each([0, 1, 2, 3])(
    'breaks no rule on fifteen days of a demo lab, whatever happens, lab %i',
    (n) => {
      const lab = labs[n]
      if (!lab) throw new Error('no lab')
      for (let day = 0; day < 15; day++) {
        const date = addDays(start, day)
        const morning = withChanges(lab, day === 0 ? [] : happenings(lab, date, 100 * n + day))
        const first = draw(morning, date, { isExplained: false })
        expect(against(morning, first), date).toEqual([])
        const isOpen = morning.lab.get('lab')?.shifts.some((shift) => isHeldOn(morning, shift, date)) ?? false
        expect(first.assignments.length > 0, date).toBe(isOpen)
        if (!isOpen) continue
        expect(dropped(first), date).toEqual([])
        expect(first.bound, date).toBeGreaterThanOrEqual(first.score)
        expect(first.isProven, date).toBe(first.gapPct === 0 && first.findings.length === 0)
        // Mid-morning: some have begun, somebody leaves, and the day is drawn again.
        const after = posted(morning, first)
        const late = withChanges(after, begun(after, date, day))
        const gone = assignmentsOn(late, date).find(({ shiftId }) => shiftId === 'afternoon')
        const id = gone ? turnId(date, gone.shiftId, gone.personId) : ''
        const noShow = gone
          ? withChanges(late, [
              put('attendance', {
                id,
                personId: gone.personId,
                date,
                shiftId: gone.shiftId,
                state: 'away',
                dueAt: null,
                at: `${date}T10:40:00Z`,
              }),
            ])
          : late
        const again = draw(noShow, date, {
          isRedraw: true,
          isExplained: false,
          now: { date, minute: minuteOf('10:45') },
        })
        // A learner may be left at work without a mentor, when there is none; nothing else, and it is told.
        const broken = against(noShow, again)
        expect(
          broken.filter(({ code }) => !code.startsWith('mentor-')),
          `${date} again`,
        ).toEqual([])
        expect(dropped(again), `${date} again`).toEqual(broken)
        for (const work of noShow.work.values()) {
          const kept = again.assignments.find(
            (turn) => turn.personId === work.personId && turn.shiftId === work.shiftId,
          )
          expect(kept?.stepId, work.id).toBe(work.stepId)
          expect(kept?.placeId, work.id).toBe(work.placeId)
        }
        expect(again.assignments.some((turn) => turnId(date, turn.shiftId, turn.personId) === id)).toBe(false)
      }
    },
    60_000,
  )

  const lab = labs[0] ?? noRecords()

  it('keeps the hold and the claim, and says how each turn came about', () => {
    const { assignments } = draw(lab, start)
    const of = (personId: string) =>
      assignments.find((turn) => turn.personId === personId && turn.shiftId === 'morning')
    expect(of('amara')).toMatchObject({ how: 'held', placeId: 'm1', isKept: false, level: 3 })
    expect(of('dov')).toMatchObject({ how: 'claimed', placeId: 'h1' })
  })

  it('gives the same answer for the same records and seed', () => {
    expect(draw(lab, start)).toEqual(draw(lab, start))
    expect(draw(lab, start, { seed: 5 }).seed).toBe(5)
  })

  it('has a reason for each turn, and tells changes against the posted day', () => {
    const proposal = draw(lab, start)
    expect(proposal.reasons).toHaveLength(proposal.assignments.length)
    // Only the claim stood there before.
    expect(proposal.stay).toBe(1)
    expect(proposal.changes).toHaveLength(proposal.assignments.length - 1)
    expect(proposal.changes.every(({ code, before }) => code === 'added' && before === null)).toBe(true)
  })

  it('changes only what a no-show makes necessary when it is drawn again', () => {
    const day = posted(lab, draw(lab, start, { steps: 40_000 }))
    const same = draw(day, start, { isRedraw: true, steps: 40_000 })
    expect(same.changes).toEqual([])
    expect(same.stay).toBe(assignmentsOn(day, start).length)
    const gone = assignmentsOn(day, start).find((turn) => turn.how === 'drawn' && turn.shiftId === 'morning')
    if (!gone) throw new Error('nobody drawn')
    const { personId, shiftId } = gone
    const tick = { id: gone.id, personId, date: start, shiftId, state: 'away' as const, dueAt: null, at: gone.at }
    const again = draw(withChanges(day, [put('attendance', tick)]), start, { isRedraw: true, steps: 40_000 })
    expect(again.changes.find((change) => change.personId === personId && change.shiftId === shiftId)?.code).toBe(
      'dropped',
    )
    expect(new Set(again.changes.map((change) => change.personId)).size).toBeLessThanOrEqual(3)
  })

  it('stays close to the line-up on the table when that is given', () => {
    const table = draw(lab, start, { steps: 40_000 }).assignments
    const again = draw(lab, start, { isRedraw: true, from: table, steps: 40_000 })
    const key = (turn: (typeof table)[number]) => `${turn.shiftId} ${turn.personId} ${turn.stepId} ${turn.placeId}`
    expect(again.assignments.map(key).sort()).toEqual(table.map(key).sort())
  })

  it('puts two people apart who shall not sit together', () => {
    const first = draw(lab, start)
    const pair = first.assignments.flatMap((a) =>
      first.assignments.flatMap((b) =>
        a.placeId === b.placeId && a.shiftId === b.shiftId && a.personId < b.personId && a.how === 'drawn'
          ? [[a, b]]
          : [],
      ),
    )[0]
    const [a, b] = pair ?? []
    if (!a || !b) throw new Error('nobody shares a place')
    const wish = {
      id: 'apart',
      date: null,
      personId: a.personId,
      pieceId: null,
      placeId: null,
      withPersonId: b.personId,
    }
    const { assignments } = draw(withChanges(lab, [put('forbid', wish)]), start)
    const at = (personId: string) => assignments.filter((turn) => turn.personId === personId)
    for (const one of at(a.personId)) {
      for (const other of at(b.personId)) {
        if (one.shiftId === other.shiftId) expect(one.placeId).not.toBe(other.placeId)
      }
    }
  })

  it('tells a hold that clashes with another, each possible alone', () => {
    const amara = lab.hold.get(`${start}.morning.amara`)
    const zosia = lab.person.get('zosia')
    const jaw = [...lab.specimen.values()].find(({ name }) => name === 'Lower jaw with teeth')
    const step = [...lab.step.values()].find((one) => one.pieceId === jaw?.id && one.techniqueId === 'needle')
    if (!amara || !zosia || !jaw || !step) throw new Error('not the demo lab')
    const other = { id: `${start}.morning.zosia`, personId: zosia.id, pieceId: jaw.id, stepId: step.id }
    const clashing = withChanges(lab, [put('hold', { ...amara, ...other })])
    const { findings, clashes, assignments } = draw(clashing, start)
    expect(findings).toEqual([])
    expect(clashes).toHaveLength(1)
    expect(clashes[0]?.turns.map(({ personId }) => personId).sort()).toEqual(['amara', 'zosia'])
    expect(clashes[0]?.rules).toEqual([{ rule: 'seats', ids: ['m1', 'morning'], found: 2, allowed: 1 }])
    expect(assignments.filter((turn) => turn.placeId === 'm1' && turn.shiftId === 'morning')).toHaveLength(1)
  })

  it('keeps a learner at work whose mentor leaves, with another mentor or with a word about it', () => {
    const day = posted(lab, draw(lab, start, { steps: 40_000 }))
    const learner = draw(day, start, { isRedraw: true }).assignments.find((turn) => turn.level === 1)
    const step = day.step.get(learner?.stepId ?? '')
    const mentor = day.person.get(learner?.mentorId ?? '')
    if (!learner || !step || !mentor) throw new Error('nobody learns today')
    const { personId, pieceId, stepId, placeId, shiftId } = learner
    const at = `${start}T09:40:00.000Z`
    const work: RecordOf<'work'> = {
      ...{ id: 'work-1', personId, pieceId, stepId, placeId, shiftId, date: start },
      techniqueId: step.techniqueId,
      state: 'running',
      startedAt: at,
      since: at,
      minutes: 0,
      runningMinutes: 0,
    }
    const id = turnId(start, shiftId, mentor.id)
    const gone = { id, personId: mentor.id, date: start, shiftId, state: 'left' as const, dueAt: null, at }
    const records = withChanges(day, [put('work', work), put('attendance', gone)])
    const again = draw(records, start, { isRedraw: true, steps: 20_000 })
    const kept = again.assignments.find((turn) => turn.personId === personId && turn.shiftId === shiftId)
    expect(kept).toMatchObject({ isKept: true, stepId, placeId })
    const isAlone = against(records, again).some(({ code }) => code.startsWith('mentor-'))
    expect(again.findings.some(({ code }) => code.startsWith('mentor-'))).toBe(isAlone)
    expect(kept?.mentorId === null || kept?.mentorId !== mentor.id).toBe(true)
  })

  it('draws nothing up when the lab is closed', () => {
    const closed = [...(lab.lab.get('lab')?.closed ?? [])][0] ?? ''
    expect(draw(lab, closed)).toMatchObject({ assignments: [], changes: [], leftOut: [], findings: [] })
  })
})
