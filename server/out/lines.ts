// A whole lab as JSON Lines: one fact a line, in a file that explains itself. First which lab it is, then the JSON Schema
// of each kind of record, the records, what happened (from which the records follow), the texts typed together, and
// last how many lines there are, so that a file that was cut short is known for one.
//
// Records are read while the lab goes on: they stand for `seq` of the first line or later, and entries with a higher
// number say what became of them.
import * as z from 'zod/mini'
import { type Change, homeOf, isHome, type Kind, kindNames, kinds, Line, RecordId } from '#lib/words'

/** Version of this file's form; the records in it carry their own, `words`. */
export const LINES_FORMAT = 1

const Name = z.string().check(z.minLength(1), z.maxLength(200))
const Seq = z.int().check(z.gte(1))
const Base64 = z.string().check(z.regex(/^(?:[A-Za-z0-9+/]{4})*(?:[A-Za-z0-9+/]{2}==|[A-Za-z0-9+/]{3}=)?$/))
const KindName = z.enum(kindNames as readonly [Kind, ...Kind[]])

/** Which lab this is, and when it was taken out. */
const LabLine = z.strictObject({
  line: z.literal('lab'),
  format: z.literal(LINES_FORMAT),
  words: z.int().check(z.gte(1)),
  lab: z.string().check(z.regex(/^[0-9a-z][0-9a-z-]{0,80}$/)),
  name: Line,
  at: z.iso.datetime(),
  seq: z.int().check(z.gte(0)),
})
const SchemaLine = z.strictObject({ line: z.literal('schema'), kind: KindName, schema: z.unknown() })
const RecordLine = z.strictObject({ line: z.literal('record'), kind: KindName, record: z.unknown() })
const EntryLine = z.strictObject({
  line: z.literal('entry'),
  /** What was changed, or who saw what is private. */
  log: z.enum(['changes', 'reads']),
  seq: Seq,
  opId: Name,
  kind: Name,
  op: z.unknown(),
  personId: z.nullable(Name),
  at: z.iso.datetime(),
  changes: z.array(z.strictObject({ kind: KindName, id: RecordId, record: z.unknown() })),
  subjects: z.array(Name),
})
/** A text typed together: what it says, and Yjs updates for whoever would go on typing. */
const TextLine = z.strictObject({
  line: z.literal('text'),
  name: z.string().check(z.regex(/^text\/[0-9a-z][0-9a-z-]{0,39}$/)),
  says: z.string(),
  base: z.nullable(z.strictObject({ epoch: z.string(), bytes: Base64, holders: z.array(z.tuple([z.int(), Name])) })),
  updates: z.array(z.strictObject({ bytes: Base64, client: z.nullable(z.int()), personId: Name })),
})
const EndLine = z.strictObject({ line: z.literal('end'), lines: z.int().check(z.gte(0)) })

const anyLine = z.discriminatedUnion('line', [LabLine, SchemaLine, RecordLine, EntryLine, TextLine, EndLine])
export type ExportLine = z.infer<typeof anyLine>

/** The JSON Schema of each kind of record, as lines. */
export const schemaLines = (): readonly ExportLine[] =>
  kindNames.map((kind) => ({ line: 'schema', kind, schema: z.toJSONSchema(kinds[kind], { io: 'input' }) }))

export type ParsedLine =
  | { readonly ok: true; readonly line: ExportLine; readonly changes: readonly Change[] }
  /** `problem` says in words what is wrong with it. */
  | { readonly ok: false; readonly problem: string }

/**
 * One line, checked down to its records: `changes` holds them, of a record line the one it puts. `upgrade` brings a
 * record of the file's version of the words to today's.
 */
export function parseLine(text: string, upgrade: (kind: Kind, record: unknown) => unknown): ParsedLine {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    return { ok: false, problem: 'this is not JSON' }
  }
  const parsed = anyLine.safeParse(value)
  if (!parsed.success) return { ok: false, problem: problemOf(parsed.error.issues[0]) }
  const line = parsed.data
  const told =
    line.line === 'record'
      ? [{ kind: line.kind, id: null, record: line.record }]
      : line.line === 'entry'
        ? line.changes
        : []
  const changes: Change[] = []
  for (const { kind, id, record } of told) {
    const found =
      record === null && id !== null ? { change: { kind, id, record } as Change } : changeOf(kind, id, record, upgrade)
    if ('problem' in found) return { ok: false, problem: found.problem }
    changes.push(found.change)
  }
  return { ok: true, line, changes }
}

function changeOf(
  kind: Kind,
  id: string | null,
  written: unknown,
  upgrade: (kind: Kind, record: unknown) => unknown,
): { readonly change: Change } | { readonly problem: string } {
  if (typeof written !== 'object' || written === null) return { problem: `${kind}: no record` }
  const record = upgrade(kind, written)
  const parsed = kinds[kind].safeParse(record)
  const name = 'id' in written && typeof written.id === 'string' ? `${kind} ${written.id.slice(0, 60)}` : kind
  if (!parsed.success) return { problem: `${name}: ${problemOf(parsed.error.issues[0])}` }
  if (id !== null && id !== parsed.data.id) return { problem: `${name} is put under another id, ${id}` }
  if (!isHomeOfLab(homeOf(kind, parsed.data))) return { problem: `${name}: belongs to no piece that can be` }
  // The record as it was written and not as it was parsed: in the order of its fields, it comes out again as it went in.
  return { change: { kind, id: parsed.data.id, record } as Change }
}

const isHomeOfLab = (home: string) => isHome(home) || home === 'safety' || home === 'forecasts'

function problemOf(issue: { readonly path: readonly PropertyKey[]; readonly message: string } | undefined): string {
  const at = issue?.path.join('.') ?? ''
  return `${at === '' ? '' : `${at.slice(0, 80)}: `}${issue?.message.slice(0, 160) ?? 'not as it must be'}`
}
