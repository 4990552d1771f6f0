// The database file: its layout, its durability, and the lock that keeps a second process off the same data.
// WAL with synchronous=FULL makes each commit survive a crash of the machine; the lock is a transaction held open on a
// file of its own, which the operating system lets go of even when the process is killed.
import { closeSync, existsSync, mkdirSync, openSync, readSync, statSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'libsql'
import { StoreTrouble } from '../contract.ts'

export type Sql = InstanceType<typeof Database>

/**
 * The tables, step by step as they came to be; a file's version is the number of steps it has taken. Steps are only
 * added, since files of every version are out there.
 */
const steps = [
  `
CREATE TABLE about (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE lab (n INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, seq INTEGER NOT NULL, rests INTEGER NOT NULL);
CREATE TABLE entry (
  lab INTEGER NOT NULL, seq INTEGER NOT NULL, id TEXT NOT NULL, kind TEXT NOT NULL, person TEXT, at TEXT NOT NULL,
  words INTEGER NOT NULL, body TEXT NOT NULL, PRIMARY KEY (lab, seq));
CREATE UNIQUE INDEX entry_id ON entry (lab, id);
CREATE TABLE subject (lab INTEGER NOT NULL, id TEXT NOT NULL, seq INTEGER NOT NULL, PRIMARY KEY (lab, id, seq))
  WITHOUT ROWID;
CREATE TABLE record (
  lab INTEGER NOT NULL, home TEXT NOT NULL, kind TEXT NOT NULL, id TEXT NOT NULL, words INTEGER NOT NULL,
  json TEXT NOT NULL, PRIMARY KEY (lab, home, kind, id));
CREATE TABLE resting (
  n INTEGER PRIMARY KEY, lab INTEGER NOT NULL, id TEXT NOT NULL, number TEXT NOT NULL, words INTEGER NOT NULL,
  json TEXT NOT NULL);
CREATE UNIQUE INDEX resting_id ON resting (lab, id);
CREATE INDEX resting_number ON resting (lab, number);
CREATE VIRTUAL TABLE resting_words USING fts5 (
  words, content='', contentless_delete=1, detail=none, prefix='2 3', tokenize='unicode61');
CREATE TABLE text_update (
  lab INTEGER NOT NULL, name TEXT NOT NULL, n INTEGER NOT NULL, client INTEGER, person TEXT NOT NULL,
  bytes BLOB NOT NULL, PRIMARY KEY (lab, name, n)) WITHOUT ROWID;
CREATE TABLE text_base (
  lab INTEGER NOT NULL, name TEXT NOT NULL, up_to INTEGER NOT NULL, epoch TEXT NOT NULL, holders TEXT NOT NULL,
  bytes BLOB NOT NULL, PRIMARY KEY (lab, name));
CREATE TABLE door (
  space TEXT NOT NULL, key TEXT NOT NULL, value TEXT NOT NULL, expires INTEGER, PRIMARY KEY (space, key)) WITHOUT ROWID;
CREATE INDEX door_expires ON door (expires) WHERE expires IS NOT NULL;
INSERT INTO resting_words (resting_words, rank) VALUES ('automerge', 4);
`,
  // Every word of the index once, to turn a long beginning into the few whole words that it can be (see archive.ts).
  `
CREATE TABLE resting_word (word TEXT PRIMARY KEY) WITHOUT ROWID;
CREATE VIRTUAL TABLE resting_vocabulary USING fts5vocab (resting_words, 'row');
INSERT INTO resting_word SELECT term FROM resting_vocabulary;
DROP TABLE resting_vocabulary;
`,
]

// 16 MiB of WAL before it is folded back: rarer pauses, and still read in no time after a crash.
const WAL_PAGES = 4000
// Two connections of this process share the file; a short wait settles who goes first.
const BUSY_MS = 5000

/** The data file in a data folder. */
export const dataFile = (folder: string): string => join(folder, 'talus.db')

/** Takes the folder for this process until `release`; throws when another process has it. */
export function lockFolder(folder: string): () => void {
  // A lab's private notes and contacts: a folder of ours is closed to other accounts. One that was there keeps its owner's choice.
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  const lock = new Database(join(folder, 'talus.lock'))
  try {
    lock.exec('PRAGMA locking_mode = EXCLUSIVE')
    lock.exec('BEGIN EXCLUSIVE')
  } catch (error) {
    lock.close()
    if (!/locked|busy/i.test(String(error))) throw error
    throw new StoreTrouble(
      'in-use',
      `Another Talus is running on the data in ${folder}. Stop it first, or name another folder.`,
    )
  }
  return () => lock.close()
}

/** The trouble of data that is not whole. */
export const damaged = (folder: string, said: string): StoreTrouble =>
  new StoreTrouble(
    'io',
    `The data in ${folder} is damaged or cut off (${said}). Nothing was changed. Keep the folder as it is and restore a backup: npm run restore -- FILE --data ${folder}`,
  )

/**
 * True when the data file is shorter than its own head says. SQLite takes what is missing of a page for noughts and
 * notices late or never. While there is a log of writes, pages that it holds may be missing.
 * Source: SQLite database file format, 1.3 (page size at 16, change counter at 24, pages at 28, valid for at 92).
 */
function isCutOff(folder: string): boolean {
  const file = dataFile(folder)
  const { size } = statSync(file, { throwIfNoEntry: false }) ?? { size: 0 }
  if (size === 0 || (statSync(`${file}-wal`, { throwIfNoEntry: false })?.size ?? 0) > 0) return false
  const head = Buffer.alloc(100)
  const handle = openSync(file, 'r')
  try {
    if (readSync(handle, head, 0, head.length, 0) < head.length) return true
  } finally {
    closeSync(handle)
  }
  if (head.readUInt32BE(24) !== head.readUInt32BE(92)) return false
  // A page of 65 536 bytes is written as 1.
  const pageSize = head.readUInt16BE(16) === 1 ? 65_536 : head.readUInt16BE(16)
  return size < head.readUInt32BE(28) * pageSize
}

/** Opens the data file for writing and brings its tables up to date. */
export function openForWriting(folder: string): Sql {
  if (isCutOff(folder)) throw damaged(folder, 'it is shorter than it was')
  const sql = new Database(dataFile(folder))
  sql.exec('PRAGMA journal_mode = WAL')
  sql.exec('PRAGMA synchronous = FULL')
  // What is taken out at somebody's wish must not stay readable in pages that were given back.
  sql.exec('PRAGMA secure_delete = ON')
  sql.exec(`PRAGMA wal_autocheckpoint = ${WAL_PAGES}`)
  sql.exec('PRAGMA foreign_keys = ON')
  sql.exec('PRAGMA cache_size = -32000')
  sql.exec(`PRAGMA busy_timeout = ${BUSY_MS}`)
  const version = versionOf(sql)
  if (version > steps.length) {
    sql.close()
    throw new StoreTrouble(
      'newer',
      `The data in ${folder} was written by a newer Talus. Start that one, or restore a backup.`,
    )
  }
  if (version < steps.length)
    inTransaction(sql, () => {
      for (const step of steps.slice(version)) sql.exec(step)
      sql.exec(`INSERT OR REPLACE INTO about VALUES ('layout', '${steps.length}')`)
    })
  return sql
}

/** Opens a data file that exists for reading alone, beside the writer. */
export function openForReading(folder: string): Sql {
  if (!existsSync(dataFile(folder))) throw new StoreTrouble('io', `No data in ${folder}.`)
  const sql = new Database(dataFile(folder))
  sql.exec('PRAGMA query_only = ON')
  sql.exec('PRAGMA cache_size = -32000')
  sql.exec(`PRAGMA busy_timeout = ${BUSY_MS}`)
  return sql
}

function versionOf(sql: Sql): number {
  const has = sql.prepare(`SELECT count(*) AS n FROM sqlite_master WHERE name = 'about'`).get() as { n: number }
  if (has.n === 0) return 0
  const row = sql.prepare(`SELECT value FROM about WHERE key = 'layout'`).get() as { value: string }
  return Number(row.value)
}

/** Runs `work` in one transaction: all of it, or nothing. */
export function inTransaction<T>(sql: Sql, work: () => T): T {
  sql.exec('BEGIN IMMEDIATE')
  try {
    const result = work()
    sql.exec('COMMIT')
    return result
  } catch (error) {
    // A full disk may have ended the transaction already.
    if (sql.inTransaction) sql.exec('ROLLBACK')
    throw error
  }
}
