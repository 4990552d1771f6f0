// The embedded store's rows for another store, and another's taken in (../portable.ts). Runs in the store's thread.
import { StoreTrouble } from '../contract.ts'
import { type Carried, columnsOf, PAGE, type PortableLab, type Row, type TableName, tables } from '../portable.ts'
import { RESTS_PER_LAB } from './board.ts'
import { inTransaction, type Sql } from './open.ts'

export function portableTables(sql: Sql) {
  const numberOf = (lab: string | null): number =>
    lab === null ? 0 : (sql.prepare('SELECT n FROM lab WHERE name = ?').get([lab]) as { n: number }).n
  /** Resting rows are numbered within their lab's stretch here, and from 1 elsewhere. */
  const shift = (table: TableName, row: Row, by: number): Row =>
    table === 'resting' ? [Number(row[0]) + by, ...row.slice(1)] : row

  return {
    portableLabs: (): readonly PortableLab[] =>
      sql.prepare('SELECT name, seq, rests FROM lab ORDER BY name').all() as PortableLab[],
    portablePage: (table: TableName, lab: string | null, after: Row | null): readonly Row[] => {
      const { key, isOfLab } = tables[table]
      const columns = columnsOf(table)
      const n = numberOf(lab)
      const behind = after && shift(table, after, n * RESTS_PER_LAB)
      const where = [
        isOfLab ? ['lab = ?'] : [],
        behind ? [`(${key.join(', ')}) > (${key.map(() => '?').join(', ')})`] : [],
      ].flat()
      const rows = sql
        .prepare(
          `SELECT ${columns.join(', ')} FROM ${table} ${where.length > 0 ? `WHERE ${where.join(' AND ')}` : ''}
           ORDER BY ${key.join(', ')} LIMIT ${PAGE}`,
        )
        .all([...(isOfLab ? [n] : []), ...(behind ?? [])]) as Readonly<Record<string, Row[number] | ArrayBuffer>>[]
      return rows.map((row) =>
        shift(
          table,
          columns.map((name) => plain(row[name] ?? null)),
          -n * RESTS_PER_LAB,
        ),
      )
    },
    fillBegin: (): void => {
      const { n } = sql.prepare('SELECT (SELECT count(*) FROM lab) + (SELECT count(*) FROM door) AS n').get() as {
        n: number
      }
      if (n > 0) throw new StoreTrouble('io', 'The data folder holds a lab already. Name an empty one.')
    },
    fillLab: ({ name, seq, rests }: PortableLab): void =>
      void sql.prepare('INSERT INTO lab (name, seq, rests) VALUES (?, ?, ?)').run([name, seq, rests]),
    fillRows: (table: TableName, lab: string | null, rows: readonly Carried[]): void =>
      inTransaction(sql, () => {
        const n = numberOf(lab)
        const columns = [...(tables[table].isOfLab ? ['lab'] : []), ...columnsOf(table)]
        const add = sql.prepare(
          `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
        )
        const addSubject = sql.prepare('INSERT OR IGNORE INTO subject (lab, id, seq) VALUES (?, ?, ?)')
        const addWords = sql.prepare('INSERT INTO resting_words (rowid, words) VALUES (?, ?)')
        const addWord = sql.prepare('INSERT OR IGNORE INTO resting_word (word) VALUES (?)')
        for (const { row, subjects, foundBy } of rows) {
          const own = shift(table, row, n * RESTS_PER_LAB)
          const values = own.map((value) => (value instanceof Uint8Array ? Buffer.from(value) : value))
          add.run([...(tables[table].isOfLab ? [n] : []), ...values])
          for (const subject of subjects) addSubject.run([n, subject, row[0] ?? 0])
          if (table !== 'resting') continue
          addWords.run([own[0] ?? 0, foundBy])
          for (const word of foundBy.split(' ')) addWord.run([word])
        }
      }),
  }
}

// libsql gives blobs of many rows as ArrayBuffer.
const plain = (value: Row[number] | ArrayBuffer): Row[number] =>
  value instanceof ArrayBuffer || value instanceof Uint8Array ? new Uint8Array(value) : value
