// A real PostgreSQL for tests: a cluster of its own in a temporary folder, on a free port, ended with the test process.
// As root it runs as the machine's user `postgres`, since it refuses root. It syncs to disk as it would anywhere.
import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { chownSync, mkdtempSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pg from 'pg'
import { findPostgres } from '../postgres.mjs'

const READY_MS = 60_000

export interface Postgres {
  /** A new, empty database; its address. */
  readonly database: () => Promise<string>
  /** Runs a statement as the cluster's owner. */
  readonly query: (url: string, text: string) => Promise<readonly Record<string, unknown>[]>
  /** Ends it at once, as a crash does, or in good order. */
  readonly stop: (how: 'immediate' | 'fast') => Promise<void>
  readonly start: () => Promise<void>
}

/** Makes and starts a cluster. */
export async function startPostgres(): Promise<Postgres> {
  const bin = findPostgres((line: string) => console.info(line))
  const folder = mkdtempSync(join(tmpdir(), 'talus-pg-'))
  const as = ownerOfCluster()
  if (as) chownSync(folder, as.uid, as.gid)
  const data = join(folder, 'data')
  const port = await freePort()
  const made = spawnSync(
    join(bin, 'initdb'),
    ['--pgdata', data, '--username', 'talus', '--auth', 'trust', '--encoding', 'UTF8', '--locale', 'C', '--no-sync'],
    { ...as, cwd: folder, encoding: 'utf8' },
  )
  if (made.status !== 0) throw new Error(`initdb failed: ${made.stderr}${made.error ?? ''}`)

  let server: ChildProcess | null = null
  let said = ''
  const admin = `postgres://talus@127.0.0.1:${port}/postgres`
  const query = async (url: string, text: string) => {
    const client = new pg.Client({ connectionString: url })
    client.on('error', () => {})
    await client.connect()
    try {
      return (await client.query(text)).rows
    } finally {
      await client.end()
    }
  }
  const start = async () => {
    const args = ['-D', data, '-p', String(port), '-h', '127.0.0.1', '-k', folder]
    // How a crashed cluster makes sure of its files before it reads them: one call instead of a walk over all of them.
    const small = ['-c', 'recovery_init_sync_method=syncfs', '-c', 'shared_buffers=32MB', '-c', 'max_connections=60']
    const child = spawn(join(bin, 'postgres'), [...args, ...small], {
      ...as,
      cwd: folder,
      stdio: ['ignore', 'pipe', 'pipe'],
    })
    child.stderr?.on('data', (part) => {
      said += part
    })
    server = child
    const until = Date.now() + READY_MS
    for (;;) {
      try {
        await query(admin, 'SELECT 1')
        return
      } catch (error) {
        if (Date.now() > until || child.exitCode !== null)
          throw new Error(`PostgreSQL did not start: ${error}\n${said}`)
        await new Promise((resolve) => setTimeout(resolve, 50))
      }
    }
  }
  const stop = async (how: 'immediate' | 'fast') => {
    const child = server
    server = null
    if (!child || child.exitCode !== null) return
    const ended = new Promise((resolve) => child.once('exit', resolve))
    child.kill(how === 'immediate' ? 'SIGQUIT' : 'SIGINT')
    await ended
  }
  process.once('exit', () => {
    server?.kill('SIGQUIT')
    rmSync(folder, { recursive: true, force: true })
  })
  await start()
  let databases = 0
  return {
    async database() {
      const name = `lab${++databases}`
      await query(admin, `CREATE DATABASE ${name}`)
      return `postgres://talus@127.0.0.1:${port}/${name}`
    },
    query,
    stop,
    start,
  }
}

/** PostgreSQL refuses root: whom it runs as instead; null when we are not root. */
function ownerOfCluster(): { uid: number; gid: number } | null {
  if (process.getuid?.() !== 0) return null
  const id = (what: string) => Number(spawnSync('id', [what, 'postgres'], { encoding: 'utf8' }).stdout)
  return { uid: id('-u'), gid: id('-g') }
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer()
    server.once('error', reject)
    server.listen(0, '127.0.0.1', () => {
      const address = server.address()
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
}
