// The demo lab is a lab like any other: its records are whole, agree with its own year of logs, and are the same for
// the same seed, whatever the day it is opened.
import { describe, expect, it } from 'vitest'
import { addDays } from '#lib/base'
import { assignmentsOn, judgeDay } from '#lib/rules'
import { type Kind, kinds, noRecords, type RecordOf, type Records, withChanges } from '#lib/words'
import { demoRecords } from '../../demo/index.ts'

const today = '2026-03-12'
const demo = (seed: number, day = today, scale = 1): Records =>
  withChanges(noRecords(), demoRecords({ seed, today: day, scale }))
const records = demo(1)

function all<K extends Kind>(kind: K, of: Records = records): readonly RecordOf<K>[] {
  return [...of[kind].values()]
}

const countBy = (list: readonly string[]): Record<string, number> => {
  const count: Record<string, number> = {}
  for (const entry of list) count[entry] = (count[entry] ?? 0) + 1
  return count
}

const standingLogs = (of: Records) => {
  const corrected = new Set(all('log', of).map(({ corrects }) => corrects))
  return all('log', of).filter(({ id }) => !corrected.has(id))
}

describe('demo lab', { timeout: 60_000 }, () => {
  it('has the size that a visitor is promised', () => {
    const resting = all('resting')
    expect(all('place')).toHaveLength(14)
    expect(countBy(all('person').map(({ role }) => role))).toEqual({
      manager: 1,
      preparator: 4,
      volunteer: 18,
      researcher: 3,
    })
    expect(all('jacket').length + resting.filter(({ jacket }) => jacket).length).toBe(150)
    expect(all('specimen').length + resting.filter(({ specimen }) => specimen).length).toBe(40)
    expect(all('due').filter(({ state }) => state === 'accepted')).toHaveLength(6)
    expect(all('log').length).toBeGreaterThan(1000)
    const stages = [...all('specimen'), ...resting.flatMap(({ specimen }) => specimen ?? [])].map(({ stage }) => stage)
    expect(Object.keys(countBy(stages))).toHaveLength(7)
  })

  it('is the same for the same seed and another for another', () => {
    expect(demoRecords({ seed: 1, today })).toEqual(demoRecords({ seed: 1, today }))
    expect(demoRecords({ seed: 2, today })).not.toEqual(demoRecords({ seed: 1, today }))
  })

  it('passes each record by its schema and gives no id or name twice', () => {
    const changes = demoRecords({ seed: 3, today })
    expect(new Set(changes.map(({ kind, id }) => `${kind} ${id}`)).size).toBe(changes.length)
    for (const { kind, record } of changes) expect(kinds[kind].safeParse(record).success).toBe(true)
    const names = [...all('person').map(({ name }) => name), ...all('place').map(({ code }) => code)]
    const numbers = [...all('jacket').map(({ fieldNumber }) => fieldNumber), ...all('specimen').map((s) => s.number)]
    for (const list of [names, numbers]) expect(new Set(list).size).toBe(list.length)
  })

  it.each([1, 2, 3])('agrees with its own logs in steps, tallies and hands, seed %i', (seed) => {
    const lab = demo(seed, addDays(today, seed * 11))
    const logs = standingLogs(lab)
    const steps = [...all('step', lab), ...all('resting', lab).flatMap((resting) => resting.steps)]
    const sum = (list: readonly { minutes: number }[]) => list.reduce((total, { minutes }) => total + minutes, 0)
    for (const step of steps) {
      const own = logs.filter(({ stepId }) => stepId === step.id)
      expect(step.doneMinutes, step.id).toBe(sum(own))
      expect(sum(step.by), step.id).toBe(step.doneMinutes)
      if (step.state === 'begun' || step.state === 'done') expect(step.doneMinutes, step.id).toBeGreaterThan(0)
      if (step.state === 'waiting') expect(step.doneMinutes, step.id).toBe(0)
    }
    for (const tally of all('tally', lab)) {
      const own = logs.filter((log) => log.personId === tally.personId && Number(log.date.slice(0, 4)) === tally.year)
      expect([tally.minutes, tally.stretches]).toEqual([sum(own), own.length])
    }
    expect(sum(all('tally', lab))).toBe(sum(logs))
  })

  it('names nothing that is not there', () => {
    const people = new Set(all('person').map(({ id }) => id))
    const places = new Set(all('place').map(({ id }) => id))
    const onBoard = new Set([...all('jacket').map(({ id }) => id), ...all('specimen').map(({ id }) => id)])
    const anywhere = new Set([...onBoard, ...all('resting').map(({ id }) => id)])
    const stepIds = new Set(all('step').map(({ id }) => id))
    for (const { pieceId, stepId, personId, placeId } of [...all('assignment'), ...all('hold')]) {
      expect(onBoard).toContain(pieceId)
      expect(stepIds).toContain(stepId)
      expect(people).toContain(personId)
      expect(places).toContain(placeId)
    }
    for (const { pieceId } of [...all('due'), ...all('question'), ...all('watch'), ...all('step')]) {
      expect(onBoard).toContain(pieceId)
    }
    for (const { pieceId } of [...all('log'), ...all('entry')]) expect(anywhere).toContain(pieceId)
    for (const step of all('step')) for (const before of step.after) expect(stepIds).toContain(before)
  })

  it('keeps the order of steps: nothing is begun before what it waits for is done', () => {
    const steps = new Map(all('step').map((step) => [step.id, step]))
    for (const step of steps.values()) {
      if (step.doneMinutes === 0) continue
      for (const before of step.after) expect(steps.get(before)?.state, `${step.id} after ${before}`).toBe('done')
    }
  })

  it('opens on a full morning, on whatever weekday', () => {
    for (let day = 0; day < 7; day++) {
      const date = addDays(today, day)
      const lab = demo(1, date)
      const states = countBy(all('attendance', lab).map(({ state }) => state))
      expect(states).toEqual({ in: 10, late: 1, away: 1 })
      expect(lab.day.has(addDays(date, -1))).toBe(true)
      expect(lab.day.has(date)).toBe(false)
      expect(all('assignment', lab).filter((assignment) => assignment.date === date)).toHaveLength(1)
      expect(all('hold', lab)).toHaveLength(1)
    }
  })

  it.each([1, 2, 3, 4])('breaks no rule on yesterday and today, seed %i', (seed) => {
    for (let day = 0; day < 7; day++) {
      const date = addDays(today, day)
      const lab = demo(seed, date)
      // What was finished since is no longer open today; that is a fact of the past, not a broken rule.
      const past = judgeDay(lab, addDays(date, -1), assignmentsOn(lab, addDays(date, -1)))
      expect(past.filter(({ code }) => code !== 'step-done')).toEqual([])
      expect(judgeDay(lab, date, [...assignmentsOn(lab, date), ...lab.hold.values()])).toEqual([])
    }
  })

  it('grows with its scale', () => {
    const big = demo(1, today, 10)
    expect(all('jacket', big).length + all('resting', big).filter(({ jacket }) => jacket).length).toBe(1500)
    expect(all('place', big)).toHaveLength(56)
    expect(all('person', big)).toHaveLength(82)
    expect(new Set(all('person', big).map(({ name }) => name)).size).toBe(82)
  })
})
