// Texts typed together: what merges, what is kept, and what never gets in.
import { describe, expect, it } from 'vitest'
import * as Y from 'yjs'
import { seededRandom } from '#lib/base'
import { StoreTrouble } from '../../server/store/contract.ts'
import { memoryStore } from '../../server/store/memory.ts'
import { judgeUpdate, NOTE } from '../../server/text-guard.ts'
import type { FakeClient } from '../kit/fake-client.ts'
import { openFake } from '../kit/fake-lab.ts'

const note = ({ doc }: FakeClient): string => doc.getText(NOTE).toString()

/** Types, and sends what came of it, as the provider does. */
function type(client: FakeClient, at: number, text: string, remove = 0): void {
  const send = (update: Uint8Array) => client.sendUpdate(update)
  client.doc.on('update', send)
  client.doc.transact(() => {
    if (remove > 0) client.doc.getText(NOTE).delete(at, remove)
    if (text !== '') client.doc.getText(NOTE).insert(at, text)
  })
  client.doc.off('update', send)
}

describe('a text', () => {
  it('merges what two type at once, letter by letter, and is there after a restart', async () => {
    const store = memoryStore()
    const { clock, client, close } = await openFake({ store })
    const [mara, petra] = [client('mara', 'text/j1'), client('petra', 'text/j1')]
    await clock.pass(20)
    type(mara, 0, 'crack at the tip')
    await clock.pass(20)
    type(mara, 16, ', filled')
    type(petra, 0, 'A ')
    await clock.pass(20)
    type(petra, 0, 'One', 1)
    await clock.pass(20)
    expect(note(mara)).toBe('One crack at the tip, filled')
    expect(note(petra)).toBe(note(mara))
    await close()
    const after = await openFake({ store, clock, seed: 2 })
    const late = after.client('vera', 'text/j1')
    await after.clock.pass(20)
    expect(note(late)).toBe(note(mara))
    // Offline typing of before the restart still fits.
    type(mara, 0, '! ')
    mara.connect(after.lab)
    await after.clock.pass(50)
    expect(note(late)).toBe('! One crack at the tip, filled')
  })

  it('is typed in by staff, and by a volunteer on what is theirs today; others read along', async () => {
    const { clock, client, op } = await openFake()
    const [vera, rosa, mara] = [client('vera', 'text/j1'), client('rosa', 'text/j1'), client('mara', 'text/j1')]
    const board = client('vera')
    await clock.pass(20)
    type(vera, 0, 'not yet')
    type(rosa, 0, 'never')
    await clock.pass(20)
    expect(note(mara)).toBe('')
    board.act(op('take', { pieceId: 'j1' }))
    await clock.pass(20)
    const again = client('vera', 'text/j1')
    await clock.pass(20)
    type(again, 0, 'mine today')
    await clock.pass(20)
    expect(note(mara)).toBe('mine today')
    expect(client('wall', 'text/j1').isOpen).toBe(true)
    await clock.pass(5)
    expect(note(rosa)).toContain('mine today')
  })

  it('R8 shows nobody what the store could not keep', async () => {
    let isFull = false
    const store = memoryStore({
      before: (call) => {
        if (isFull && call === 'appendText') throw new StoreTrouble('full', 'disk full')
      },
    })
    const { clock, client, lab } = await openFake({ store })
    const [mara, petra] = [client('mara', 'text/j1'), client('petra', 'text/j1')]
    await clock.pass(20)
    isFull = true
    type(mara, 0, 'lost?')
    await clock.pass(50)
    expect(note(petra)).toBe('')
    expect([mara.isOpen, petra.isOpen]).toEqual([false, false])
    isFull = false
    const closed = mara.closedWith?.code
    mara.connect(lab)
    petra.connect(lab)
    await clock.pass(50)
    expect(closed).toBe(4100)
    expect(note(petra)).toBe('lost?')
  })

  it('folds its updates, so that opening stays quick', async () => {
    const store = memoryStore()
    const { clock, client } = await openFake({ store })
    const mara = client('mara', 'text/j1')
    await clock.pass(20)
    for (let i = 0; i < 450; i++) {
      type(mara, i, 'x')
      await clock.pass(20)
    }
    const { updates, base } = await store.loadText('fake', 'text/j1')
    expect(updates.length).toBeLessThan(200)
    expect(base?.holders).toEqual([[mara.doc.clientID, 'mara']])
  })
})

