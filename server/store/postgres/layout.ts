// The tables in PostgreSQL, in a schema of their own: one lab's, beside which a database may hold other things. They say
// what the embedded store's say; what differs is the archive's index (a tsvector of plain words, the lab among them) and
// `owner`, which names the process that writes.
import type { Client } from 'pg'
import { StoreTrouble } from '../contract.ts'

/** Schema of a lab by itself. */
export const SCHEMA = 'talus'

/** Step by step as they came to be, only added to: databases of every version are out there. */
const steps = [
  `
CREATE TABLE lab (
  n BIGINT GENERATED ALWAYS AS IDENTITY PRIMARY KEY, name TEXT NOT NULL UNIQUE, seq BIGINT NOT NULL, rests BIGINT NOT NULL);
CREATE TABLE entry (
  lab BIGINT NOT NULL, seq BIGINT NOT NULL, id TEXT NOT NULL, kind TEXT NOT NULL, person TEXT, at TEXT NOT NULL,
  words INTEGER NOT NULL, body TEXT NOT NULL, PRIMARY KEY (lab, seq));
CREATE UNIQUE INDEX entry_id ON entry (lab, id);
CREATE TABLE subject (lab BIGINT NOT NULL, id TEXT NOT NULL, seq BIGINT NOT NULL, PRIMARY KEY (lab, id, seq));
CREATE TABLE record (
  lab BIGINT NOT NULL, home TEXT NOT NULL, kind TEXT NOT NULL, id TEXT NOT NULL, words INTEGER NOT NULL,
  json TEXT NOT NULL, PRIMARY KEY (lab, home, kind, id));
CREATE TABLE resting (
  lab BIGINT NOT NULL, n BIGINT NOT NULL, id TEXT NOT NULL, number TEXT NOT NULL, words INTEGER NOT NULL,
  json TEXT NOT NULL, found_by TSVECTOR NOT NULL, PRIMARY KEY (lab, n));
CREATE UNIQUE INDEX resting_id ON resting (lab, id);
CREATE INDEX resting_number ON resting (lab, number);
CREATE INDEX resting_found_by ON resting USING gin (found_by);
CREATE TABLE text_update (
  lab BIGINT NOT NULL, name TEXT NOT NULL, n BIGINT NOT NULL, client BIGINT, person TEXT NOT NULL,
  bytes BYTEA NOT NULL, PRIMARY KEY (lab, name, n));
CREATE TABLE text_base (
  lab BIGINT NOT NULL, name TEXT NOT NULL, up_to BIGINT NOT NULL, epoch TEXT NOT NULL, holders TEXT NOT NULL,
  bytes BYTEA NOT NULL, PRIMARY KEY (lab, name));
CREATE TABLE door (
  space TEXT COLLATE "C" NOT NULL, key TEXT COLLATE "C" NOT NULL, value TEXT NOT NULL, expires BIGINT,
  PRIMARY KEY (space, key));
CREATE INDEX door_expires ON door (expires) WHERE expires IS NOT NULL;
CREATE TABLE owner (
  one BOOLEAN PRIMARY KEY CHECK (one), epoch BIGINT NOT NULL, holder TEXT NOT NULL, address TEXT, since TIMESTAMPTZ NOT NULL);
`,
  // Going over a whole lab page by page, in the order of letters' codes whatever the database's own order is.
  `
CREATE INDEX record_in_order ON record (lab, home COLLATE "C", kind COLLATE "C", id COLLATE "C");
CREATE INDEX resting_in_order ON resting (lab, id COLLATE "C");
`,
]

/** Refuses a database that would not keep what it says it keeps, and brings the tables of a schema up to date. */
export async function prepare(client: Client, schema: string): Promise<void> {
  const { rows } = await client.query<{ fsync: string; encoding: string; standby: boolean }>(
    `SELECT current_setting('fsync') AS fsync, current_setting('server_encoding') AS encoding,
            pg_is_in_recovery() AS standby`,
  )
  const [facts] = rows
  if (facts?.standby) throw new StoreTrouble('io', 'The database is a standby and takes no writes. Name the primary.')
  if (facts?.fsync !== 'on')
    throw new StoreTrouble('io', 'The database runs with fsync off: what it calls kept would not survive a crash.')
  if (facts.encoding !== 'UTF8')
    throw new StoreTrouble('io', `The database has the encoding ${facts.encoding}. Make one with the encoding UTF8.`)
  await client.query('BEGIN')
  try {
    await client.query(`CREATE SCHEMA IF NOT EXISTS ${schema}`)
    await client.query('CREATE TABLE IF NOT EXISTS about (key TEXT PRIMARY KEY, value TEXT NOT NULL)')
    const about = await client.query<{ value: string }>(`SELECT value FROM about WHERE key = 'layout'`)
    const version = Number(about.rows[0]?.value ?? 0)
    if (version > steps.length)
      throw new StoreTrouble('newer', 'The data in the database was written by a newer Talus. Start that one.')
    for (const step of steps.slice(version)) await client.query(step)
    if (version < steps.length)
      await client.query(
        `INSERT INTO about VALUES ('layout', $1) ON CONFLICT (key) DO UPDATE SET value = excluded.value`,
        [String(steps.length)],
      )
    await client.query('COMMIT')
  } catch (error) {
    await client.query('ROLLBACK').catch(() => {})
    throw error
  }
}
