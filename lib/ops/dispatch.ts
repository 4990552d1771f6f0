// The way from an op to its act: judged (who acts, what the act itself asks, what it would do to posted days and to
// what is only added to), applied, taken back, filed. Gate and browser call these and nothing else.
import { judgeKeptDays, judgeOnlyAdded, toldTo } from '#lib/rules'
import { type AnyRecord, type Change, type Finding, finding, type OpId, type Records } from '#lib/words'
import { ops } from './all.ts'
import type { Need, OpDef, When, Who } from './op.ts'
import type { Op, OpKind } from './shapes/index.ts'

/**
 * The definition of an op's kind. The table pairs each kind with its own definition, which TypeScript cannot follow
 * through a union of kinds; this cast is the only place where that pairing is relied on.
 */
function defOf(op: Op): OpDef<OpKind> {
  return ops[op.kind] as unknown as OpDef<OpKind>
}

/** Everything that stands against an op on these records, as its author may read it; empty when it may be done. */
export function judgeOp(records: Records, op: Op, who: Who, when: When): readonly Finding[] {
  const findings = weigh(records, op, who, when)
  return who.role === 'system' ? findings : toldTo(records, who.personId, findings)
}

function weigh(records: Records, op: Op, who: Who, when: When): readonly Finding[] {
  const def = defOf(op)
  const actor = judgeActor(records, def, who)
  if (actor.length > 0) return actor
  const own = def.judge(records, op, who, when)
  if (own.length > 0) return own
  const changes = def.apply(records, op, who, when)
  const added = judgeOnlyAdded(records, changes)
  if (added.length > 0 || !def.keepsDays) return added
  return judgeKeptDays(records, changes, when.date)
}

/** The role must be allowed, and still be the person's: roles change while connections are open. */
function judgeActor(records: Records, def: OpDef<OpKind>, who: Who): readonly Finding[] {
  if (who.role === 'system') return []
  if (!def.roles.includes(who.role)) return [finding('O', 'role', { role: who.role })]
  const person = records.person.get(who.personId)
  if (!person?.isActive) return [finding('O', 'not-of-the-lab', { person: who.personId })]
  return person.role === who.role ? [] : [finding('O', 'role-changed', { role: person.role })]
}

/** The changes an op makes. Only for an op that was judged: what it relies on is believed, not asked again. */
export function applyOp(records: Records, op: Op, who: Who, when: When): readonly Change[] {
  return defOf(op).apply(records, op, who, when)
}

/** The op that takes `op` back, from the records before it; null when there is none. `id` is the new op's. */
export function inverseOf(records: Records, op: Op, id: OpId, who: Who): Op | null {
  return defOf(op).inverse?.(records, op, id, who) ?? null
}

/** Homes beyond board and office to be loaded before the op is judged. */
export function needsOf(records: Records, op: Op): readonly Need[] {
  return defOf(op).needs?.(records, op) ?? []
}

/** Ids of the pieces, people and places whose history should show an op, from what it changed. */
export function subjectsOf(records: Records, changes: readonly Change[]): readonly string[] {
  const subjects = new Set<string>()
  for (const change of changes) {
    const named = change.record ?? (records[change.kind].get(change.id) as AnyRecord | undefined)
    if (subjectKinds.includes(change.kind)) subjects.add(change.id)
    for (const field of subjectFields) {
      const id = named ? Reflect.get(named, field) : undefined
      if (typeof id === 'string') subjects.add(id)
    }
  }
  return [...subjects]
}

const subjectKinds: readonly string[] = [
  ...['lab', 'room', 'place', 'person', 'jacket', 'specimen', 'resting'],
  // Under the id of the person they are about.
  ...['contact', 'lately', 'ack'],
]
const subjectFields = ['pieceId', 'personId', 'withPersonId', 'placeId', 'aboutPersonId', 'aboutPieceId']
