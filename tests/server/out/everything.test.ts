// A whole lab goes out as JSON Lines and comes back in letter by letter; a file that is no whole lab is refused by its
// line, and nothing of it is brought in.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import * as Y from 'yjs'
import { kindNames, kinds } from '#lib/words'
import { foundDemo } from '../../../server/found.ts'
import { bringIn, bringInAsOf, WrongFile } from '../../../server/out/bring-in.ts'
import { everythingOf } from '../../../server/out/everything.ts'
import { labsIn, readsOf } from '../../../server/reads.ts'
import { sealed, verifyLog } from '../../../server/sealing.ts'
import type { Store } from '../../../server/store/contract.ts'
import { openLibsql } from '../../../server/store/libsql.ts'
import { memoryStore } from '../../../server/store/memory.ts'
import { fakeClock } from '../../kit/fake-clock.ts'
import { fakeChance, openFake } from '../../kit/fake-lab.ts'
import { dataFolder, storeWorker } from '../../kit/store-worker.ts'

const at = '2026-03-12T09:00:00.000Z'

async function fileOf(store: Store, lab: string, whileReading: () => Promise<void> = async () => {}): Promise<string> {
  let text = ''
  for await (const part of everythingOf(store, lab, 'A lab', at)) {
    if (text === '') await whileReading()
    text += part
  }
  return text
}

/** The file in pieces that cut letters in two. */
async function* bytesOf(text: string | Uint8Array, size = 1 << 16): AsyncGenerator<Uint8Array> {
  const bytes = typeof text === 'string' ? new TextEncoder().encode(text) : text
  for (let from = 0; from < bytes.length; from += size) yield bytes.subarray(from, from + size)
}

const into = (store: Store, text: string | Uint8Array, size?: number) => bringIn(store, () => bytesOf(text, size))

/** The same letters; where not, the first line that differs is shown and not a whole lab. */
function expectSame(found: string, wanted: string): void {
  const [here, there] = [found.split('\n'), wanted.split('\n')]
  const n = there.findIndex((line, i) => line !== here[i])
  expect([n, n < 0 ? '' : here[n]?.slice(0, 400)]).toEqual([-1, ''])
  expect(here.length).toBe(there.length)
}

/** A lab in which something happened in every home, with a text and reads. */
async function aLivedInLab(): Promise<Store> {
  const store = sealed(memoryStore(), fakeChance(7))
  const house = await openFake({ store, dayOp: null })
  const { clock, op } = house
  const petra = house.client('petra')
  await clock.pass(50)
  const acts = [
    op('whisper', { text: 'only “staff” 🦴\nand a second line' }),
    op('write', { pieceId: 'j1', text: 'cracked' }),
    op('rest', { pieceId: 'j2' }),
    op('rest', { pieceId: 'j3' }),
    op('bring', { pieceId: 'j3' }),
    op('mark', { pieceId: 'j4', shelf: 'R1 b' }),
  ]
  for (const one of acts) {
    petra.act(one)
    await clock.pass(50)
  }
  await house.close()
  const doc = new Y.Doc()
  doc.getText('note').insert(0, 'typed ')
  const base = Y.encodeStateAsUpdate(doc)
  const vector = Y.encodeStateVector(doc)
  doc.getText('note').insert(6, 'together')
  await store.compactText('fake', 'text/j1', 0, { epoch: 'e1', bytes: base, holders: [[doc.clientID, 'petra']] })
  const bytes = Y.encodeStateAsUpdate(doc, vector)
  await store.appendText('fake', 'text/j1', [{ bytes, client: doc.clientID, personId: 'petra' }])
  const read = { kind: 'saw', op: { what: 'office' }, personId: 'mara', at, changes: [], subjects: [] }
  await store.append(readsOf('fake'), 0, [{ opId: 'r1', ...read }])
  return store
}

