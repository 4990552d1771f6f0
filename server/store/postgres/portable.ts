// PostgreSQL's rows for another store, and another's taken in (../portable.ts), over one connection.
import { StoreTrouble } from '../contract.ts'
import { columnsOf, type Fillable, PAGE, type Row, type TableName, tables, type Value } from '../portable.ts'
import { foundBySql, lexemesOf } from './archive.ts'
import type { Query } from './line.ts'

const types = { text: 'text', whole: 'bigint', bytes: 'bytea' } as const

export function portableTables(query: Query): Fillable {
  return {
    labs: () => query('SELECT name, seq, rests FROM lab ORDER BY name'),
    page: async (table, lab, after) => {
      const { key, isOfLab } = tables[table]
      const columns = columnsOf(table)
      const values: Value[] = [...(isOfLab ? [lab] : []), ...(after ?? [])]
      const first = isOfLab ? 2 : 1
      const where = [
        isOfLab ? ['lab = (SELECT n FROM lab WHERE name = $1)'] : [],
        after ? [`(${key.join(', ')}) > (${key.map((_, n) => `$${first + n}`).join(', ')})`] : [],
      ].flat()
      const rows = await query<Readonly<Record<string, Value>>>(
        `SELECT ${columns.join(', ')} FROM ${table} ${where.length > 0 ? `WHERE ${where.join(' AND ')}` : ''}
         ORDER BY ${key.join(', ')} LIMIT ${PAGE}`,
        values,
      )
      return rows.map((row) => columns.map((name) => row[name] ?? null))
    },
    begin: async () => {
      const [kept] = await query<{ n: number }>('SELECT (SELECT count(*) FROM lab) + (SELECT count(*) FROM door) AS n')
      if (kept?.n !== 0) throw new StoreTrouble('io', 'The database holds a lab already. Name an empty one.')
      await query('BEGIN')
    },
    addLab: async ({ name, seq, rests }) => {
      await query('INSERT INTO lab (name, seq, rests) VALUES ($1, $2, $3)', [name, seq, rests])
    },
    add: async (table, lab, rows) => {
      await addRows(
        query,
        table,
        lab,
        rows.map(({ row }) => row),
        rows.map(({ foundBy }) => lexemesOf(foundBy)),
      )
      const subjects = rows.flatMap(({ row, subjects: ids }) => ids.map((id) => ({ id, seq: row[0] })))
      if (subjects.length === 0) return
      await query(
        `INSERT INTO subject (lab, id, seq) SELECT DISTINCT l.n, new.id, new.seq
         FROM lab l, unnest($2::text[], $3::bigint[]) AS new (id, seq) WHERE l.name = $1`,
        [lab, subjects.map(({ id }) => id), subjects.map(({ seq }) => seq)],
      )
    },
    commit: async () => {
      await query('COMMIT')
      // What was not there a moment ago is planned for as if it were nothing, until the database has looked.
      await query('ANALYZE')
    },
    drop: async () => {
      await query('ROLLBACK')
    },
  }
}

async function addRows(
  query: Query,
  table: TableName,
  lab: string | null,
  rows: readonly Row[],
  foundBy: readonly string[],
): Promise<void> {
  const { columns, isOfLab } = tables[table]
  const names = columnsOf(table)
  const isResting = table === 'resting'
  const arrays = Object.values(columns).map((type, n) => `$${n + 2}::${types[type]}[]`)
  const index = isResting ? [`$${names.length + 2}::text[]`] : []
  const into = [...(isOfLab ? ['lab'] : []), ...names, ...(isResting ? ['found_by'] : [])]
  const from = [
    ...(isOfLab ? ['l.n'] : []),
    ...names.map((name) => `new.${name}`),
    ...(isResting ? [foundBySql('l.n')] : []),
  ]
  await query(
    `INSERT INTO ${table} (${into.join(', ')}) SELECT ${from.join(', ')}
     FROM (SELECT (SELECT n FROM lab WHERE name = $1::text) AS n) l,
       unnest(${[...arrays, ...index].join(', ')}) AS new (${[...names, ...(isResting ? ['found_by'] : [])].join(', ')})`,
    [
      lab,
      ...names.map((_, n) =>
        rows.map((row) => (row[n] instanceof Uint8Array ? Buffer.from(row[n]) : (row[n] ?? null))),
      ),
      ...(isResting ? [foundBy] : []),
    ],
  )
}
