// Reading what is not on the board: the archive by words, and the history of a piece, person or place. What a role may
// not see is taken out here, record by record, with the same projection that the documents are made with.
import { z } from 'zod'
import { localAt } from '#lib/base'
import {
  type AnyRecord,
  type Change,
  faceFor,
  homeOf,
  managerKinds,
  project,
  RecordId,
  type RecordOf,
  type Role,
} from '#lib/words'
import { lineOf } from './audit.ts'
import type { House } from './house.ts'
import type { Readings } from './http/api.ts'
import { readsOf } from './reads.ts'
import type { KeptEntry } from './store/contract.ts'
import type { Clock } from './world.ts'

const PAGE_MAX = 100
const LOG_PAGE_MAX = 1000

const ArchiveQuery = z.object({
  /** One resting piece whole, instead of a search. */
  id: z.nullable(RecordId).default(null),
  q: z.string().max(200).default(''),
  kind: z.enum(['jacket', 'specimen']).nullable().default(null),
  limit: z.coerce.number().int().min(1).max(PAGE_MAX).default(20),
  offset: z.coerce.number().int().min(0).max(1_000_000).default(0),
})

const HistoryQuery = z.object({
  subject: RecordId,
  before: z.coerce.number().int().min(1).nullable().default(null),
  limit: z.coerce.number().int().min(1).max(PAGE_MAX).default(50),
})

const LogQuery = z.object({
  of: z.enum(['changes', 'reads']).default('changes'),
  after: z.coerce.number().int().min(0).default(0),
  limit: z.coerce.number().int().min(1).max(LOG_PAGE_MAX).default(LOG_PAGE_MAX),
})

/** The readings of an open lab; null for what this identity may not read or did not ask well. */
export function readingsOf({ store, labId, lab }: Pick<House, 'store' | 'labId' | 'lab'>, clock: Clock): Readings {
  const today = () => localAt(lab.records().lab.get('lab')?.zone ?? 'UTC', clock.now()).date
  const restingFor = async (role: Role, id: string): Promise<AnyRecord | null> => {
    const { records } = await store.snapshot(labId, 'archive', id)
    const face = faceFor(role, 'archive')
    const found = records.find((one) => one.kind === 'resting' && one.id === id)
    // Resting bundles were checked by their schema when they were written.
    return found && face ? project(face, 'resting', found.record as RecordOf<'resting'>, today()) : null
  }
  return {
    async archive({ role }, query) {
      const asked = ArchiveQuery.safeParse(Object.fromEntries(query))
      if (!asked.success || faceFor(role, 'archive') === null) return null
      const { id, q, kind, limit, offset } = asked.data
      if (id !== null) return { item: await restingFor(role, id) }
      const { found, hasMore } = await store.search(labId, { text: q, kind, limit, offset })
      // Resting bundles were checked by their schema when they were written.
      return { items: found.map(({ record }) => hitOf(record as RecordOf<'resting'>)), hasMore }
    },
    async history({ role, personId }, query) {
      const asked = HistoryQuery.safeParse(Object.fromEntries(query))
      if (!asked.success || role === 'wall') return null
      const { subject, before, limit } = asked.data
      const entries = await store.history(labId, subject, before, limit)
      const day = today()
      const items = entries.flatMap((entry) => seenBy(role, entry, day) ?? [])
      const isPrivate = items.some(({ changes }) =>
        changes.some(({ kind, record }) => homeOf(kind, record) === 'office'),
      )
      if (isPrivate && personId !== null && personId !== subject) lab.noteRead(personId, 'history', subject)
      return {
        items,
        // Asked on by position, since entries may have been left out.
        before: entries.length === limit ? (entries.at(-1)?.seq ?? null) : null,
      }
    },
    async log({ role, personId }, query) {
      const asked = LogQuery.safeParse(Object.fromEntries(query))
      if (!asked.success || role !== 'manager' || personId === null) return null
      const { of, after, limit } = asked.data
      lab.noteRead(personId, 'log', of)
      const entries = await store.read(of === 'reads' ? readsOf(labId) : labId, after, limit)
      return { items: entries.map(lineOf), after: entries.length === limit ? (entries.at(-1)?.seq ?? null) : null }
    },
  }
}

/** One resting piece as a row. */
function hitOf({ id, jacket, specimen, since }: RecordOf<'resting'>) {
  return {
    id,
    kind: specimen ? ('specimen' as const) : ('jacket' as const),
    number: specimen?.number ?? jacket?.fieldNumber ?? '',
    name: specimen?.name ?? jacket?.contents ?? '',
    stage: specimen?.stage ?? (jacket?.state === 'opened' ? ('opened' as const) : ('sealed' as const)),
    shelf: specimen?.shelf ?? jacket?.shelf ?? '',
    since,
  }
}

/** An entry as a role may read it; null when nothing of it is for them. */
function seenBy(role: Role, { seq, kind, at, personId, op, changes }: KeptEntry, today: string) {
  const seen = changes.flatMap((change) => changeFor(role, change, today) ?? [])
  if (seen.length === 0) return null
  // The op's own words may say more than the records that a role is shown.
  const isWhole = seen.length === changes.length && seen.every((change, n) => change.record === changes[n]?.record)
  return { seq, kind, at, personId, op: isWhole ? op : null, changes: seen }
}

function changeFor(role: Role, { kind, id, record }: Change, today: string) {
  // Records of a Sheet are never taken away, so a removal is always of the board, the office or the archive.
  const face = faceFor(role, homeOf(kind, record))
  if (face === null) return null
  if (record === null) {
    const mayKnow = face === 'manager' || (face === 'crew' && !managerKinds.includes(kind))
    return mayKnow ? { kind, id, record } : null
  }
  // Managers may read whose hand a tool ran in and how long, which no document carries.
  const shown: AnyRecord | null = role === 'manager' ? record : project(face, kind, record, today)
  return shown && { kind, id, record: shown }
}
