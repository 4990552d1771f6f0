// Entries and records in PostgreSQL: what happened, and what stands now. One statement writes both, so it is one way to
// the database and one commit, all or nothing, and after a crash they agree.
import type { Appended, Receipt } from '../contract.ts'
import type { WireChange, WireEntry, WireKept, WirePlaced, WireSnapshot } from '../sql/wire.ts'
import { foundBySql, lexemesOf } from './archive.ts'
import { isTaken, type Query } from './line.ts'

/** The lab's row moves on from the position that was expected, or nothing of this happens. */
const APPEND = `
WITH head AS (
  UPDATE lab SET seq = seq + $3, rests = rests + $4 WHERE name = $1 AND seq = $2 RETURNING n, seq, rests - $4 AS rests),
rewriting AS (
  UPDATE entry SET body = new.body FROM head, unnest($5::bigint[], $6::text[]) AS new (seq, body)
  WHERE entry.lab = head.n AND entry.seq = new.seq),
entries AS (
  INSERT INTO entry (lab, seq, id, kind, person, at, words, body)
  SELECT head.n, $2 + new.i, new.id, new.kind, new.person, new.at, new.words, new.body
  FROM head, unnest($7::text[], $8::text[], $9::text[], $10::text[], $11::int[], $12::text[]) WITH ORDINALITY
    AS new (id, kind, person, at, words, body, i)),
subjects AS (
  INSERT INTO subject (lab, id, seq) SELECT DISTINCT head.n, new.id, $2 + new.i
  FROM head, unnest($13::text[], $14::bigint[]) AS new (id, i)),
gone AS (
  DELETE FROM record USING head, unnest($15::text[], $16::text[], $17::text[]) AS old (home, kind, id)
  WHERE record.lab = head.n AND record.home = old.home AND record.kind = old.kind AND record.id = old.id),
laid AS (
  INSERT INTO record (lab, home, kind, id, words, json)
  SELECT head.n, new.home, new.kind, new.id, new.words, new.json
  FROM head, unnest($18::text[], $19::text[], $20::text[], $21::int[], $22::text[]) AS new (home, kind, id, words, json)
  ON CONFLICT (lab, home, kind, id) DO UPDATE SET words = excluded.words, json = excluded.json),
woken AS (
  DELETE FROM resting USING head, unnest($23::text[]) AS old (id) WHERE resting.lab = head.n AND resting.id = old.id),
rested AS (
  INSERT INTO resting (lab, n, id, number, words, json, found_by)
  SELECT head.n, head.rests + new.i, new.id, new.number, new.words, new.json,
    ${foundBySql('head.n')}
  FROM head, unnest($24::text[], $25::text[], $26::int[], $27::text[], $28::text[]) WITH ORDINALITY
    AS new (id, number, words, json, found_by, i)
  ON CONFLICT (lab, id) DO UPDATE SET n = excluded.n, number = excluded.number, words = excluded.words,
    json = excluded.json, found_by = excluded.found_by)
SELECT seq FROM head`

/** Fields of an entry as they are read back. */
const FIELDS = 'e.seq, e.id, e.kind, e.person, e.at, e.words, e.body'

