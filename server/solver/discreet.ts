// What a solver's answer says of people's limits, for whoever may not read health figures: that somebody rests is needed to
// understand a line-up, how near they are to a limit is theirs, the manager's and the safety officer's.
import { toldTo } from '#lib/rules'
import { Finding, type Records } from '#lib/words'

const limits: ReadonlySet<unknown> = new Set(['vibration', 'noise', 'classMinutes'])

/** The answer without amounts of other people's limits: in findings, in faults of a rule, in changes that would help. */
export function discreet<T>(records: Records, readerId: string, answer: T): T {
  const told = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(told)
    if (typeof value !== 'object' || value === null) return value
    // Answers are large and come again and again: only what looks like a finding is parsed as one.
    const finding = 'code' in value && 'numbers' in value ? Finding.safeParse(value) : null
    if (finding?.success) return toldTo(records, readerId, [finding.data])[0]
    const { code, rule, person, ids } = value as Readonly<Record<string, unknown>>
    if (limits.has(code) && person !== readerId && 'amount' in value) return { ...value, amount: 0 }
    if (limits.has(rule) && 'found' in value && !(Array.isArray(ids) && ids[0] === readerId))
      return { ...value, found: 0, allowed: 0 }
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, told(inner)]))
  }
  // Only amounts are set to nought, so the shape stays what it was.
  return told(answer) as T
}
