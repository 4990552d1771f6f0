// The one connection that writes. It holds a lock of the database's own for as long as it lives, and every write goes
// over it: whoever has lost the connection has lost the lock and can write nothing, and whoever gets the lock knows that
// no write of the one before can still come. So two servers on one database never both accept, whatever their clocks
// say. The row in `owner` tells a server that comes back whether somebody else has been writing meanwhile.
//
//   open → (lock is free) ours ─── connection lost ──→ trying again each half second ─┬─ row still ours → ours
//        → (taken) StoreTrouble 'in-use'                                              └─ somebody else's → lost, for good
import { randomUUID } from 'node:crypto'
import pg from 'pg'
import { OwnedElsewhere, StoreTrouble } from '../contract.ts'
import { prepare, SCHEMA } from './layout.ts'

/** The same number in every Talus: its lock in a database. Any number nobody else is likely to use. */
const LOCK = 0x74616c75
/** The lock of a schema: the number itself for the one there was before there were several, which older processes ask for. */
const LOCK_OF = `CASE $2::text WHEN '${SCHEMA}' THEN $1::bigint ELSE hashtextextended($2, $1::bigint) END`
const CONNECT_MS = 5_000
const AGAIN_MS = 500
/** A write or a sign of life that takes longer counts as a lost connection. */
const ANSWER_MS = 10_000
const ALIVE_EVERY_MS = 2_000
/**
 * The database ends a connection that says nothing for so long: a process that is frozen must not keep the lock. Said with
 * the lock, since it may be frozen at once, and from the first sign of life on shorter: making a new lab can keep a process
 * busy.
 */
const SILENT_AT_FIRST_MS = 30_000
const SILENT_MS = 12_000
/** A statement may not hang behind somebody at a console for ever. */
const STATEMENT_MS = 30_000
/** The other end notices within about so long that this machine is gone, and lets go of the lock. */
const GONE_MS = 10_000

/** Runs one statement; a `name` has it planned once. */
export type Query = <Row extends object>(text: string, values?: readonly unknown[], name?: string) => Promise<Row[]>

interface Line {
  /** One after the other, each a transaction of its own; fails with a StoreTrouble, or PostgreSQL's word that a key is taken. */
  readonly query: Query
  readonly isWell: () => boolean
  readonly close: () => Promise<void>
}

interface LineOptions {
  readonly url: string
  /** Letters, digits and underscores. */
  readonly schema: string
  /** Where other processes reach this one; null when they cannot. */
  readonly address: string | null
  /** Somebody else writes now: nothing more can be kept here. Called once. */
  readonly onLost: () => void
}

/** How our connections are set up, whatever the address or the server's defaults say. */
export const settingsOf = (url: string, schema: string, more = ''): pg.ClientConfig => ({
  connectionString: url,
  connectionTimeoutMillis: CONNECT_MS,
  keepAlive: true,
  application_name: 'talus',
  types,
  options: `-c search_path=${schema} -c statement_timeout=${STATEMENT_MS} -c client_min_messages=warning ${more}`,
})

const INT8 = 20
// Positions and milliseconds stay far below 2^53.
const types: pg.CustomTypesConfig = {
  getTypeParser: ((oid: number, format: 'text') =>
    oid === INT8 ? Number : pg.types.getTypeParser(oid, format)) as typeof pg.types.getTypeParser,
}

/** What a person can do something about; the address with its password is never part of it. */
export function troubleOf(error: unknown): StoreTrouble {
  if (error instanceof StoreTrouble) return error
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  const message = error instanceof AggregateError ? error.errors.map(String).join('; ') : String(error)
  if (code === '53100') return new StoreTrouble('full', `The database's disk is full: ${message}`)
  return new StoreTrouble('io', `The database cannot keep or read now: ${message}`)
}

