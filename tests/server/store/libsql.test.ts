// The embedded store keeps the store's promises, keeps others off its data, and can be copied while it runs.
import { spawn } from 'node:child_process'
import { existsSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import Database from 'libsql'
import { describe, expect, it } from 'vitest'
import { seededRandom } from '#lib/base'
import { put } from '#lib/words'
import { openLibsql } from '../../../server/store/libsql.ts'
import { aJacketRecord } from '../../kit/fake-lab.ts'
import { bundle, dataFolder, storeWorker } from '../../kit/store-worker.ts'
import { anEntry, storeSuite } from '../../suites/store.ts'

storeSuite('libsql', async () => {
  const folder = dataFolder()
  const worker = await storeWorker()
  let store = await openLibsql({ folder, worker })
  return {
    store,
    reopen: async () => {
      await store.close()
      store = await openLibsql({ folder, worker })
      return store
    },
    end: () => store.close(),
  }
})

describe('libsql', () => {
  it('refuses data that another Talus is running on, and lets it be when that one ends', async () => {
    const folder = dataFolder()
    const worker = await storeWorker()
    const first = await openLibsql({ folder, worker })
    await expect(openLibsql({ folder, worker })).rejects.toMatchObject({ name: 'StoreTrouble', code: 'in-use' })
    await first.append('a', 0, [anEntry()])
    await first.close()
    const second = await openLibsql({ folder, worker })
    expect(await second.head('a')).toBe(1)
    await second.close()
  })

  it('keeps a folder that it makes closed to other accounts', async () => {
    const folder = join(dataFolder(), 'data')
    const store = await openLibsql({ folder, worker: await storeWorker() })
    expect(statSync(folder).mode & 0o077).toBe(0)
    await store.close()
  })

  it('refuses data of a newer Talus, and a file that is no data at all', async () => {
    const worker = await storeWorker()
    const folder = dataFolder()
    await (await openLibsql({ folder, worker })).close()
    const sql = new Database(join(folder, 'talus.db'))
    sql.exec(`UPDATE about SET value = '99' WHERE key = 'layout'`)
    sql.close()
    await expect(openLibsql({ folder, worker })).rejects.toMatchObject({ code: 'newer' })
    const garbage = dataFolder()
    writeFileSync(join(garbage, 'talus.db'), 'this is not a database at all, '.repeat(400))
    await expect(openLibsql({ folder: garbage, worker })).rejects.toMatchObject({ code: 'io' })
  })

  it('is copied whole while edits go on', async () => {
    const worker = await storeWorker()
    const store = await openLibsql({ folder: dataFolder(), worker })
    const copy = dataFolder()
    await store.append('a', 0, [anEntry({ changes: [put('jacket', aJacketRecord('j1'))] })])
    const backup = store.backup(join(copy, 'talus.db'))
    for (let seq = 1; seq < 50; seq++) await store.append('a', seq, [anEntry()])
    await backup
    await expect(store.backup(join(copy, 'talus.db'))).rejects.toThrow('exists')
    await store.close()
    await expect(store.head('a')).rejects.toMatchObject({ code: 'closed' })
    const other = await openLibsql({ folder: copy, worker })
    const head = await other.head('a')
    expect(head).toBeGreaterThanOrEqual(1)
    expect(await other.read('a', 0, 100)).toHaveLength(head)
    expect((await other.snapshot('a', 'board')).records).toHaveLength(1)
    await other.close()
  })
})

describe('R8 killed with -9 at any instant', () => {
  const KILLS = 30
  it(`has everything it acknowledged, in ${KILLS} kills`, { timeout: 120_000 }, async () => {
    const worker = await storeWorker()
    const script = await bundle('tests/kit/append-for-ever.ts', 'append-for-ever')
    const folder = dataFolder()
    const seed = Number(process.env.SEED ?? 1)
    console.info(`kills: seed ${seed}`)
    const random = seededRandom(seed)
    let acknowledged = 0
    for (let kill = 0; kill < KILLS; kill++) {
      acknowledged = await killWhileAppending(fileURLToPath(script), fileURLToPath(worker), folder, acknowledged, () =>
        random.below(60),
      )
      const store = await openLibsql({ folder, worker })
      const head = await store.head('a')
      expect(head, `after kill ${kill + 1}`).toBeGreaterThanOrEqual(acknowledged)
      const entries = await store.read('a', 0, head + 1)
      expect(entries.map(({ opId }) => opId)).toEqual(entries.map((_, i) => `op-${i + 1}`))
      // Records and entries agree: both or neither.
      const { records } = await store.snapshot('a', 'board')
      expect(records.map(({ record }) => (record as { shelf: string }).shelf)).toEqual([`shelf ${head}`])
      await store.close()
      acknowledged = head
    }
    expect(existsSync(join(folder, 'talus.db'))).toBe(true)
    expect(acknowledged).toBeGreaterThan(KILLS)
  })
})

/** Lets a child append until it is killed; answers the last position it acknowledged. */
function killWhileAppending(
  script: string,
  worker: string,
  folder: string,
  from: number,
  afterMs: () => number,
): Promise<number> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [script, folder, worker], { stdio: ['ignore', 'pipe', 'inherit'] })
    let said = ''
    let isDoomed = false
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString()
      if (isDoomed) return
      isDoomed = true
      setTimeout(() => child.kill('SIGKILL'), afterMs())
    })
    child.on('error', reject)
    child.on('exit', () => {
      const lines = said.split('\n').slice(0, -1)
      resolve(Math.max(from, Number(lines.at(-1) ?? 0)))
    })
  })
}
