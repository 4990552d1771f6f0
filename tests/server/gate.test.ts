// The gate as its people meet it: over the wire, through the room, down to the store and back.
import { describe, expect, it } from 'vitest'
import { StoreTrouble } from '../../server/store/contract.ts'
import { memoryStore } from '../../server/store/memory.ts'
import { openFake, seed } from '../kit/fake-lab.ts'

describe('the gate', () => {
  it('keeps an op, tells its author after the screens, and shows it to everybody', async () => {
    const { clock, client, op, store } = await openFake()
    const [vera, mara] = [client('vera'), client('mara')]
    await clock.pass(1)
    const mark = op('mark', { pieceId: 'j1', shelf: 'rack 1' })
    vera.act(mark)
    await clock.pass(20)
    expect(mara.records().jacket.get('j1')?.shelf).toBe('rack 1')
    expect(vera.records().jacket.get('j1')?.shelf).toBe('rack 1')
    expect(vera.outbox).toEqual([])
    expect(await store.findOps('fake', [mark.id])).toMatchObject([{ opId: mark.id, seq: vera.kept.get(mark.id) }])
    const types = vera.bytes.map(([type]) => type)
    expect(types.lastIndexOf(0)).toBeLessThan(types.lastIndexOf(64))
  })

  it('R7 gives one jacket to one of two who take it in the same instant, and tells the other who has it', async () => {
    const { clock, client, op } = await openFake()
    const [vera, viktor, mara] = [client('vera'), client('viktor'), client('mara')]
    await clock.pass(1)
    const [hers, his] = [op('take', { pieceId: 'j1' }), op('take', { pieceId: 'j1' })]
    vera.act(hers)
    viktor.act(his)
    await clock.pass(50)
    expect(vera.kept.has(hers.id)).toBe(true)
    expect(viktor.refused.get(his.id)).toMatchObject([{ rule: 'R7', code: 'has-it', ids: { person: 'vera' } }])
    for (const one of [vera, viktor, mara])
      expect([...one.records().assignment.values()].map(({ personId }) => personId)).toEqual(['vera'])
  })

  it('does an op once that came twice, and answers each time with the same receipt', async () => {
    const { clock, client, op, store } = await openFake()
    const vera = client('vera')
    await clock.pass(1)
    const take = op('take', { pieceId: 'j1' })
    vera.say({ type: 'ops', ops: [take, take] })
    await clock.pass(50)
    vera.say({ type: 'ops', ops: [take] })
    await clock.pass(50)
    const receipts = vera.heard.flatMap((message) => (message.type === 'kept' ? message.items : []))
    expect(receipts).toHaveLength(3)
    expect(new Set(receipts.map(({ seq }) => seq)).size).toBe(1)
    expect(vera.refused.size).toBe(0)
    const entries = await store.read('fake', 0, 100)
    expect(entries.filter(({ kind }) => kind === 'take')).toHaveLength(1)
  })

  it('remembers a refusal, so that the same op coming again is not done after all', async () => {
    const { clock, client, op } = await openFake()
    const [vera, viktor] = [client('vera'), client('viktor')]
    await clock.pass(1)
    vera.act(op('take', { pieceId: 'j1' }))
    await clock.pass(20)
    const late = op('take', { pieceId: 'j1' })
    viktor.act(late)
    await clock.pass(20)
    await clock.pass(86_400_000)
    viktor.say({ type: 'ops', ops: [late] })
    await clock.pass(20)
    expect(viktor.kept.has(late.id)).toBe(false)
    expect(viktor.refused.has(late.id)).toBe(true)
  })

  it('answers an op of before a restart by its receipt, though its effect would now refuse it', async () => {
    const store = memoryStore()
    const before = await openFake({ store })
    const vera = before.client('vera')
    await before.clock.pass(1)
    const take = before.op('take', { pieceId: 'j1' })
    vera.act(take)
    await before.clock.pass(20)
    await before.close()
    // The receipts of the last ops are read at the start; this one lies further back.
    const many = Array.from({ length: 6000 }, (_, i) => ({
      opId: `filler-${i}`,
      kind: 'filler',
      op: {},
      personId: null,
      at: '2026-03-12T08:00:00.000Z',
      changes: [],
      subjects: [],
    }))
    await store.append('fake', await store.head('fake'), many)
    const after = await openFake({ store, seed: 2 })
    const again = after.client('vera')
    again.act(take)
    await after.clock.pass(50)
    expect(again.kept.get(take.id)).toBe(vera.kept.get(take.id))
  })

  it('keeps the order of one author, and lets later ops stand after a refused one', async () => {
    const { clock, client, op } = await openFake()
    const vera = client('vera')
    await clock.pass(1)
    const ops = [
      op('mark', { pieceId: 'j1', shelf: 'a' }),
      op('mark', { pieceId: 'nowhere', shelf: 'b' }),
      op('mark', { pieceId: 'j1', shelf: 'c' }),
    ]
    vera.say({ type: 'ops', ops })
    await clock.pass(50)
    expect(vera.records().jacket.get('j1')?.shelf).toBe('c')
    expect([...vera.kept.keys()]).toEqual([ops[0]?.id, ops[2]?.id])
    expect([...vera.refused.keys()]).toEqual([ops[1]?.id])
  })

  it('dies of no fault of ours: the op is refused, nothing is touched, the room lives', async () => {
    const { clock, client, op, said, store } = await openFake()
    const vera = client('vera')
    await clock.pass(1)
    const head = await store.head('fake')
    const [bad, worse] = [op('fault', { how: 'schema' }), op('fault', { how: 'throw' })]
    vera.act(bad)
    vera.act(worse)
    await clock.pass(50)
    expect(vera.refused.get(bad.id)).toMatchObject([{ code: 'fault' }])
    expect(vera.refused.get(worse.id)).toMatchObject([{ code: 'fault' }])
    expect(said).toHaveLength(2)
    expect(await store.head('fake')).toBe(head)
    vera.act(op('mark', { pieceId: 'j1', shelf: 'alive' }))
    await clock.pass(50)
    expect(vera.records().jacket.get('j1')?.shelf).toBe('alive')
  })

  it('loads the sheet an op needs before it judges it', async () => {
    const { clock, client, op, lab } = await openFake()
    const petra = client('petra')
    await clock.pass(1)
    const write = op('write', { pieceId: 'j1', text: 'a crack' })
    petra.act(write)
    const [right, wrong] = [
      op('correct', { pieceId: 'j1', entryId: write.id }),
      op('correct', { pieceId: 'j1', entryId: 'none' }),
    ]
    petra.act(right)
    petra.act(wrong)
    await clock.pass(50)
    expect(petra.kept.has(right.id)).toBe(true)
    expect(petra.refused.get(wrong.id)).toMatchObject([{ rule: 'R6' }])
    expect(lab.records.entry.size).toBe(0)
    const sheet = client('petra', 'sheet/j1')
    await clock.pass(50)
    expect([...sheet.records().entry.values()].map(({ text }) => text)).toEqual(['a crack', 'corrected'])
    petra.act(op('write', { pieceId: 'j1', text: 'another' }))
    await clock.pass(50)
    expect(sheet.records().entry.size).toBe(3)
  })

  it('moves a piece to the archive and back', async () => {
    const { clock, client, op, store } = await openFake()
    const petra = client('petra')
    await clock.pass(1)
    petra.act(op('rest', { pieceId: 'j1' }))
    petra.act(op('bring', { pieceId: 'j1' }))
    petra.act(op('rest', { pieceId: 'j1' }))
    await clock.pass(50)
    expect(petra.refused.size).toBe(0)
    expect(petra.records().jacket.has('j1')).toBe(false)
    expect((await store.snapshot('fake', 'archive', 'j1')).records).toHaveLength(1)
    petra.act(op('bring', { pieceId: 'j1' }))
    await clock.pass(50)
    expect(petra.records().jacket.has('j1')).toBe(true)
    expect((await store.snapshot('fake', 'archive')).records).toHaveLength(0)
  })
})

