// Acting in tests: an op written plainly, by whom, when; and what came of it.
import { applyOp, judgeOp, type Op, parseOp, type When, type Who } from '#lib/ops'
import { type Change, type Finding, PersonId, type Records, type Role, withChanges } from '#lib/words'
import { NOW, TODAY } from './makers.ts'

/** An op as it comes over the wire; throws when the door would not let it in. */
export function anOp(body: { readonly kind: Op['kind']; readonly [field: string]: unknown }, id = 'op1'): Op {
  const parsed = parseOp({ id, ...body })
  if (!parsed.op) throw new Error(`not an op: ${JSON.stringify(parsed.findings)}`)
  return parsed.op
}

/** Who acts, by the person's role in the records. */
export function as(records: Records, personId: string): Who {
  const role: Role = records.person.get(personId)?.role ?? 'wall'
  return { personId: PersonId.parse(personId), role }
}

export const system: Who = { personId: PersonId.parse('system'), role: 'system' }

/** Ten in the morning of TODAY, unless told otherwise. */
export function whenAt(over: Partial<When> = {}): When {
  return { at: NOW, date: TODAY, minute: 600, ...over }
}

export type Done = {
  readonly findings: readonly Finding[]
  readonly codes: readonly string[]
  readonly changes: readonly Change[]
  /** The records after it; the same as before when it was refused. */
  readonly records: Records
}

/** Judges and, when nothing stands against it, applies: `act(lab, 'ana', { kind: 'claim', … })`. */
export function act(
  records: Records,
  who: string | Who,
  body: { readonly kind: Op['kind']; readonly [field: string]: unknown } | Op,
  when: When = whenAt(),
): Done {
  const op = anOp(body)
  const actor = typeof who === 'string' ? as(records, who) : who
  const findings = judgeOp(records, op, actor, when)
  const codes = findings.map((one) => `${one.rule} ${one.code}`)
  if (findings.length > 0) return { findings, codes, changes: [], records }
  const changes = applyOp(records, op, actor, when)
  return { findings, codes, changes, records: withChanges(records, changes) }
}
