// Labs that rest and wake over real files: whatever was kept in one before it went to rest is there when it is opened again,
// in that lab and in no other.
import { cpSync, mkdirSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { PersonId, put } from '#lib/words'
import { type Lab, openLabs } from '../../server/labs.ts'
import { manyLabs, type Restful } from '../../server/many-labs.ts'
import { openLibsql } from '../../server/store/libsql.ts'
import { systemClock } from '../../server/system-world.ts'
import { aJacketRecord, fakeChance, fakeOps, seedChanges } from '../kit/fake-lab.ts'
import { dataFolder, storeWorker } from '../kit/store-worker.ts'

const names = ['west', 'east', 'north'] as const
const mara = { personId: PersonId.parse('mara'), role: 'manager' } as const
const RUNS = 5

/** A lab over a file of its own, with the room that acts are submitted to. */
function aLab(folder: string, name: string, worker: URL): Restful & { readonly room: () => Lab | null } {
  let room: Lab | null = null
  let close = async () => {}
  return {
    room: () => room,
    async enter() {
      const store = await openLibsql({ folder: join(folder, name), worker })
      const labs = openLabs({ clock: systemClock, store, chance: fakeChance(1), log: () => {}, ops: fakeOps })
      close = async () => {
        await labs.close()
        await store.close()
      }
      // The same name in each store: only the file tells labs apart.
      room = await labs.lab('lab')
    },
    close: () => close(),
    labId: () => 'lab',
    open: () => (room === null ? null : ({} as ReturnType<Restful['open']>)),
    elsewhere: () => null,
    isReady: () => true,
    arePhotosWell: () => true,
    connect: () => {},
    connections: () => 0,
  }
}

/** Founds each lab, with one piece on a shelf that names the lab. */
async function found(folder: string, worker: URL): Promise<void> {
  const entry = { kind: 'found', op: {}, personId: null, at: '2026-01-01T00:00:00.000Z', subjects: [] }
  for (const name of names) {
    mkdirSync(join(folder, name), { recursive: true })
    const store = await openLibsql({ folder: join(folder, name), worker })
    const changes = [...seedChanges(), put('jacket', aJacketRecord('j1', { shelf: `first-${name}` }))]
    await store.append('lab', 0, [{ ...entry, opId: 'found', changes }])
    await store.close()
  }
}

it('R8 what was kept in a lab is there after each of its rests, and in no other lab', {
  timeout: 300_000,
}, async () => {
  const worker = await storeWorker()
  const root = dataFolder()
  await found(join(root, 'founded'), worker)
  let runs = 0
  const act = fc.record({
    name: fc.constantFrom(...names),
    marks: fc.nat({ max: 3 }),
    waitMs: fc.constantFrom(0, 0, 30),
  })
  await fc.assert(
    fc.asyncProperty(fc.array(act, { minLength: 1, maxLength: 8 }), async (acts) => {
      runs++
      const folder = join(root, String(runs))
      cpSync(join(root, 'founded'), folder, { recursive: true })
      const made = new Map<string, ReturnType<typeof aLab>>()
      let rests = 0
      const labs = manyLabs({
        ...{ clock: systemClock, log: () => {}, restMs: 5, awakeMax: 2 },
        has: (name) => names.some((one) => one === name),
        make(name) {
          const lab = aLab(folder, name, worker)
          made.set(name, lab)
          return {
            ...lab,
            async close() {
              rests++
              await lab.close()
            },
          }
        },
      })
      const shelves = new Map<string, string>(names.map((name) => [name, `first-${name}`]))
      const seqs = new Map<string, number>(names.map((name) => [name, 1]))
      let n = 0
      /** In hand, so that it does not rest in the middle. */
      const inside = async (name: string, work: (room: Lab) => Promise<void>) => {
        const asked = await labs.lab(name)
        const over = asked?.use()
        const room = asked?.open() ? made.get(name)?.room() : null
        // As many as may be are open and busy: told so, and nothing is lost by it.
        if (room) await work(room)
        over?.()
        return room !== null && room !== undefined
      }
      for (const { name, marks, waitMs } of acts) {
        await inside(name, async (room) => {
          for (let mark = 0; mark < marks; mark++) {
            n++
            const shelf = `${name}-${n}`
            const id = `01h0000000000000000000${String(n).padStart(4, '0')}`
            expect(await room.submit({ id, kind: 'mark', pieceId: 'j1', shelf }, mara)).toMatchObject({ ok: true })
            shelves.set(name, shelf)
            seqs.set(name, (seqs.get(name) ?? 0) + 1)
          }
        })
        await new Promise((done) => setTimeout(done, waitMs))
      }
      await expect.poll(() => labs.awake().length, { timeout: 60_000 }).toBe(0)
      expect(rests).toBeGreaterThan(0)
      for (const name of names) {
        await expect
          .poll(() =>
            inside(name, async (room) => {
              expect(room.records.jacket.get('j1')?.shelf).toBe(shelves.get(name))
              expect(room.seq).toBe(seqs.get(name))
            }),
          )
          .toBe(true)
      }
      await labs.close()
    }),
    { numRuns: RUNS },
  )
})
