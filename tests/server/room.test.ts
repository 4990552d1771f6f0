// Who is shown what, and how connections come, go and are held to their limits.
import { describe, expect, it, vi } from 'vitest'
import { HeldRecords } from '../../server/held-records.ts'
import type { FakeClient } from '../kit/fake-client.ts'
import { openFake } from '../kit/fake-lab.ts'

const text = (client: FakeClient): string => client.bytes.map((frame) => Buffer.from(frame).toString('latin1')).join('')

describe('faces', () => {
  it('sends no role a letter of what it may not read: document, refusal, presence', async () => {
    const { clock, client, op } = await openFake()
    const board = {
      vera: client('vera'),
      rosa: client('rosa'),
      wall: client('wall'),
      mara: client('mara'),
    }
    const [office, ofPetra] = [client('mara', 'office'), client('petra', 'office')]
    const petra = client('petra')
    await clock.pass(1)
    board.mara.act(op('whisper', { text: 'SECRETLY' }))
    board.mara.look({ at: 'floor', field: 'LOOKING' })
    await clock.pass(100)
    for (const one of [board.vera, board.rosa, petra]) one.act(op('listen'))
    await clock.pass(100)
    expect([...office.records().privateNote.values()].map((note) => note.text)).toEqual(['SECRETLY'])
    const noteId = [...office.records().privateNote.keys()][0] ?? ''
    for (const one of [board.vera, board.rosa, board.wall, petra, ofPetra, client('petra', 'office')]) {
      await clock.pass(1)
      expect(text(one)).not.toContain('SECRETLY')
      expect(text(one)).not.toContain(noteId)
    }
    expect(ofPetra.isOpen && ofPetra.isSynced).toBe(true)
    for (const one of [board.vera, petra]) {
      expect([...one.refused.values()]).toEqual([[{ rule: 'O', code: 'ask-manager', ids: {}, numbers: {} }]])
    }
    expect(text(board.vera)).toContain('LOOKING')
    for (const one of [board.rosa, board.wall]) {
      expect(text(one)).not.toContain('LOOKING')
      expect(text(one)).not.toContain('Family of')
      expect(text(one)).toContain('Name of vera')
    }
  })

  it('opens no office to a volunteer, and nothing but the board to the Wall', async () => {
    const { clock, client, lab } = await openFake()
    const places = ['office', 'sheet/j1', 'text/j1', 'archive', 'nowhere', 'sheet/../office', 'text/../x']
    const open = (who: 'vera' | 'wall' | 'mara') => places.map((place) => client(who, place))
    const [ofVera, ofWall, ofMara] = [open('vera'), open('wall'), open('mara')]
    await clock.pass(20)
    expect(ofVera.map(({ isOpen }) => isOpen)).toEqual([false, true, true, false, false, false, false])
    expect(ofWall.map(({ isOpen }) => isOpen)).toEqual([false, false, false, false, false, false, false])
    expect(ofMara.map(({ isOpen }) => isOpen)).toEqual([true, true, true, false, false, false, false])
    expect(lab.connectionCount).toBe(5)
  })

  it('turns the Wall to the new day at local midnight and does the server’s own op once', async () => {
    const { clock, client, op, store } = await openFake()
    const [vera, wall] = [client('vera'), client('wall')]
    await clock.pass(1)
    vera.act(op('take', { pieceId: 'j1' }))
    await clock.pass(100)
    expect(wall.records().assignment.size).toBe(1)
    const { epoch } = wall
    // 08:00 UTC is 09:00 in Berlin.
    await clock.pass(15 * 3_600_000 - 1000)
    expect(wall.records().assignment.size).toBe(1)
    await clock.pass(3000)
    expect(wall.epoch).not.toBe(epoch)
    expect(wall.isSynced).toBe(true)
    expect(wall.records().assignment.size).toBe(0)
    expect(vera.records().assignment.size).toBe(0)
    const days = (await store.read('fake', 0, 1000)).filter(({ kind }) => kind === 'beginDay')
    expect(days.map(({ opId, personId }) => [opId, personId])).toEqual([
      ['begin-day-2026-03-12', null],
      ['begin-day-2026-03-13', null],
    ])
  })

  it('bears a document again when its past outweighs it; clients take the new one and keep their outbox', {
    timeout: 30_000,
  }, async () => {
    const { clock, client, op } = await openFake()
    const [vera, mara] = [client('vera'), client('mara')]
    await clock.pass(1)
    const { epoch } = mara
    for (let i = 0; i < 2100; i++) {
      vera.act(op('mark', { pieceId: 'j1', shelf: `shelf ${i}` }))
      await clock.pass(30)
    }
    await clock.pass(1000)
    expect(mara.epoch).not.toBe(epoch)
    expect(mara.records().jacket.get('j1')?.shelf).toBe('shelf 2099')
    expect(mara.doc.store.clients.size).toBe(1)
    expect(vera.kept.size).toBe(2100)
  })

  it('gives a client of an older epoch a greeting and nothing else', async () => {
    const { clock, client } = await openFake()
    const vera = client('vera')
    await clock.pass(20)
    const records = vera.records()
    vera.wire?.cut()
    const later = client('vera')
    later.wire?.client.close()
    await clock.pass(1)
    later.epoch = 'another'
    later.bytes.length = 0
    const hello = later.heard.length
    const { lab } = await openFake()
    later.connect(lab)
    await clock.pass(1)
    expect(later.heard.slice(hello)[0]).toMatchObject({ type: 'hello' })
    await clock.pass(50)
    expect(later.records().jacket.size).toBe(records.jacket.size)
  })
})

