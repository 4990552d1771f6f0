// R6: records of work and treatment are only added to, never changed or removed; a correction is a new entry that
// names the old. An escalation is such a record too: only its end may be set, once.
import { type Change, type Finding, finding, type Records, sheetKinds } from '#lib/words'

/** Changes that would overwrite or remove what is only added to. */
export function judgeOnlyAdded(records: Records, changes: readonly Change[]): readonly Finding[] {
  const fresh = new Set<string>()
  const rested = new Set(
    changes.flatMap((change) =>
      change.kind === 'resting' && change.record ? change.record.escalations.map((one) => one.id) : [],
    ),
  )
  const erased = new Set<string>(
    changes.flatMap((change) => (change.kind === 'person' && change.record?.erased ? [change.id] : [])),
  )
  return changes.flatMap((change) => {
    if (change.kind === 'escalation') return escalationFindings(records, change, rested)
    if (!isOnlyAdded(change.kind)) return []
    const key = `${change.kind} ${change.id}`
    // A person's sign-offs go with all that is private about them.
    if (change.kind === 'signing' && !change.record && erased.has(records.signing.get(change.id)?.personId ?? ''))
      return []
    const isThere = records[change.kind].has(change.id) || fresh.has(key)
    fresh.add(key)
    return isThere || !change.record ? [finding('R6', 'only-added', { record: change.id })] : []
  })
}

const onlyAdded = [...sheetKinds, 'relation', 'forecast', 'checkDone', 'incident', 'airSample', 'signing'] as const

const isOnlyAdded = (kind: Change['kind']): kind is (typeof onlyAdded)[number] => onlyAdded.some((one) => one === kind)

function escalationFindings(
  records: Records,
  change: Extract<Change, { kind: 'escalation' }>,
  rested: ReadonlySet<string>,
): readonly Finding[] {
  const old = records.escalation.get(change.id)
  if (!old) return []
  // A whole piece goes to the archive with its escalations; nothing else takes one off the board.
  if (!change.record) return rested.has(change.id) ? [] : [finding('R6', 'only-added', { record: change.id })]
  const { endedAt, ...rest } = change.record
  const isEnding = old.endedAt === null && endedAt !== null
  const isSame = Object.entries(rest).every(([key, value]) => Reflect.get(old, key) === value)
  return isEnding && isSame ? [] : [finding('R6', 'only-added', { record: change.id })]
}

/** The correction that already stands against a record of work or safety, so that corrections form a line, not a fan. */
export function correctionOf(
  records: Records,
  kind: 'log' | 'entry' | 'incident' | 'airSample' | 'photo',
  id: string,
): string | null {
  for (const record of records[kind].values()) if (record.corrects === id) return record.id
  return null
}
