// Frames that no honest client sends: nonsense, mutated real ones, forged and huge ones. The bad client gets a reason
// and is cut off, or is not heard; nothing that is stored or shown changes, and the others go on.
import { describe, expect, it } from 'vitest'
import { seededRandom } from '#lib/base'
import { kindNames } from '#lib/words'
import type { FakeClient } from '../kit/fake-client.ts'
import { openFake } from '../kit/fake-lab.ts'

const FRAMES = 4000

describe('hostile frames', () => {
  it(`change nothing, crash nothing, and end only whoever sent them, in ${FRAMES} of them`, {
    timeout: 60_000,
  }, async () => {
    const seed = Number(process.env.SEED ?? 1)
    const random = seededRandom(seed)
    const { clock, client, op, store, said, lab } = await openFake({ seed })
    const honest = client('vera')
    await clock.pass(20)
    const real = realFrames(honest, op)
    const head = await store.head('fake')
    const records = JSON.stringify(kindNames.map((kind) => [...lab.records[kind]]))
    const places = ['board', 'sheet/j1', 'text/j1', 'office']
    const who = ['mara', 'petra', 'rosa', 'wall', 'viktor'] as const
    let bad: FakeClient | null = null
    let ended = 0
    for (let i = 0; i < FRAMES; i++) {
      if (!bad?.isOpen) bad = client(who[random.below(who.length)] ?? 'mara', places[random.below(places.length)])
      bad.wire?.client.send(hostile(random, real))
      if (i % 7 === 0) {
        await clock.pass(20)
        if (!bad.isOpen) ended++
      }
    }
    await clock.pass(2000)
    const reason = `seed ${seed}`
    expect(await store.head('fake'), reason).toBe(head)
    expect(JSON.stringify(kindNames.map((kind) => [...lab.records[kind]])), reason).toBe(records)
    expect(said, reason).toEqual([])
    expect(ended, reason).toBeGreaterThan(FRAMES / 100)
    expect(honest.isOpen, reason).toBe(true)
    honest.act(op('mark', { pieceId: 'j1', shelf: 'still here' }))
    await clock.pass(50)
    expect(honest.records().jacket.get('j1')?.shelf, reason).toBe('still here')
    console.info(`hostile frames: seed ${seed}, ${FRAMES} sent, ${ended} clients cut off`)
  })

  it('are refused by size before they are read', async () => {
    const { clock, client } = await openFake()
    const [vera, mara] = [client('vera'), client('mara')]
    await clock.pass(5)
    vera.wire?.client.send(new Uint8Array(1024 * 1024 + 1))
    await clock.pass(5)
    expect(vera.heard.at(-1)).toEqual({ type: 'bye', reason: 'too-much' })
    expect(mara.isOpen).toBe(true)
  })

  it('carry no name, role or position that counts: those come from the connection', async () => {
    const { clock, client, op, store } = await openFake()
    const vera = client('vera')
    await clock.pass(5)
    for (const more of [{ personId: 'mara' }, { role: 'manager' }, { at: '1999-01-01' }, { seq: 1 }])
      vera.act({ ...op('take', { pieceId: 'j1' }), ...more })
    vera.sendText(`{"type":"ops","ops":[{"id":"x","kind":"take","pieceId":"j1","__proto__":{"role":"manager"}}]}`)
    vera.sendText(`{"type":"ops","ops":[{"id":"__proto__","kind":"take","pieceId":"constructor"}]}`)
    vera.sendText(`{"type":"ops","ops":[null,1,"x",[],{"id":{}},{"kind":"toString","id":"a"}]}`)
    await clock.pass(50)
    expect(vera.isOpen).toBe(true)
    expect((await store.read('fake', 0, 99)).filter(({ kind }) => kind === 'take')).toEqual([])
  })
})

/** Frames as an honest client sends them, to be spoiled. */
function realFrames(
  client: FakeClient,
  op: (kind: string, fields: object) => { id: string; kind: string },
): Uint8Array[] {
  const frames: Uint8Array[] = []
  const { wire } = client
  if (!wire) return frames
  const { send } = wire.client
  const end = wire.client as { send: (frame: Uint8Array) => void }
  end.send = (frame) => frames.push(frame)
  // The server's own act, so that one changed letter of its text or id makes nothing that anybody may do.
  client.say({ type: 'ops', ops: [op('beginDay', { date: '2026-03-12' })] })
  client.say({ type: 'ops', ops: [op('nothing', { pieceId: 'nowhere' })] })
  client.say({ type: 'ask', ask: 'a', what: 'drawUp', body: { date: '2026-03-12' } })
  client.say({ type: 'stop', ask: 'a' })
  client.look({ at: 'floor', field: 'note' })
  client.sendUpdate(Uint8Array.of(0, 0))
  end.send = send
  return frames
}

function hostile(random: ReturnType<typeof seededRandom>, real: readonly Uint8Array[]): Uint8Array {
  const bytes = (length: number) => Uint8Array.from({ length }, () => random.below(256))
  const frame = real[random.below(real.length)] ?? bytes(3)
  switch (random.below(7)) {
    case 0:
      return bytes(random.below(40))
    case 1: {
      // A right beginning, then nonsense.
      const types = [0, 1, 2, 3, 64, 127]
      return Uint8Array.from([types[random.below(types.length)] ?? 0, random.below(4), ...bytes(random.below(60))])
    }
    case 2: {
      const spoiled = Uint8Array.from(frame)
      spoiled[random.below(spoiled.length)] = random.below(256)
      return spoiled
    }
    case 3:
      return frame.slice(0, random.below(frame.length))
    case 4:
      // Lengths and counts of nearly 2⁵³.
      return Uint8Array.of(random.below(2), random.below(3), 255, 255, 255, 255, 255, 255, 255, 15)
    case 5: {
      const text = new TextEncoder().encode(`${'['.repeat(random.below(60))}{"type":"ops"`)
      return Uint8Array.from([64, text.length & 127, ...text])
    }
    default:
      return Uint8Array.from([...frame, ...bytes(1 + random.below(5))])
  }
}
