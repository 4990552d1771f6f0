// Looking ahead on a demo lab: what is said before letting go is what the gate then takes, and what it would refuse is
// said with a reason.
import { describe, expect, it } from 'vitest'
import { consider, propose } from '#lib/lineup'
import { judgeOp } from '#lib/ops'
import { noRecords, PersonId, withChanges } from '#lib/words'
import { hasSentence } from '../../../app/_text/index.ts'
import { demoRecords } from '../../../demo/index.ts'
import { anOp } from '../../kit/makers-ops.ts'

const date = '2026-03-12'
const demo = withChanges(noRecords(), demoRecords({ seed: 20, today: date }))
const now = { date, minute: 8 * 60 }
const table = propose(demo, date, { seq: 1, now, steps: 40_000, isExplained: false }).assignments
const manager = { personId: PersonId.parse('thea'), role: 'manager' as const }
const when = { at: `${date}T08:00:00.000Z`, ...now }

const ask = (turn: (typeof table)[number], placeId: string) => {
  const place = demo.place.get(placeId)
  if (!place) throw new Error(`no place ${placeId}`)
  const { shiftId, personId, pieceId, stepId } = turn
  const wanted = { shiftId, personId, pieceId, stepId, placeId: place.id }
  return { wanted, answer: consider(demo, date, { now, from: table, turns: [wanted], steps: 6000 }) }
}

describe('what if, on the records', () => {
  it('promises what the gate takes, and tells why not otherwise', { timeout: 120_000 }, () => {
    const places = [...demo.place.values()].filter(({ seats }) => seats > 0)
    const cases = table.flatMap((turn) =>
      places.filter((place) => place.id !== turn.placeId).map((place) => ({ turn, place })),
    )
    let possible = 0
    for (const { turn, place } of cases) {
      if (possible === 10) break
      const { wanted, answer } = ask(turn, place.id)
      if (!answer.isPossible) {
        expect(answer.findings.length).toBeGreaterThan(0)
        for (const { code } of answer.findings) expect(hasSentence(code), code).toBe(true)
        continue
      }
      possible++
      expect(answer.assignments).toContainEqual(wanted)
      const post = anOp({ kind: 'post', date, assignments: [...answer.assignments], note: '' })
      expect(judgeOp(demo, post, manager, when)).toEqual([])
      expect(answer.changes.map(({ personId }) => personId)).toContain(wanted.personId)
    }
    expect(possible).toBe(10)
  })

  it('changes nobody else when the seat is free', { timeout: 60_000 }, () => {
    const taken = new Set(table.map((turn) => `${turn.placeId} ${turn.shiftId}`))
    const free = table.slice(0, 8).flatMap((turn) =>
      [...demo.place.values()]
        .filter((place) => place.seats > 0 && !taken.has(`${place.id} ${turn.shiftId}`))
        .map((place) => ask(turn, place.id))
        .filter(({ answer }) => answer.isPossible && answer.changes.length === 1)
        .slice(0, 1),
    )
    expect(free.length).toBeGreaterThan(0)
    for (const { wanted, answer } of free) expect(answer.changes[0]?.after).toEqual(wanted)
  })
})