describe('connections', () => {
  it('end at once when the session ends, and act no more', async () => {
    const { clock, client, op, lab } = await openFake()
    const [vera, other] = [client('vera', 'board', 's1'), client('vera', 'board', 's2')]
    await clock.pass(1)
    vera.act(op('mark', { pieceId: 'j1', shelf: 'too late' }))
    lab.endSession('s1')
    await clock.pass(50)
    expect(vera.closedWith).toEqual({ code: 4401, reason: 'signed-out' })
    expect(vera.heard.at(-1)).toEqual({ type: 'bye', reason: 'signed-out' })
    expect(other.isOpen).toBe(true)
    expect(other.records().jacket.get('j1')?.shelf).toBe('')
  })

  it('end at once when the role changes or the person leaves, after the receipt', async () => {
    const { clock, client, op, lab } = await openFake()
    const [mara, petra, office] = [client('mara'), client('petra'), client('petra', 'office')]
    await clock.pass(1)
    mara.act(op('role', { personId: 'petra', role: 'volunteer' }))
    await clock.pass(50)
    expect(petra.heard.at(-1)).toEqual({ type: 'bye', reason: 'role-changed' })
    expect(office.isOpen).toBe(false)
    expect(client('petra', 'office').isOpen).toBe(true)
    await clock.pass(1)
    expect(lab.connectionCount).toBe(1)
    const own = op('role', { personId: 'mara', role: null })
    mara.act(own)
    await clock.pass(50)
    expect(mara.kept.has(own.id)).toBe(true)
    expect(mara.heard.at(-1)).toEqual({ type: 'bye', reason: 'signed-out' })
    const back = client('mara')
    await clock.pass(10)
    expect(back.closedWith?.code).toBe(4401)
  })

  it('drops a reader that does not read before it costs more than its limit', async () => {
    const { clock, client, op, lab } = await openFake({ limits: { unsentBytesMax: 20_000 } })
    const [vera, lazy] = [client('vera'), client('mara')]
    await clock.pass(50)
    lazy.wire?.stall()
    for (let i = 0; i < 200; i++) {
      vera.act(op('mark', { pieceId: 'j1', shelf: `shelf ${i}` }))
      await clock.pass(30)
    }
    expect(lazy.isOpen).toBe(false)
    expect(lab.connectionCount).toBe(1)
    expect(vera.kept.size).toBe(200)
  })

  it('are told what is too much, in ops, frames, bytes and number', async () => {
    const { clock, client, op } = await openFake({
      limits: {
        ops: { perSecond: 1, atOnce: 5 },
        frames: { perSecond: 1, atOnce: 20 },
        bytes: { perSecond: 1, atOnce: 10_000 },
        connectionsPerSession: 2,
      },
    })
    const many = client('vera')
    const frames = client('viktor')
    const bytes = client('petra')
    await clock.pass(1)
    for (let i = 0; i < 6; i++) many.act(op('mark', { pieceId: 'j1', shelf: `${i}` }))
    for (let i = 0; i < 21; i++) frames.say({ type: 'stop', ask: 'x' })
    bytes.sendText('x'.repeat(11_000))
    await clock.pass(20)
    for (const one of [many, frames, bytes]) {
      expect(one.heard.at(-1)).toEqual({ type: 'bye', reason: 'too-much' })
      expect(one.isOpen).toBe(false)
    }
    const tabs = [1, 2, 3].map(() => client('mara', 'board', 'same'))
    await clock.pass(20)
    expect(tabs.map(({ isOpen }) => isOpen)).toEqual([true, true, false])
  })

  it('are one person’s together: coming again does not fill up what they may ask for', async () => {
    const usual = { perSecond: 1, atOnce: 1000 }
    const { clock, client } = await openFake({
      limits: {
        person: {
          frames: { perSecond: 1, atOnce: 30 },
          bytes: { perSecond: 1, atOnce: 1e6 },
          ops: usual,
          syncs: usual,
        },
      },
    })
    const [mara] = [client('mara')]
    for (const ends of [false, false, true]) {
      const vera = client('vera')
      await clock.pass(1)
      for (let i = 0; i < 12; i++) vera.say({ type: 'stop', ask: 'x' })
      await clock.pass(1)
      expect(vera.isOpen).toBe(!ends)
    }
    mara.say({ type: 'stop', ask: 'x' })
    await clock.pass(1)
    expect(mara.isOpen).toBe(true)
  })

  it('take acts, questions and presence on the board alone, and say so', async () => {
    const { clock, client, op } = await openFake()
    for (const place of ['office', 'sheet/j1', 'text/j1']) {
      const petra = client('petra', place)
      await clock.pass(20)
      petra.act(op('mark', { pieceId: 'j1', shelf: 'x' }))
      await clock.pass(20)
      expect([place, petra.heard.at(-1)]).toEqual([place, { type: 'bye', reason: 'bad-message' }])
    }
  })

  it('are sent something now and then, so that nobody gives them up', async () => {
    const { clock, client } = await openFake()
    const all = [client('vera'), client('wall'), client('petra', 'office'), client('petra', 'text/j1')]
    await clock.pass(100)
    const before = all.map(({ bytes }) => bytes.length)
    await clock.pass(29_000)
    for (const [i, { bytes }] of all.entries()) expect(bytes.length).toBeGreaterThan(before[i] ?? 0)
  })

  it('are told that the server stops, after what is on its way is kept', async () => {
    const { clock, client, op, close } = await openFake()
    const vera = client('vera')
    await clock.pass(1)
    const mark = op('mark', { pieceId: 'j1', shelf: 'last' })
    vera.act(mark)
    await clock.pass(0)
    const closing = close()
    await clock.pass(50)
    await closing
    await clock.pass(50)
    expect(vera.kept.has(mark.id)).toBe(true)
    expect(vera.heard.at(-1)).toEqual({ type: 'bye', reason: 'stopping' })
  })
})