describe('the gate in trouble', () => {
  it('R8 shows and acknowledges nothing that is not durable, says so, and goes on when the store is well', async () => {
    let isFull = false
    const store = memoryStore({
      before: (call) => {
        if (isFull && call === 'append') throw new StoreTrouble('full', 'disk full')
      },
    })
    const { clock, client, op } = await openFake({ store })
    const [vera, mara] = [client('vera'), client('mara')]
    await clock.pass(1)
    isFull = true
    const [mark, take] = [op('mark', { pieceId: 'j1', shelf: 'x' }), op('take', { pieceId: 'j1' })]
    vera.act(mark)
    vera.act(take)
    await clock.pass(5000)
    expect(vera.outbox).toHaveLength(2)
    expect(mara.records().jacket.get('j1')?.shelf).toBe('')
    expect(mara.heard.filter(({ type }) => type === 'state')).toEqual([{ type: 'state', state: 'read-only' }])
    isFull = false
    await clock.pass(3000)
    expect([...vera.kept.keys()]).toEqual([mark.id, take.id])
    expect(mara.records().jacket.get('j1')?.shelf).toBe('x')
    expect(mara.heard.filter(({ type }) => type === 'state').at(-1)).toEqual({ type: 'state', state: 'well' })
  })

  it('does once what was written though the answer got lost', async () => {
    let isLost = false
    const store = memoryStore({
      after: (call) => {
        if (isLost && call === 'append') {
          isLost = false
          throw new StoreTrouble('io', 'lost')
        }
      },
    })
    const { clock, client, op } = await openFake({ store })
    const vera = client('vera')
    await clock.pass(1)
    isLost = true
    const take = op('take', { pieceId: 'j1' })
    vera.act(take)
    await clock.pass(3000)
    expect(vera.kept.has(take.id)).toBe(true)
    expect((await store.read('fake', 0, 100)).filter(({ kind }) => kind === 'take')).toHaveLength(1)
    expect(vera.records().assignment.size).toBe(1)
  })

  it('R7 holds between two servers on one lab: the slower one reads, judges again and refuses', async () => {
    const store = memoryStore()
    await seed(store)
    const one = await openFake({ store })
    const other = await openFake({ store, clock: one.clock, seed: 2 })
    const [vera, viktor] = [one.client('vera'), other.client('viktor')]
    await one.clock.pass(1)
    const [hers, his] = [one.op('take', { pieceId: 'j1' }), other.op('take', { pieceId: 'j1' })]
    vera.act(hers)
    viktor.act(his)
    await one.clock.pass(100)
    expect(vera.kept.size + viktor.kept.size).toBe(1)
    expect(vera.refused.size + viktor.refused.size).toBe(1)
    expect(vera.records().assignment).toEqual(viktor.records().assignment)
    vera.act(one.op('mark', { pieceId: 'j2', shelf: 'seen by both' }))
    await one.clock.pass(100)
    expect(viktor.records().jacket.get('j2')?.shelf).toBe('seen by both')
  })
})
