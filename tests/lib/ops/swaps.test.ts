// Turns from hand to hand on random days: whatever a swap did, every rule holds, and both have what they were to have.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { applyOp, judgeOp, type Op, parseOp } from '#lib/ops'
import { assignmentsOn, judgeDay } from '#lib/rules'
import { PersonId, put, type Records, withChanges } from '#lib/words'
import { aTurn, NOW, TODAY, TOMORROW } from '../../kit/makers.ts'
import { brokenRules } from './plain-rules.ts'
import { tightLab } from './random-lab.ts'

const when = { at: NOW, date: TODAY, minute: 540 }
const whoOf = (records: Records, personId: string) => ({
  personId: PersonId.parse(personId),
  role: records.person.get(personId)?.role ?? ('volunteer' as const),
})
const opOf = (body: object): Op => {
  const parsed = parseOp({ id: 'op1', ...body })
  if (!parsed.op) throw new Error('not an op')
  return parsed.op
}

/** Lawful turns of two days, as many as the picks find. */
function dayOf(picks: readonly number[]): Records {
  let records = tightLab()
  const [people, places, steps] = [
    [...records.person.keys()],
    [...records.place.keys()],
    [...records.step.values()],
  ] as const
  for (const pick of picks) {
    const step = steps[(pick >> 4) % steps.length]
    const turn = aTurn({
      ...{ date: pick % 2 === 0 ? TODAY : TOMORROW, shiftId: pick % 4 < 2 ? 'morning' : 'afternoon' },
      ...{ personId: people[(pick >> 8) % people.length] ?? '', placeId: places[(pick >> 12) % places.length] ?? '' },
      ...{ stepId: step?.id ?? '', pieceId: step?.pieceId ?? '' },
    })
    const after = withChanges(records, [put('assignment', turn)])
    if (judgeDay(after, turn.date, assignmentsOn(after, turn.date)).length === 0) records = after
  }
  return records
}

test('R1 R2 R3 R4 R5 a swap never breaks a rule, and each gets the other’s turn', () => {
  let taken = 0
  let refused = 0
  const property = fc.property(fc.array(fc.nat(2 ** 20), { minLength: 30, maxLength: 60 }), (picks) => {
    const records = dayOf(picks)
    if (brokenRules(records, TODAY).length > 0) return
    const turns = [...records.assignment.values()]
    for (const offered of turns) {
      const offer = opOf({ kind: 'offerSwap', assignmentId: offered.id, note: '' })
      const owner = whoOf(records, offered.personId)
      const open = withChanges(records, applyOp(records, offer, owner, when))
      for (const personId of records.person.keys()) {
        const who = whoOf(records, personId)
        for (const given of [null, ...turns.filter((one) => one.personId === personId)]) {
          const take = opOf({ kind: 'takeSwap', swapId: offered.id, gives: given?.id ?? null })
          if (judgeOp(open, take, who, when).length > 0) {
            refused += 1
            continue
          }
          taken += 1
          const after = withChanges(open, applyOp(open, take, who, when))
          expect(brokenRules(after, TODAY)).toEqual([])
          for (const date of [TODAY, TOMORROW]) expect(judgeDay(after, date, assignmentsOn(after, date))).toEqual([])
          expect(after.assignment.size).toBe(open.assignment.size)
          const has = (whose: string, one: typeof offered) =>
            expect(after.assignment.get(`${one.date}.${one.shiftId}.${whose}`)).toMatchObject({
              ...{ pieceId: one.pieceId, stepId: one.stepId, placeId: one.placeId },
            })
          has(personId, offered)
          if (given) has(offered.personId, given)
        }
      }
    }
  })
  fc.assert(property, { numRuns: 60, seed: 20260311 })
  expect(Math.min(taken, refused)).toBeGreaterThan(60)
})
