// The door for ops: unknown in, a typed op or findings out. Nothing that passes is unbounded: every text, list and
// number has its limit in the schema of its record.
import { type Finding, finding } from '#lib/words'
import { type Op, type OpKind, opSchemas } from './shapes/index.ts'

/** Reads an op from outside. */
export function parseOp(
  value: unknown,
): { readonly op: Op; readonly findings?: never } | { readonly op?: never; readonly findings: readonly Finding[] } {
  const kind = typeof value === 'object' && value !== null && 'kind' in value ? value.kind : null
  // Object.hasOwn: a kind such as `constructor` must not find what every object inherits.
  if (typeof kind !== 'string' || !Object.hasOwn(opSchemas, kind)) return { findings: [finding('O', 'unknown-kind')] }
  const schema = opSchemas[kind as OpKind]
  const parsed = schema.safeParse(value)
  if (parsed.success) return { op: parsed.data as Op }
  const field = parsed.error.issues[0]?.path.map(String).join('.').slice(0, 120) ?? ''
  return { findings: [finding('O', 'malformed', { op: kind, field })] }
}
