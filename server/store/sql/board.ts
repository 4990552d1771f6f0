// Entries and records: what happened, and what stands now. One transaction writes both, so that after a crash they
// agree, and opening a lab reads records alone, however long its history is.
import type { Appended, Receipt } from '../contract.ts'
import { inTransaction, type Sql } from './open.ts'
import type { WireChange, WireEntry, WireKept, WirePlaced, WireSnapshot } from './wire.ts'

// Resting rows are numbered within their lab's own stretch of row numbers, so that a search reads no other lab's.
export const RESTS_PER_LAB = 2 ** 32

interface LabRow {
  readonly n: number
  readonly seq: number
  readonly rests: number
}

/** Prepared statements over one connection. */
export function boardTables(sql: Sql) {
  const findLab = sql.prepare('SELECT n, seq, rests FROM lab WHERE name = ?')
  const addLab = sql.prepare('INSERT INTO lab (name, seq, rests) VALUES (?, 0, 0)')
  const setHead = sql.prepare('UPDATE lab SET seq = ?, rests = ? WHERE n = ?')
  const addEntry = sql.prepare(
    'INSERT INTO entry (lab, seq, id, kind, person, at, words, body) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
  )
  const addSubject = sql.prepare('INSERT OR IGNORE INTO subject (lab, id, seq) VALUES (?, ?, ?)')
  const putRecord = sql.prepare(
    `INSERT INTO record (lab, home, kind, id, words, json) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (lab, home, kind, id) DO UPDATE SET words = excluded.words, json = excluded.json`,
  )
  const dropRecord = sql.prepare('DELETE FROM record WHERE lab = ? AND home = ? AND kind = ? AND id = ?')
  const findResting = sql.prepare('SELECT n FROM resting WHERE lab = ? AND id = ?')
  const addResting = sql.prepare('INSERT INTO resting (n, lab, id, number, words, json) VALUES (?, ?, ?, ?, ?, ?)')
  const dropResting = sql.prepare('DELETE FROM resting WHERE n = ?')
  const addWords = sql.prepare('INSERT INTO resting_words (rowid, words) VALUES (?, ?)')
  const addWord = sql.prepare('INSERT OR IGNORE INTO resting_word (word) VALUES (?)')
  const dropWords = sql.prepare('DELETE FROM resting_words WHERE rowid = ?')
  const receiptOf = sql.prepare('SELECT id AS opId, seq, at FROM entry WHERE lab = ? AND id = ?')
  const recent = sql.prepare('SELECT id AS opId, seq, at FROM entry WHERE lab = ? ORDER BY seq DESC LIMIT ?')
  const after = sql.prepare(
    'SELECT seq, id, kind, person, at, words, body FROM entry WHERE lab = ? AND seq > ? ORDER BY seq LIMIT ?',
  )
  const ofSubject = sql.prepare(
    `SELECT e.seq, e.id, e.kind, e.person, e.at, e.words, e.body FROM subject s
     JOIN entry e ON e.lab = s.lab AND e.seq = s.seq
     WHERE s.lab = ? AND s.id = ? AND s.seq < ? ORDER BY s.seq DESC LIMIT ?`,
  )
  const rewriteBody = sql.prepare('UPDATE entry SET body = ? WHERE lab = ? AND seq = ?')
  const ofHome = sql.prepare('SELECT kind, id, words, json FROM record WHERE lab = ? AND home = ?')
  const oneOfHome = sql.prepare('SELECT kind, id, words, json FROM record WHERE lab = ? AND home = ? AND id = ?')
  const allResting = sql.prepare(`SELECT 'resting' AS kind, id, words, json FROM resting WHERE lab = ? ORDER BY n`)
  const oneResting = sql.prepare(`SELECT 'resting' AS kind, id, words, json FROM resting WHERE lab = ? AND id = ?`)

  const pageOfRecords = sql.prepare(
    `SELECT home, kind, id, words, json FROM record WHERE lab = ? AND (home, kind, id) > (?, ?, ?)
     ORDER BY home, kind, id LIMIT ?`,
  )
  const pageOfResting = sql.prepare(
    `SELECT 'archive' AS home, 'resting' AS kind, id, words, json FROM resting WHERE lab = ? AND id > ? ORDER BY id LIMIT ?`,
  )

  const labOf = (name: string): LabRow | undefined => findLab.get([name]) as LabRow | undefined

  function append(
    name: string,
    expectedSeq: number,
    entries: readonly WireEntry[],
    rewritten: readonly Pick<WireKept, 'seq' | 'body'>[],
  ): Appended {
    const appended = write(name, expectedSeq, entries, rewritten)
    // What was taken out must not stay readable in the write-ahead log; the file itself is kept clean as it is written.
    if (rewritten.length > 0) sql.prepare('PRAGMA wal_checkpoint(TRUNCATE)').all([])
    return appended
  }

  function write(
    name: string,
    expectedSeq: number,
    entries: readonly WireEntry[],
    rewritten: readonly Pick<WireKept, 'seq' | 'body'>[],
  ): Appended {
    return inTransaction(sql, () => {
      let lab = labOf(name)
      if (!lab) {
        addLab.run([name])
        lab = labOf(name) as LabRow
      }
      if (lab.seq !== expectedSeq) return { ok: false, why: 'position', seq: lab.seq }
      const { n } = lab
      const twice = entries.map(({ opId }) => opId).filter((opId) => receiptOf.get([n, opId]) !== undefined)
      if (twice.length > 0) return { ok: false, why: 'op-twice', opIds: twice }
      for (const { seq, body } of rewritten) rewriteBody.run([body, n, seq])
      let { seq, rests } = lab
      for (const entry of entries) {
        seq++
        addEntry.run([n, seq, entry.opId, entry.kind, entry.personId, entry.at, entry.words, entry.body])
        for (const subject of entry.subjects) addSubject.run([n, subject, seq])
        for (const change of entry.changes) {
          if (change.home !== 'archive') layRecord(n, change, entry.words)
          else if (layResting(n, rests + 1, change, entry.words)) rests++
        }
      }
      setHead.run([seq, rests, n])
      return { ok: true, seq }
    })
  }

  function layRecord(n: number, { home, kind, id, json }: WireChange, words: number): void {
    if (json === null) dropRecord.run([n, home, kind, id])
    else putRecord.run([n, home, kind, id, words, json])
  }

  /** True when a row number was used up. */
  function layResting(n: number, next: number, { id, json, resting }: WireChange, words: number): boolean {
    const old = findResting.get([n, id]) as { n: number } | undefined
    if (old) {
      dropResting.run([old.n])
      dropWords.run([old.n])
    }
    if (json === null || !resting) return false
    const row = n * RESTS_PER_LAB + next
    addResting.run([row, n, id, resting.number, words, json])
    addWords.run([row, resting.words])
    for (const word of resting.words.split(' ')) addWord.run([word])
    return true
  }

  return {
    labOf,
    append,
    labs: (): readonly string[] =>
      (sql.prepare('SELECT name FROM lab WHERE seq > 0 ORDER BY name').all() as { name: string }[]).map(
        (row) => row.name,
      ),
    head: (name: string): number => labOf(name)?.seq ?? 0,
    read: (name: string, afterSeq: number, limit: number): readonly WireKept[] => {
      const lab = labOf(name)
      return lab ? (after.all([lab.n, afterSeq, limit]) as WireKept[]) : []
    },
    snapshot: (name: string, home: string, id: string | null): WireSnapshot => {
      const lab = labOf(name)
      if (!lab) return { seq: 0, records: [] }
      const rows =
        home === 'archive'
          ? id === null
            ? allResting.all([lab.n])
            : oneResting.all([lab.n, id])
          : id === null
            ? ofHome.all([lab.n, home])
            : oneOfHome.all([lab.n, home, id])
      return { seq: lab.seq, records: rows as WireSnapshot['records'] }
    },
    records: (
      name: string,
      after: { readonly home: string; readonly kind: string; readonly id: string } | null,
      limit: number,
    ): readonly WirePlaced[] => {
      const lab = labOf(name)
      if (!lab) return []
      const isResting = after?.home === 'archive'
      const page = isResting
        ? []
        : (pageOfRecords.all([lab.n, after?.home ?? '', after?.kind ?? '', after?.id ?? '', limit]) as WirePlaced[])
      if (page.length === limit) return page
      const rest = pageOfResting.all([lab.n, isResting ? after.id : '', limit - page.length]) as WirePlaced[]
      return [...page, ...rest]
    },
    findOps: (name: string, opIds: readonly string[]): readonly Receipt[] => {
      const lab = labOf(name)
      if (!lab) return []
      return opIds.flatMap((opId) => {
        const receipt = receiptOf.get([lab.n, opId]) as Receipt | undefined
        return receipt ? [{ opId, seq: receipt.seq, at: receipt.at }] : []
      })
    },
    recentOps: (name: string, limit: number): readonly Receipt[] => {
      const lab = labOf(name)
      return lab ? (recent.all([lab.n, limit]) as Receipt[]).reverse() : []
    },
    history: (name: string, subject: string, before: number | null, limit: number): readonly WireKept[] => {
      const lab = labOf(name)
      return lab ? (ofSubject.all([lab.n, subject, before ?? Number.MAX_SAFE_INTEGER, limit]) as WireKept[]) : []
    },
  }
}
