// A refusal may rest on what its author may not read. Then it says only that: ask the manager.
import { type Finding, finding, type Role } from '#lib/words'
import type { Answer } from './answers.ts'

/** Parts of a finding that name what is private to managers. */
const managerParts: readonly string[] = ['privateNote', 'note', 'noShow']
/** Parts that name other records of the office. */
const officeParts: readonly string[] = [...managerParts, 'hold', 'forbid', 'contact']
/** Parts that researchers have no document for. */
const crewParts: readonly string[] = [...officeParts, 'attendance', 'tally', 'signOffAsk', 'shiftOf']

/** The answer as this role may read it. */
export function redact(answer: Answer, role: Role): Answer {
  if (answer.ok || role === 'manager') return answer
  const hidden = role === 'preparator' ? managerParts : role === 'volunteer' ? officeParts : crewParts
  return {
    ok: false,
    findings: answer.findings.map((one) => (names(one, hidden) ? finding(one.rule, 'ask-manager') : one)),
  }
}

const names = ({ ids }: Finding, hidden: readonly string[]): boolean =>
  Object.keys(ids).some((part) => hidden.includes(part))
