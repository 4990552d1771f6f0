// A solver's thread is handed only some kinds of record: none that a line-up is made from may be missing among them.
import { expect, it } from 'vitest'
import { propose } from '#lib/lineup'
import { judgeDay } from '#lib/rules'
import { noRecords, withChanges } from '#lib/words'
import { demoRecords } from '../../../demo/index.ts'
import { kindsOfADay } from '../../../server/solver/messages.ts'

it('a line-up, its reasons and its judgement read no kind of record that the thread is not handed', () => {
  const date = '2026-03-12'
  const read = new Set<string>()
  const records = new Proxy(withChanges(noRecords(), demoRecords({ seed: 20, today: date })), {
    get(all, kind) {
      read.add(String(kind))
      return Reflect.get(all, kind)
    },
  })
  const { assignments } = propose(records, date, { seq: 1, steps: 5_000 })
  judgeDay(records, date, assignments)
  expect([...read].filter((kind) => !(kindsOfADay as readonly string[]).includes(kind))).toEqual([])
  expect(read.has('clock')).toBe(true)
})