describe('a whole lab', () => {
  test('comes out, goes into an empty one, and comes out again the same to the letter', async () => {
    const store = await aLivedInLab()
    const file = await fileOf(store, 'fake')
    expect(file).toContain('"says":"typed together"')
    expect(file).toContain('only “staff” 🦴')
    const other = sealed(memoryStore(), fakeChance(8))
    expect(await into(other, file, 7)).toMatchObject({ labId: 'fake', entries: 8, texts: 1 })
    expectSame(await fileOf(other, 'fake'), file)
    expect(await other.history('fake', 'j3', null, 10)).toHaveLength(2)
    expect((await other.search('fake', { text: 'F j2', kind: null, limit: 5, offset: 0 })).found).toHaveLength(1)
    // Tied anew: the chain is that of the lab it is in now.
    expect((await verifyLog(other, 'fake')).broken).toEqual([])
  })

  test('comes in as it was at a moment: what happened until then, and nothing of what came after', async () => {
    const store = await aLivedInLab()
    const file = await fileOf(store, 'fake')
    const entries = await store.read('fake', 0, 100)
    const moments = [...new Set(entries.map(({ at: then }) => then))]
    expect(moments.length).toBeGreaterThan(3)
    for (const moment of moments) {
      const other = sealed(memoryStore(), fakeChance(8))
      const before = entries.filter(({ at: then }) => then <= moment)
      const brought = await bringInAsOf(other, () => bytesOf(file), moment)
      // Laid over each other by hand, one after the other.
      const wanted = new Map<string, unknown>()
      for (const { changes } of before)
        for (const { kind, id, record } of changes)
          if (record) wanted.set(`${kind} ${id}`, record)
          else wanted.delete(`${kind} ${id}`)
      const found = await other.records('fake', null, 10_000)
      expect(Object.fromEntries(found.map(({ kind, id, record }) => [`${kind} ${id}`, record]))).toEqual(
        Object.fromEntries(wanted),
      )
      expect(brought).toMatchObject({ records: wanted.size, texts: 0 })
      expect(await other.head('fake')).toBe(before.length)
      expect((await verifyLog(other, 'fake')).broken).toEqual([])
    }
    await expect(bringInAsOf(memoryStore(), () => bytesOf(file), '1999-01-01T00:00:00.000Z')).rejects.toThrow(
      'nothing that happened until',
    )
  })

  test('the demo lab does so in the embedded store', async () => {
    const demo = memoryStore()
    const world = { clock: fakeClock(), chance: fakeChance(1) }
    const lab = await foundDemo(demo, world, 'Europe/Lisbon', 1)
    const file = await fileOf(demo, lab)
    const store = await openLibsql({ folder: dataFolder(), worker: await storeWorker() })
    await into(store, file)
    expectSame(await fileOf(store, lab), file)
    expect(await labsIn(store)).toEqual([lab])
    await store.close()
  })

  test('what happens while it is read is in it, and counts', async () => {
    const store = await aLivedInLab()
    const file = await fileOf(store, 'fake', async () => {
      const [first] = (await store.snapshot('fake', 'board', 'j4')).records
      const jacket = kinds.jacket.parse({ ...(first?.record as object), shelf: 'moved meanwhile' })
      const change = { kind: 'jacket' as const, id: 'j4', record: jacket }
      const entry = { opId: 'late', kind: 'mark', op: {}, personId: 'petra', at, changes: [change], subjects: ['j4'] }
      await store.append('fake', await store.head('fake'), [entry])
    })
    const other = memoryStore()
    await into(other, file)
    expect(JSON.stringify(await other.snapshot('fake', 'board', 'j4'))).toContain('moved meanwhile')
  })

  test('records that somebody changed in the file are as the file says, and so are those without a history', async () => {
    const file = await fileOf(await aLivedInLab(), 'fake')
    const lines = file.trimEnd().split('\n')
    const changed = lines
      .filter((line) => !line.startsWith('{"line":"entry"') && !line.includes('"line":"end"'))
      .map((line) => line.replace('"shelf":"R1 b"', '"shelf":"R9"'))
    const other = memoryStore()
    await into(other, `${[...changed, `{"line":"end","lines":${changed.length}}`].join('\n')}\n`)
    expect(JSON.stringify(await other.snapshot('fake', 'board', 'j4'))).toContain('"shelf":"R9"')
    expect((await other.snapshot('fake', 'sheet/j1')).records).toHaveLength(1)
    expect(await other.head('fake')).toBe(1)
  })

  test('each line that is a schema holds for the records of its kind', async () => {
    const lines = (await fileOf(await aLivedInLab(), 'fake')).split('\n')
    const schemas = lines.filter((line) => line.startsWith('{"line":"schema"')).map((line) => JSON.parse(line))
    expect(schemas.map(({ kind }) => kind)).toEqual([...kindNames])
    const jacket = schemas.find(({ kind }) => kind === 'jacket')?.schema
    const record = lines
      .map((line) => line && JSON.parse(line))
      .find((one) => one && one.kind === 'jacket' && one.record)
    expect(Object.keys(jacket.properties)).toEqual(expect.arrayContaining(Object.keys(record.record)))
    expect(Object.keys(record.record)).toEqual(expect.arrayContaining(jacket.required))
  })
})

