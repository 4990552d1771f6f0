// Texts typed together, and the door's small items, in PostgreSQL. There is one writer, so a number that was free when a
// statement began is free when it ends.
import type { StoredText, TextBase, TextUpdate } from '../contract.ts'
import type { gatheredDoor } from '../gathered.ts'
import { toItem, toText, type WireItem, type WireText } from '../sql/wire.ts'
import type { Query } from './line.ts'

export function textTables(write: Query, read: Query, makeLab: (lab: string) => Promise<void>) {
  return {
    appendText: async (lab: string, name: string, updates: readonly TextUpdate[]): Promise<void> => {
      await makeLab(lab)
      await write(
        `INSERT INTO text_update (lab, name, n, client, person, bytes)
         SELECT l.n, $2, greatest(
             coalesce((SELECT max(n) FROM text_update u WHERE u.lab = l.n AND u.name = $2), 0),
             coalesce((SELECT up_to FROM text_base b WHERE b.lab = l.n AND b.name = $2), 0)) + new.i,
           new.client, new.person, new.bytes
         FROM lab l, unnest($3::bigint[], $4::text[], $5::bytea[]) WITH ORDINALITY AS new (client, person, bytes, i)
         WHERE l.name = $1`,
        [
          lab,
          name,
          updates.map(({ client }) => client),
          updates.map(({ personId }) => personId),
          updates.map(({ bytes }) => Buffer.from(bytes)),
        ],
      )
    },
    loadText: async (lab: string, name: string): Promise<StoredText> => {
      const [found] = await read<{ n: number }>('SELECT n FROM lab WHERE name = $1', [lab])
      if (!found) return { base: null, updates: [], upTo: 0 }
      // One statement, so base and updates are of one moment.
      const rows = await read<{
        upTo: number | null
        epoch: string
        holders: string
        base: Buffer | null
        n: number | null
        client: number | null
        personId: string
        bytes: Buffer
      }>(
        `SELECT b.up_to AS "upTo", b.epoch, b.holders, b.bytes AS base, u.n, u.client, u.person AS "personId", u.bytes
         FROM (SELECT $1::bigint AS lab, $2::text AS name) asked
         LEFT JOIN text_base b ON b.lab = asked.lab AND b.name = asked.name
         LEFT JOIN text_update u ON u.lab = asked.lab AND u.name = asked.name AND u.n > coalesce(b.up_to, 0)
         ORDER BY u.n`,
        [found.n, name],
      )
      const [first] = rows
      const base = first?.base
        ? { epoch: first.epoch, holders: first.holders, bytes: new Uint8Array(first.base) }
        : null
      const updates: WireText['updates'] = rows.flatMap(({ n, client, personId, bytes }) =>
        n === null ? [] : [{ n, client, personId, bytes: new Uint8Array(bytes) }],
      )
      return toText({ base, updates, upTo: updates.at(-1)?.n ?? first?.upTo ?? 0 })
    },
    texts: async (lab: string): Promise<readonly string[]> =>
      (
        await read<{ name: string }>(
          `SELECT t.name FROM lab l JOIN (SELECT lab, name FROM text_base UNION SELECT lab, name FROM text_update) t
           ON t.lab = l.n WHERE l.name = $1 ORDER BY t.name COLLATE "C"`,
          [lab],
        )
      ).map((row) => row.name),
    compactText: async (lab: string, name: string, upTo: number, base: TextBase): Promise<void> => {
      await makeLab(lab)
      await write(
        `WITH folded AS (
           INSERT INTO text_base (lab, name, up_to, epoch, holders, bytes)
           SELECT n, $2, $3, $4, $5, $6 FROM lab WHERE name = $1
           ON CONFLICT (lab, name) DO UPDATE SET up_to = excluded.up_to, epoch = excluded.epoch,
             holders = excluded.holders, bytes = excluded.bytes
           RETURNING lab)
         DELETE FROM text_update u USING folded WHERE u.lab = folded.lab AND u.name = $2 AND u.n <= $3`,
        [lab, name, upTo, base.epoch, JSON.stringify(base.holders), Buffer.from(base.bytes)],
      )
    },
  }
}

const FIELDS = 'key, value, expires AS "expiresAt"'

export function doorTable(write: Query, read: Query): Parameters<typeof gatheredDoor>[0] {
  return {
    // An item that goes comes without a value. Each is named once, or PostgreSQL would refuse to lay one over the other.
    write: async (changes) => {
      await write(
        `WITH said AS (
           SELECT * FROM unnest($1::text[], $2::text[], $3::text[], $4::bigint[]) AS said (space, key, value, expires)),
         gone AS (
           DELETE FROM door d USING said s WHERE s.value IS NULL AND d.space = s.space AND d.key = s.key)
         INSERT INTO door (space, key, value, expires)
         SELECT space, key, value, expires FROM said WHERE value IS NOT NULL
         ON CONFLICT (space, key) DO UPDATE SET value = excluded.value, expires = excluded.expires`,
        [
          changes.map(({ space }) => space),
          changes.map(({ key }) => key),
          changes.map(({ item }) => item && JSON.stringify(item.value)),
          changes.map(({ item }) => item?.expiresAt ?? null),
        ],
      )
    },
    get: async (space, key, now) => {
      const [row] = await read<WireItem>(
        `SELECT ${FIELDS} FROM door WHERE space = $1 AND key = $2 AND (expires IS NULL OR expires > $3)`,
        [space, key, now],
      )
      return row ? toItem(row) : null
    },
    take: async (space, key, now) => {
      const [row] = await write<WireItem>(`DELETE FROM door WHERE space = $1 AND key = $2 RETURNING ${FIELDS}`, [
        space,
        key,
      ])
      return row && (row.expiresAt === null || row.expiresAt > now) ? toItem(row) : null
    },
    list: async (space, now) =>
      (
        await read<WireItem>(
          `SELECT ${FIELDS} FROM door WHERE space = $1 AND (expires IS NULL OR expires > $2) ORDER BY key`,
          [space, now],
        )
      ).map(toItem),
    sweep: async (now) => {
      await write('DELETE FROM door WHERE expires <= $1', [now])
    },
  }
}