describe('presence', () => {
  it('stamps who it is and lets nobody speak for another', async () => {
    const { clock, client } = await openFake()
    const [vera, viktor, mara] = [client('vera'), client('viktor'), client('mara')]
    mara.look({ at: 'floor' })
    vera.look({ at: 'sheet/j1', field: 'note', personId: 'mara', name: 'Mara', extra: 'x' })
    await clock.pass(100)
    const ofVera = mara.awareness?.getStates().get(vera.doc.clientID)
    expect(ofVera).toEqual({ at: 'sheet/j1', field: 'note', personId: 'vera', name: 'Name of vera' })
    // Under another's client id, with a later clock.
    viktor.doc.clientID = vera.doc.clientID
    viktor.look({ at: 'rack' })
    viktor.look({ at: 'rack' })
    viktor.look({ at: 'rack' })
    await clock.pass(100)
    expect(mara.awareness?.getStates().get(vera.doc.clientID)).toEqual(ofVera)
    vera.wire?.client.close()
    await clock.pass(100)
    expect(mara.awareness?.getStates().has(vera.doc.clientID)).toBe(false)
  })

  it('shows whoever comes later who is here, and ignores what is not sayable', async () => {
    const { clock, client } = await openFake()
    const [vera, viktor] = [client('vera'), client('viktor')]
    vera.look({ at: 'floor' })
    viktor.look({ at: 'x'.repeat(600) })
    await clock.pass(100)
    const mara = client('mara')
    mara.look({ at: 'crew' })
    await clock.pass(15_000)
    expect([...(mara.awareness?.getStates().values() ?? [])].map(({ at }) => at).sort()).toEqual(['crew', 'floor'])
  })
})