describe('what is no typing', () => {
  const mine = () => true
  const judged = (make: (doc: Y.Doc) => void, base = new Y.Doc()) => {
    const doc = new Y.Doc()
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(base))
    const before = Y.encodeStateVector(doc)
    make(doc)
    return judgeUpdate(base, Y.encodeStateAsUpdate(doc, before), mine)
  }

  it('is refused by its form: other types, nesting, attributes, documents, bytes', () => {
    const bad = { ok: false, why: 'bad' }
    expect(judged((doc) => doc.getText(NOTE).insert(0, 'fine'))).toMatchObject({ ok: true })
    expect(judged((doc) => doc.getMap('jacket').set('j1', { shelf: 'x' }))).toEqual(bad)
    expect(judged((doc) => doc.getText('other').insert(0, 'x'))).toEqual(bad)
    expect(judged((doc) => doc.getMap(NOTE).set('a', 1))).toEqual(bad)
    expect(judged((doc) => doc.getMap(NOTE).set('a', new Y.Map()))).toEqual(bad)
    expect(judged((doc) => doc.getArray(NOTE).insert(0, [new Y.Doc()]))).toEqual(bad)
    expect(judged((doc) => doc.getArray(NOTE).insert(0, [new Uint8Array(3)]))).toEqual(bad)
    expect(judged((doc) => doc.getText(NOTE).insert(0, 'x', { bold: true }))).toEqual(bad)
    expect(judged((doc) => doc.getText(NOTE).insertEmbed(0, { image: 'x' }))).toEqual(bad)
    expect(judged((doc) => doc.getText(NOTE).insert(0, 'x'.repeat(20_001)))).toEqual({ ok: false, why: 'too-long' })
  })

  it('is refused under another person’s client id, with a gap, or ahead of what is there', () => {
    const base = new Y.Doc()
    base.getText(NOTE).insert(0, 'base')
    const other = new Y.Doc()
    Y.applyUpdate(other, Y.encodeStateAsUpdate(base))
    other.getText(NOTE).insert(4, ' one')
    const first = Y.encodeStateVector(other)
    other.getText(NOTE).insert(8, ' two')
    const second = Y.encodeStateAsUpdate(other, first)
    expect(judgeUpdate(base, second, mine)).toEqual({ ok: false, why: 'gap' })
    expect(judgeUpdate(base, Y.encodeStateAsUpdate(other), () => false)).toEqual({ ok: false, why: 'not-yours' })
    expect(judgeUpdate(base, Y.encodeStateAsUpdate(base), () => false)).toMatchObject({ ok: true, client: null })
    // A deletion of what nobody has.
    other.getText(NOTE).delete(0, 12)
    const deletion = Y.encodeStateAsUpdate(other, Y.encodeStateVector(other))
    expect(judgeUpdate(base, deletion, mine)).toEqual({ ok: false, why: 'gap' })
  })

  it('takes no mutated update that does harm: the document stays whole or untouched', { timeout: 60_000 }, () => {
    const seed = Number(process.env.SEED ?? 1)
    const random = seededRandom(seed)
    const source = new Y.Doc()
    source.clientID = 77
    const updates: Uint8Array[] = []
    source.on('update', (update: Uint8Array) => updates.push(update))
    for (let i = 0; i < 40; i++) {
      const text = source.getText(NOTE)
      if (i % 4 === 3) text.delete(random.below(text.length - 2), 2)
      else text.insert(random.below(text.length + 1), 'words é\u{1F9B4}'.slice(0, 1 + random.below(9)))
    }
    let accepted = 0
    for (let run = 0; run < 3000; run++) {
      const at = random.below(updates.length)
      const doc = new Y.Doc()
      for (const update of updates.slice(0, at)) Y.applyUpdate(doc, update)
      const bytes = Uint8Array.from(updates[at] ?? [])
      for (let i = 0; i <= random.below(4); i++) bytes[random.below(bytes.length)] = random.below(256)
      const mutated = random.below(4) === 0 ? bytes.slice(0, random.below(bytes.length)) : bytes
      const before = Buffer.from(Y.encodeStateAsUpdate(doc)).toString('hex')
      const verdict = judgeUpdate(doc, mutated, (client) => client === 77)
      expect(Buffer.from(Y.encodeStateAsUpdate(doc)).toString('hex')).toBe(before)
      if (!verdict.ok) continue
      accepted++
      const reason = `seed ${seed}, run ${run}`
      expect(() => Y.applyUpdate(doc, mutated), reason).not.toThrow()
      expect(doc.store.pendingStructs, reason).toBeNull()
      expect(doc.store.pendingDs, reason).toBeNull()
      expect([...doc.share.keys()], reason).toEqual([NOTE])
      expect(() => doc.getText(NOTE).toString(), reason).not.toThrow()
    }
    console.info(`mutated updates: seed ${seed}, ${accepted} of 3000 were plain typing after all`)
  })
})