describe('a file that is no whole lab', () => {
  const refusal = async (text: string | Uint8Array): Promise<string> => {
    const store = memoryStore()
    const why = await into(store, text).then(
      () => '',
      (error: unknown) => {
        if (!(error instanceof WrongFile)) throw error
        return error.message
      },
    )
    // What was refused left nothing.
    if (why !== '') expect(await store.labs()).toEqual([])
    return why
  }

  test('is refused by the line that is wrong, with what is wrong there', async () => {
    const file = await fileOf(await aLivedInLab(), 'fake')
    const lines = file.trimEnd().split('\n')
    const at1 = lines.findIndex((line) => line.startsWith('{"line":"record","kind":"jacket"'))
    const edited = (n: number, edit: (line: string) => string) =>
      lines.map((line, i) => (i === n ? edit(line) : line)).join('\n')
    const n = at1 + 1
    expect(await refusal(edited(at1, (line) => line.slice(0, -1)))).toBe(`Line ${n}: this is not JSON.`)
    expect(await refusal(edited(at1, (line) => line.replace(/"lengthM":[\d.]+/, '"lengthM":"long"')))).toMatch(
      new RegExp(`^Line ${n}: jacket j\\d: lengthM: `),
    )
    expect(await refusal(edited(at1, (line) => `${line}\n${line}`))).toBe(
      `Line ${n + 1}: jacket j1 stands in the file twice.`,
    )
    expect(await refusal(lines.slice(0, -1).join('\n'))).toBe(
      `Line ${lines.length - 1}: the file is cut short: no line says that it is whole.`,
    )
    expect(await refusal(lines.filter((_, i) => i !== at1).join('\n'))).toMatch(/lines were written and/)
    expect(await refusal(lines.filter((line) => !line.includes('"seq":3,')).join('\n'))).toMatch(
      /entry 3 of the changes is missing before it/,
    )
    expect(await refusal(lines.slice(1).join('\n'))).toMatch(/^Line 1: .*begins with/)
    expect(await refusal('')).toBe('Line 1: the file is empty.')
    expect(await refusal(edited(0, (line) => line.replace('"words":1', '"words":99')))).toMatch(/newer Talus/)
    expect(await refusal(file.replace('typed together', 'typed alone'))).toMatch(/text\/j1 does not say/)
    const twice = memoryStore()
    await into(twice, file)
    await expect(into(twice, file)).rejects.toThrow('There is a lab already')
  })

  test('10 000 files, made up and mutated: brought in whole, or refused by line with nothing left', async () => {
    // Without what it explains of itself, and with one jacket: quick to read ten thousand times.
    const whole = (await fileOf(await aLivedInLab(), 'fake')).trimEnd().split('\n')
    const few = whole.filter(
      (line) => !/"line":"(schema|end|entry)"|"id":"j[2-8]"/.test(line) || /"seq":[2-7],/.test(line),
    )
    const renumbered = few.map((line) =>
      line.replace(/("line":"entry".*?"seq":)(\d+)/, (_, head, seq) => head + (seq - 1)),
    )
    const lines = [...renumbered, `{"line":"end","lines":${renumbered.length}}`]
    expect(await refusal(lines.join('\n'))).toBe('')
    const bytes = new TextEncoder().encode(lines.join('\n'))
    const value = fc.oneof(
      fc.json({ maxDepth: 3 }),
      fc.constantFrom('{}', '[]', 'null', '{"line":"end","lines":0}', '{"line":"record","kind":"lab","record":{}}'),
      fc.constantFrom('{"line":"entry"}', '{"__proto__":{"line":"lab"}}', `${'['.repeat(5000)}`, '"\\ud800"', '\u0000'),
    )
    const madeUp = fc.array(value, { maxLength: 6 }).map((all) => all.join('\n'))
    const flipped = fc
      .array(fc.tuple(fc.nat(bytes.length - 1), fc.nat(255)), { minLength: 1, maxLength: 6 })
      .map((edits) => {
        const changed = bytes.slice()
        for (const [i, byte] of edits) changed[i] = byte
        return changed
      })
    const shuffled = fc
      .array(fc.tuple(fc.nat(lines.length - 1), fc.nat(lines.length - 1)), { minLength: 1, maxLength: 3 })
      .map((moves) => {
        const moved = [...lines]
        for (const [from, to] of moves) moved.splice(to, 0, ...moved.splice(from, 1))
        return moved.join('\n')
      })
    const cut = fc.nat(bytes.length - 2).map((length) => bytes.subarray(0, length))
    const hostile = fc.oneof(
      { weight: 4, arbitrary: madeUp },
      flipped,
      shuffled,
      cut,
      fc.uint8Array({ maxLength: 200 }),
    )
    const counts = { in: 0, refused: 0 }
    await fc.assert(
      fc.asyncProperty(hostile, async (text) => {
        const why = await refusal(text)
        if (why === '') counts.in++
        else expect(why).toMatch(/^Line [1-9]\d*: ./)
        if (why !== '') counts.refused++
      }),
      { numRuns: 10_000, seed: 3 },
    )
    expect(counts.in).toBeGreaterThan(0)
    expect(counts.refused).toBeGreaterThan(5000)
  }, 240_000)
})
