// Texts typed together, and the door's small items.
import type { DoorItem, TextBase, TextUpdate } from '../contract.ts'
import type { DoorChange } from '../gathered.ts'
import { inTransaction, type Sql } from './open.ts'
import { toItem, type WireItem, type WireText } from './wire.ts'

/** Text tables; `labOf` numbers a lab, making it when `isNew` is allowed. */
export function textTables(sql: Sql, labOf: (name: string) => { n: number } | undefined) {
  const addLab = sql.prepare('INSERT OR IGNORE INTO lab (name, seq, rests) VALUES (?, 0, 0)')
  const lastUpdate = sql.prepare('SELECT max(n) AS n FROM text_update WHERE lab = ? AND name = ?')
  const findBase = sql.prepare('SELECT up_to AS upTo, epoch, holders, bytes FROM text_base WHERE lab = ? AND name = ?')
  const addUpdate = sql.prepare(
    'INSERT INTO text_update (lab, name, n, client, person, bytes) VALUES (?, ?, ?, ?, ?, ?)',
  )
  const updates = sql.prepare(
    `SELECT n, client, person AS personId, bytes FROM text_update WHERE lab = ? AND name = ? AND n > ? ORDER BY n`,
  )
  const names = sql.prepare(
    'SELECT name FROM text_base WHERE lab = ? UNION SELECT name FROM text_update WHERE lab = ? ORDER BY name',
  )
  const dropUpdates = sql.prepare('DELETE FROM text_update WHERE lab = ? AND name = ? AND n <= ?')
  const putBase = sql.prepare(
    `INSERT INTO text_base (lab, name, up_to, epoch, holders, bytes) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (lab, name) DO UPDATE SET up_to = excluded.up_to, epoch = excluded.epoch,
       holders = excluded.holders, bytes = excluded.bytes`,
  )

  function labNumber(name: string): number {
    addLab.run([name])
    return (labOf(name) as { n: number }).n
  }

  function upToOf(lab: number, name: string): number {
    const last = lastUpdate.get([lab, name]) as { n: number | null }
    const base = findBase.get([lab, name]) as { upTo: number } | undefined
    return Math.max(last.n ?? 0, base?.upTo ?? 0)
  }

  return {
    appendText: (lab: string, name: string, list: readonly TextUpdate[]): void =>
      inTransaction(sql, () => {
        const number = labNumber(lab)
        let n = upToOf(number, name)
        for (const { bytes, client, personId } of list)
          addUpdate.run([number, name, ++n, client, personId, Buffer.from(bytes)])
      }),
    loadText: (lab: string, name: string): WireText => {
      const number = labOf(lab)?.n
      if (number === undefined) return { base: null, updates: [], upTo: 0 }
      const base = findBase.get([number, name]) as (WireText['base'] & { upTo: number }) | undefined
      const rows = updates.all([number, name, base?.upTo ?? 0]) as WireText['updates']
      return {
        base: base ? { epoch: base.epoch, holders: base.holders, bytes: new Uint8Array(base.bytes) } : null,
        // libsql gives blobs of single rows as Buffer, of many rows as ArrayBuffer.
        updates: rows.map((row) => ({ ...row, bytes: new Uint8Array(row.bytes) })),
        upTo: rows.at(-1)?.n ?? base?.upTo ?? 0,
      }
    },
    texts: (lab: string): readonly string[] => {
      const number = labOf(lab)?.n
      return number === undefined ? [] : (names.all([number, number]) as { name: string }[]).map((row) => row.name)
    },
    compactText: (lab: string, name: string, upTo: number, base: TextBase): void =>
      inTransaction(sql, () => {
        const number = labNumber(lab)
        putBase.run([number, name, upTo, base.epoch, JSON.stringify(base.holders), Buffer.from(base.bytes)])
        dropUpdates.run([number, name, upTo])
      }),
  }
}

/** The door's tables. */
export function doorTable(sql: Sql) {
  const put = sql.prepare(
    `INSERT INTO door (space, key, value, expires) VALUES (?, ?, ?, ?)
     ON CONFLICT (space, key) DO UPDATE SET value = excluded.value, expires = excluded.expires`,
  )
  const unexpired = '(expires IS NULL OR expires > ?)'
  const get = sql.prepare(
    `SELECT key, value, expires AS expiresAt FROM door WHERE space = ? AND key = ? AND ${unexpired}`,
  )
  const remove = sql.prepare('DELETE FROM door WHERE space = ? AND key = ?')
  const list = sql.prepare(
    `SELECT key, value, expires AS expiresAt FROM door WHERE space = ? AND ${unexpired} ORDER BY key`,
  )
  const sweep = sql.prepare('DELETE FROM door WHERE expires IS NOT NULL AND expires <= ?')
  const find = (space: string, key: string, now: number): DoorItem | null => {
    const row = get.get([space, key, now]) as WireItem | undefined
    return row ? toItem(row) : null
  }
  return {
    write: (changes: readonly DoorChange[]): void =>
      inTransaction(sql, () => {
        for (const { space, key, item } of changes)
          if (item) put.run([space, key, JSON.stringify(item.value), item.expiresAt])
          else remove.run([space, key])
      }),
    get: find,
    take: (space: string, key: string, now: number): DoorItem | null =>
      inTransaction(sql, () => {
        const item = find(space, key, now)
        remove.run([space, key])
        return item
      }),
    list: (space: string, now: number): readonly DoorItem[] => (list.all([space, now]) as WireItem[]).map(toItem),
    sweep: (now: number): void => void sweep.run([now]),
  }
}
