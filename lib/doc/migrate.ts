// How a record that was stored under an older version of the words becomes today's. Records carry the version they were
// written under and are brought up when they are read, one by one, so that no start ever has to rewrite a lab. A
// step is added here whenever WORDS_VERSION is raised, and stays for ever: old backups must open too.
import { WORDS_VERSION } from '#lib/words'

/** Takes a record of version `from` to version `from + 1`. */
export interface Migration {
  readonly from: number
  readonly step: (kind: string, record: Readonly<Record<string, unknown>>) => Readonly<Record<string, unknown>>
}

/** All steps so far; none yet, since the words are at their first version. */
const ours: readonly Migration[] = []

/** A record of version `from` as one of version `to`; throws when the record is newer than this program. */
export function migrate(
  kind: string,
  record: unknown,
  from: number,
  { steps = ours, to = WORDS_VERSION }: { steps?: readonly Migration[]; to?: number } = {},
): unknown {
  if (from > to) throw new Error(`This data was written by a newer Talus (words ${from}, this one reads up to ${to}).`)
  let now = record
  for (let version = from; version < to; version++) {
    const migration = steps.find((one) => one.from === version)
    if (!migration) throw new Error(`No way from words ${version} to ${version + 1}.`)
    // Records are objects in every version.
    now = migration.step(kind, now as Readonly<Record<string, unknown>>)
  }
  return now
}
