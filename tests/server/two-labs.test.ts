// Two labs in one server share a process and a store, and nothing else.
import { expect, it } from 'vitest'
import { PersonId, put } from '#lib/words'
import { openLabs } from '../../server/labs.ts'
import { memoryStore } from '../../server/store/memory.ts'
import { FakeClient } from '../kit/fake-client.ts'
import { fakeClock } from '../kit/fake-clock.ts'
import { aJacketRecord, fakeChance, fakeOps, seedChanges } from '../kit/fake-lab.ts'

it('one lab in a server reaches no record, edit or answer of another, though people and pieces have the same ids', async () => {
  const [clock, store] = [fakeClock(), memoryStore()]
  const entry = { kind: 'found', op: {}, personId: null, at: '2026-01-01T00:00:00.000Z', subjects: [] }
  for (const name of ['here', 'there']) {
    const jacket = put('jacket', aJacketRecord('j1', { shelf: `shelf-${name}` }))
    await store.append(name, 0, [{ ...entry, opId: 'found', changes: [...seedChanges(), jacket] }])
  }
  const labs = openLabs({ clock, store, chance: fakeChance(1), log: () => {}, ops: fakeOps })
  const join = async (name: string) => {
    const client = new FakeClient({ id: 'session', personId: PersonId.parse('mara') }, 'board', clock)
    client.connect(await labs.lab(name))
    return client
  }
  const [here, there] = [await join('here'), await join('there')]
  await clock.pass(50)
  const mark = (shelf: string) => ({ id: '01h00000000000000000000000', kind: 'mark', pieceId: 'j1', shelf })
  const op = mark('moved-here')
  here.act(op)
  await clock.pass(50)
  expect(here.kept.get(op.id)).toBe(2)
  const sent = Buffer.concat(there.bytes)
  expect([sent.includes('shelf-there'), sent.includes('shelf-here'), sent.includes('moved-here')]).toEqual([
    true,
    false,
    false,
  ])
  expect(await store.head('there')).toBe(1)
  // The same id in the other lab is another act, not one that was answered.
  there.act(mark('moved-there'))
  await clock.pass(50)
  expect(there.kept.get(op.id)).toBe(2)
  expect([here, there].map((client) => client.records().jacket.get('j1')?.shelf)).toEqual(['moved-here', 'moved-there'])
  expect((await store.findOps('here', ['found'])).length + (await store.findOps('nowhere', [op.id])).length).toBe(1)
  expect((await store.history('there', 'j1', null, 9)).map(({ op }) => op)).not.toContainEqual(op)
  await labs.close()
})
