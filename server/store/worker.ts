// The thread that holds the database: a commit waits for the disk, and nothing else should. There are two of it, one
// that writes and one that only reads, so that a search or a backup never makes an edit wait.
import { existsSync } from 'node:fs'
import { parentPort, workerData } from 'node:worker_threads'
import { StoreTrouble } from './contract.ts'
import { archiveTable } from './sql/archive.ts'
import { boardTables } from './sql/board.ts'
import type { Calls, Reply, Request } from './sql/calls.ts'
import { damaged, lockFolder, openForReading, openForWriting } from './sql/open.ts'
import { portableTables } from './sql/portable.ts'
import { doorTable, textTables } from './sql/side-tables.ts'

// Set by the only place that starts this thread, libsql.ts.
const { folder, mode } = workerData as { folder: string; mode: 'write' | 'read' }

function open(): { calls: Calls; close: () => void } {
  const unlock = mode === 'write' ? lockFolder(folder) : () => {}
  const sql = mode === 'write' ? openForWriting(folder) : openForReading(folder)
  const { labOf, ...board } = boardTables(sql)
  const calls: Calls = {
    ...board,
    ...textTables(sql, labOf),
    ...portableTables(sql),
    search: archiveTable(sql),
    door: doorTable(sql),
    backup: (file) => {
      if (existsSync(file)) throw new StoreTrouble('io', `${file} exists already.`)
      // It writes to the new file alone, which the reading connection is otherwise kept from.
      sql.exec('PRAGMA query_only = OFF')
      try {
        sql.prepare('VACUUM INTO ?').run([file])
      } finally {
        if (mode === 'read') sql.exec('PRAGMA query_only = ON')
      }
    },
  }
  const close = () => {
    sql.close()
    unlock()
  }
  return { calls, close }
}

/** What SQLite says, for whoever runs the server: what happened, what is kept, what to do. */
function inWords(error: unknown, isOpening: boolean): StoreTrouble {
  if (error instanceof StoreTrouble) return error
  const said = error instanceof Error ? error.message : String(error)
  if (/full/i.test(said)) return new StoreTrouble('full', said)
  if (/malformed|not a database|corrupt/i.test(said)) return damaged(folder, said)
  if (isOpening && /readonly|read-only|unable to open/i.test(said))
    return new StoreTrouble(
      'io',
      `The data in ${folder} cannot be written: the disk is read-only or the folder belongs to another account (${said}). Nothing was changed. Make it writable, or name another with --data DIR.`,
    )
  return new StoreTrouble('io', said)
}

function main(port: NonNullable<typeof parentPort>): void {
  const reply = (message: Reply) => port.postMessage(message)
  const failed = (n: number, error: unknown) => {
    const { code, message } = inWords(error, n === 0)
    reply({ n, ok: false, code, message })
  }
  let database: ReturnType<typeof open>
  try {
    database = open()
    reply({ n: 0, ok: true, result: null })
  } catch (error) {
    failed(0, error)
    port.close()
    return
  }
  port.on('message', ({ n, name, args }: Request) => {
    try {
      if (name === 'close') {
        database.close()
        reply({ n, ok: true, result: null })
        port.close()
        return
      }
      const [group, call] = name.startsWith('door.') ? [database.calls.door, name.slice(5)] : [database.calls, name]
      // Both ends are typed by `Calls`; between them is only a copy.
      const run = (group as unknown as Record<string, (...args: readonly unknown[]) => unknown>)[call]
      if (!run) throw new Error(`No such call: ${name}`)
      reply({ n, ok: true, result: run(...args) ?? null })
    } catch (error) {
      failed(n, error)
    }
  })
}

if (parentPort) main(parentPort)