describe('questions', () => {
  it('are answered as a stream, can be stopped, and end with the connection', async () => {
    const aborted: string[] = []
    const { clock, client } = await openFake({
      asks: {
        count: async function* (_, { signal, who }) {
          for (let i = 0; i < 3; i++) yield { i, who: who.personId }
          await new Promise<void>((resolve) => signal.addEventListener('abort', () => resolve()))
          aborted.push(who.personId)
          return null
        },
        quick: async function* (body) {
          yield 'half'
          return body
        },
      },
    })
    const [vera, mara] = [client('vera'), client('mara')]
    await clock.pass(1)
    vera.say({ type: 'ask', ask: 'q1', what: 'quick', body: { x: 1 } })
    vera.say({ type: 'ask', ask: 'q2', what: 'constructor', body: null })
    mara.say({ type: 'ask', ask: 'q3', what: 'count', body: null })
    await clock.pass(20)
    const answers = (one: FakeClient) => one.heard.filter(({ type }) => type === 'answer')
    expect(answers(vera)).toEqual([
      { type: 'answer', ask: 'q1', body: 'half', done: false },
      { type: 'answer', ask: 'q1', body: { x: 1 }, done: true },
      { type: 'answer', ask: 'q2', body: { refused: 'unknown' }, done: true },
    ])
    expect(answers(mara)).toHaveLength(3)
    mara.wire?.cut()
    await clock.pass(20)
    expect(aborted).toEqual(['mara'])
  })

  it('copy the records for whoever looks at them alone, once', async () => {
    const copy = vi.spyOn(HeldRecords.prototype, 'copy')
    const { clock, client } = await openFake({
      asks: {
        // biome-ignore lint/correctness/useYield: there is one answer, and it is the last
        refused: async function* () {
          return null
        },
        // biome-ignore lint/correctness/useYield: there is one answer, and it is the last
        looking: async function* (_, { look }) {
          const [one, other] = [look(), look()]
          return one === other
        },
      },
    })
    const vera = client('vera')
    await clock.pass(1)
    for (const what of ['nothing', 'refused']) vera.say({ type: 'ask', ask: what, what, body: null })
    await clock.pass(20)
    expect(copy).not.toHaveBeenCalled()
    vera.say({ type: 'ask', ask: 'q', what: 'looking', body: null })
    await clock.pass(20)
    expect(copy).toHaveBeenCalledTimes(1)
    expect(vera.heard.at(-1)).toEqual({ type: 'answer', ask: 'q', body: true, done: true })
    copy.mockRestore()
  })
})
