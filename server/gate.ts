// The judgement on one op, on the true records at its turn: parse, role and rules, effects, and each changed record
// against its schema. Pure but for what it is given; the queue around it is gate-queue.ts. Whatever goes wrong inside is a
// fault of ours: that one op is refused, the log says why, and nothing has been touched.
import type { Need, When, Who } from '#lib/ops'
import { type Change, type Finding, finding, kinds, OpId, type Records } from '#lib/words'
import type { Log } from './world.ts'

/** An op as far as the gate cares. */
export interface GateOp {
  readonly id: string
  readonly kind: string
}

/** The acts that the gate lets through; `#lib/ops` for the lab, a few of its own for a test. */
export interface OpTable<O extends GateOp = GateOp> {
  readonly parse: (
    value: unknown,
  ) => { readonly op: O; readonly findings?: never } | { readonly op?: never; readonly findings: readonly Finding[] }
  readonly needs: (records: Records, op: O) => readonly Need[]
  readonly judge: (records: Records, op: O, who: Who, when: When) => readonly Finding[]
  readonly apply: (records: Records, op: O, who: Who, when: When) => readonly Change[]
  /** Ids whose history shows the op. */
  readonly subjects: (records: Records, op: O, changes: readonly Change[]) => readonly string[]
}

interface Passed {
  readonly op: GateOp
  readonly changes: readonly Change[]
  readonly subjects: readonly string[]
}

export type Verdict =
  | { readonly ok: true; readonly passed: Passed }
  | { readonly ok: false; readonly findings: readonly Finding[] }

/** The id an op came with, as far as it has one; refusals of unreadable ops need a name too. */
export function idOf(value: unknown): string | null {
  const id = typeof value === 'object' && value !== null && 'id' in value ? value.id : null
  return OpId.safeParse(id).success ? (id as string) : null
}

/** Parses; an exception is a refusal, since it is the input that made it. */
export function parseAtGate(table: OpTable, value: unknown): ReturnType<OpTable['parse']> {
  try {
    return table.parse(value)
  } catch {
    return { findings: [finding('O', 'malformed')] }
  }
}

/** Judges a parsed op and works out its effects. */
export function judgeAtGate(table: OpTable, records: Records, op: GateOp, who: Who, when: When, log: Log): Verdict {
  try {
    const findings = table.judge(records, op, who, when)
    if (findings.length > 0) return { ok: false, findings }
    const changes = table.apply(records, op, who, when)
    const wrong = wrongRecord(changes)
    if (wrong === null) return { ok: true, passed: { op, changes, subjects: table.subjects(records, op, changes) } }
    log('error', `An op made a record that breaks its schema: ${wrong}`, { op: op.kind })
  } catch (error) {
    log('error', `An op failed at the gate: ${error instanceof Error ? error.stack : String(error)}`, { op: op.kind })
  }
  return { ok: false, findings: [finding('O', 'fault')] }
}

/** Names the first changed record that is not what its schema says; null when all are. */
function wrongRecord(changes: readonly Change[]): string | null {
  for (const { kind, id, record } of changes) {
    if (record === null) continue
    if (record.id !== id) return `${kind} ${id} under another id`
    const parsed = kinds[kind].safeParse(record)
    if (!parsed.success)
      return `${kind} ${id}: ${parsed.error.issues[0]?.path.join('.')} ${parsed.error.issues[0]?.code}`
  }
  return null
}