/** Takes the lock and the tables; throws a StoreTrouble when that cannot be. */
export async function openLine({ url, schema, address, onLost }: LineOptions): Promise<Line> {
  const holder = randomUUID()
  const durable = `-c synchronous_commit=on -c tcp_keepalives_idle=4 -c tcp_keepalives_interval=2 -c tcp_keepalives_count=3 -c tcp_user_timeout=${GONE_MS}`
  let client: pg.Client | null = null
  let backend = 0
  let isClosed = false
  let isLost = false
  let cancelAgain: NodeJS.Timeout | undefined
  /** Statements take turns on the connection: fulfils when what was asked last is answered, and so all before it. */
  let last: Promise<unknown> = Promise.resolve()

  async function connect(): Promise<pg.Client> {
    const fresh = new pg.Client({ ...settingsOf(url, schema, durable), query_timeout: ANSWER_MS + STATEMENT_MS })
    // Told by 'end' as well; without a listener it would end the process.
    fresh.on('error', () => {})
    try {
      await fresh.connect()
      await fresh.query(`SET idle_session_timeout = ${SILENT_AT_FIRST_MS}`)
      await take(fresh)
      const { rows } = await fresh.query<{ pid: number }>('SELECT pg_backend_pid() AS pid')
      backend = rows[0]?.pid ?? 0
    } catch (error) {
      void fresh.end().catch(() => {})
      throw error
    }
    fresh.once('end', () => {
      if (client === fresh) drop()
    })
    return fresh
  }

  /** Gets the lock, at the start or again. */
  async function take(fresh: pg.Client): Promise<void> {
    const { rows } = await fresh.query<{ got: boolean }>(`SELECT pg_try_advisory_lock(${LOCK_OF}) AS got`, [
      LOCK,
      schema,
    ])
    const owner = await ownerIn(fresh, schema)
    if (!rows[0]?.got) {
      // Our own former connection, which the database has not noticed the end of.
      if (backend !== 0 && owner?.holder === holder) await fresh.query('SELECT pg_terminate_backend($1)', [backend])
      throw new OwnedElsewhere(owner?.address ?? null)
    }
    if (backend !== 0) {
      if (owner?.holder !== holder) throw new OwnedElsewhere(owner?.address ?? null)
      return
    }
    await prepare(fresh, schema)
    await fresh.query(
      `INSERT INTO owner (one, epoch, holder, address, since) VALUES (true, 1, $1, $2, now())
       ON CONFLICT (one) DO UPDATE SET epoch = owner.epoch + 1, holder = $1, address = $2, since = now()`,
      [holder, address],
    )
  }

  function drop(): void {
    const gone = client
    client = null
    void gone?.end().catch(() => {})
    again()
  }

  function again(): void {
    if (isClosed || isLost) return
    clearTimeout(cancelAgain)
    cancelAgain = setTimeout(() => {
      connect().then(
        (fresh) => {
          if (isClosed) void fresh.end().catch(() => {})
          else client = fresh
        },
        async (error) => {
          if (error instanceof OwnedElsewhere && (await isSomebodyElses())) {
            isLost = true
            onLost()
          } else again()
        },
      )
    }, AGAIN_MS)
    cancelAgain.unref()
  }

  /** The lock was not to be had: by whom, says the row. */
  async function isSomebodyElses(): Promise<boolean> {
    const owner = await ownerOf(url, schema).catch(() => null)
    return owner !== null && owner.holder !== holder
  }

  function mustBeOurs(): pg.Client {
    if (isClosed) throw new StoreTrouble('closed', 'The store is closed.')
    if (isLost) throw new OwnedElsewhere(null)
    if (!client) throw new StoreTrouble('io', 'The connection to the database is lost; it is tried again.')
    return client
  }

  async function ask<Row extends object>(text: string, values: readonly unknown[], name?: string): Promise<Row[]> {
    const own = mustBeOurs()
    try {
      const { rows } = await own.query<Row>({ text, values: [...values], ...(name && { name }) })
      return rows
    } catch (error) {
      if (isTaken(error)) throw error
      // Whether it was written is not known, and what is behind it in line must not be written without it.
      if (client === own) drop()
      throw troubleOf(error)
    }
  }

  const inTurn = <Row extends object>(text: string, values: readonly unknown[], name?: string): Promise<Row[]> => {
    const answer = last.then(() => ask<Row>(text, values, name))
    last = answer.catch(() => {})
    return answer
  }

  let isAsked = false
  const alive = setInterval(() => {
    const own = client
    if (!own || isAsked) return
    isAsked = true
    const late = setTimeout(() => {
      if (client === own) drop()
    }, ANSWER_MS)
    void inTurn(`SET idle_session_timeout = ${SILENT_MS}`, [])
      .catch(() => {})
      .finally(() => {
        isAsked = false
        clearTimeout(late)
      })
  }, ALIVE_EVERY_MS)
  alive.unref()

  try {
    client = await connect()
  } catch (error) {
    clearInterval(alive)
    throw troubleOf(error)
  }
  return {
    query: (text, values = [], name = undefined) => inTurn(text, values, name),
    isWell: () => client !== null && !isLost,
    async close() {
      if (isClosed) return
      await last
      isClosed = true
      clearInterval(alive)
      clearTimeout(cancelAgain)
      await client?.end().catch(() => {})
    },
  }
}

/** A key is taken: nothing was written, and the connection is well. */
export const isTaken = (error: unknown): error is pg.DatabaseError =>
  error instanceof pg.DatabaseError && error.code === '23505'

interface Owner {
  readonly holder: string
  readonly address: string | null
}

/** Who writes, or wrote last; null in a database without our tables. */
async function ownerIn(client: pg.Client, schema: string): Promise<Owner | null> {
  const there = await client.query<{ there: boolean }>('SELECT to_regclass($1) IS NOT NULL AS there', [
    `${schema}.owner`,
  ])
  if (!there.rows[0]?.there) return null
  const { rows } = await client.query<Owner>('SELECT holder, address FROM owner')
  return rows[0] ?? null
}

/** Who writes to the database of this address, or wrote last. */
async function ownerOf(url: string, schema: string): Promise<Owner | null> {
  const client = new pg.Client(settingsOf(url, schema))
  client.on('error', () => {})
  await client.connect()
  try {
    return await ownerIn(client, schema)
  } finally {
    await client.end().catch(() => {})
  }
}