/** Over the writing connection; `read` may be another one. */
export function boardTables(write: Query, read: Query, makeLab: (lab: string) => Promise<void>) {
  async function append(
    name: string,
    expectedSeq: number,
    entries: readonly WireEntry[],
    rewritten: readonly Pick<WireKept, 'seq' | 'body'>[],
  ): Promise<Appended> {
    await makeLab(name)
    try {
      const values = [name, expectedSeq, ...rowsOf(entries, rewritten)]
      const [head] = await write<{ seq: number }>(APPEND, values, 'append')
      if (head) return { ok: true, seq: head.seq }
    } catch (error) {
      if (!isTaken(error)) throw error
      const opIds = (
        await findOps(
          name,
          entries.map(({ opId }) => opId),
        )
      ).map(({ opId }) => opId)
      // Taken, and not by an op that is kept: two of one batch have one id, which is a mistake of ours.
      if (opIds.length === 0) throw error
      return { ok: false, why: 'op-twice', opIds }
    }
    return { ok: false, why: 'position', seq: await head(name) }
  }

  async function head(name: string): Promise<number> {
    const [row] = await read<{ seq: number }>('SELECT seq FROM lab WHERE name = $1', [name])
    return row?.seq ?? 0
  }

  async function findOps(name: string, opIds: readonly string[]): Promise<readonly Receipt[]> {
    const rows = await read<Receipt>(
      `SELECT e.id AS "opId", e.seq, e.at FROM lab l JOIN unnest($2::text[]) WITH ORDINALITY AS asked (id, i) ON true
       JOIN entry e ON e.lab = l.n AND e.id = asked.id WHERE l.name = $1 ORDER BY asked.i`,
      [name, opIds],
    )
    return rows
  }

  return {
    append,
    head,
    findOps,
    labs: async (): Promise<readonly string[]> =>
      (await read<{ name: string }>('SELECT name FROM lab WHERE seq > 0 ORDER BY name COLLATE "C"')).map(
        (row) => row.name,
      ),
    read: (name: string, afterSeq: number, limit: number): Promise<readonly WireKept[]> =>
      read(
        `SELECT ${FIELDS} FROM lab l JOIN entry e ON e.lab = l.n WHERE l.name = $1 AND e.seq > $2 ORDER BY e.seq LIMIT $3`,
        [name, afterSeq, limit],
      ),
    /** One statement, so position and records are of one moment. */
    snapshot: async (name: string, home: string, id: string | null): Promise<WireSnapshot> => {
      const table =
        home === 'archive'
          ? `(SELECT lab, n, 'resting' AS kind, id, words, json FROM resting WHERE $2 = 'archive')`
          : '(SELECT lab, 0 AS n, kind, id, words, json FROM record WHERE home = $2)'
      const rows = await read<WireSnapshot['records'][number] & { seq: number; id: string | null }>(
        `SELECT l.seq, r.kind, r.id, r.words, r.json FROM lab l
         LEFT JOIN ${table} r ON r.lab = l.n AND ($3::text IS NULL OR r.id = $3)
         WHERE l.name = $1 ORDER BY r.n, r.kind COLLATE "C", r.id COLLATE "C"`,
        [name, home, id],
      )
      const records = rows.flatMap(({ seq: _, ...record }) => (record.id === null ? [] : [record]))
      return { seq: rows[0]?.seq ?? 0, records }
    },
    records: async (
      name: string,
      after: { readonly home: string; readonly kind: string; readonly id: string } | null,
      limit: number,
    ): Promise<readonly WirePlaced[]> => {
      const isResting = after?.home === 'archive'
      const page = isResting
        ? []
        : await read<WirePlaced>(
            `SELECT r.home, r.kind, r.id, r.words, r.json FROM lab l JOIN record r ON r.lab = l.n
             WHERE l.name = $1 AND (r.home COLLATE "C", r.kind COLLATE "C", r.id COLLATE "C") > ($2, $3, $4)
             ORDER BY r.home COLLATE "C", r.kind COLLATE "C", r.id COLLATE "C" LIMIT $5`,
            [name, after?.home ?? '', after?.kind ?? '', after?.id ?? '', limit],
          )
      if (page.length === limit) return page
      const rest = await read<WirePlaced>(
        `SELECT 'archive' AS home, 'resting' AS kind, r.id, r.words, r.json FROM lab l JOIN resting r ON r.lab = l.n
         WHERE l.name = $1 AND r.id COLLATE "C" > $2 ORDER BY r.id COLLATE "C" LIMIT $3`,
        [name, isResting ? after.id : '', limit - page.length],
      )
      return [...page, ...rest]
    },
    recentOps: async (name: string, limit: number): Promise<readonly Receipt[]> =>
      (
        await read<Receipt>(
          `SELECT e.id AS "opId", e.seq, e.at FROM lab l JOIN entry e ON e.lab = l.n WHERE l.name = $1
           ORDER BY e.seq DESC LIMIT $2`,
          [name, limit],
        )
      ).reverse(),
    history: (name: string, subject: string, before: number | null, limit: number): Promise<readonly WireKept[]> =>
      read(
        `SELECT ${FIELDS} FROM lab l JOIN subject s ON s.lab = l.n JOIN entry e ON e.lab = s.lab AND e.seq = s.seq
         WHERE l.name = $1 AND s.id = $2 AND s.seq < $3 ORDER BY s.seq DESC LIMIT $4`,
        [name, subject, before ?? Number.MAX_SAFE_INTEGER, limit],
      ),
  }
}

/** Of each record only the last change of a batch counts, and a statement may touch a row once. */
function lastOfEach(entries: readonly WireEntry[]): readonly (WireChange & { readonly words: number })[] {
  const last = new Map<string, WireChange & { readonly words: number }>()
  for (const { changes, words } of entries)
    for (const change of changes) {
      const key = `${change.home} ${change.kind} ${change.id}`
      last.delete(key)
      last.set(key, { ...change, words })
    }
  return [...last.values()]
}

/** The values behind the name and the position, in the statement's order. */
function rowsOf(entries: readonly WireEntry[], rewritten: readonly Pick<WireKept, 'seq' | 'body'>[]): unknown[] {
  const changes = lastOfEach(entries)
  const board = changes.filter(({ home }) => home !== 'archive')
  const [gone, laid] = [board.filter(({ json }) => json === null), board.filter(({ json }) => json !== null)]
  const archive = changes.filter(({ home }) => home === 'archive')
  const [woken, rested] = [archive.filter(({ json }) => json === null), archive.filter(({ json }) => json !== null)]
  const subjects = entries.flatMap((entry, i) => entry.subjects.map((id) => ({ id, i: i + 1 })))
  return [
    entries.length,
    rested.length,
    rewritten.map(({ seq }) => seq),
    rewritten.map(({ body }) => body),
    entries.map(({ opId }) => opId),
    entries.map(({ kind }) => kind),
    entries.map(({ personId }) => personId),
    entries.map(({ at }) => at),
    entries.map(({ words }) => words),
    entries.map(({ body }) => body),
    subjects.map(({ id }) => id),
    subjects.map(({ i }) => i),
    gone.map(({ home }) => home),
    gone.map(({ kind }) => kind),
    gone.map(({ id }) => id),
    laid.map(({ home }) => home),
    laid.map(({ kind }) => kind),
    laid.map(({ id }) => id),
    laid.map(({ words }) => words),
    laid.map(({ json }) => json),
    woken.map(({ id }) => id),
    rested.map(({ id }) => id),
    rested.map(({ resting }) => (resting?.number ?? '').replaceAll('\0', '')),
    rested.map(({ words }) => words),
    rested.map(({ json }) => json),
    rested.map(({ resting }) => lexemesOf(resting?.words ?? '')),
  ]
}
