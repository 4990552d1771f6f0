// Why a piece does not fit oneself yet, said to oneself: what one is not signed off for, and whose company would open it.
import type { Finding, Records } from '#lib/words'
import { namesIn, sayFinding } from '../_text/index.ts'

/** One sentence or two; what concerns others is said as everywhere else. */
export function sayNotYet(finding: Finding, records: Records, personId: string): string {
  if (finding.ids.person !== personId) return sayFinding(finding, records)
  const say = namesIn(records)
  const technique = say.technique(finding.ids.technique)
  const level = finding.numbers.level ?? 0
  switch (finding.code) {
    case 'no-skill':
      return level === 0
        ? `You are not signed off for ${technique}.`
        : `You are at level ${level} in ${technique}; it takes level 2 here.`
    case 'needs-level-3':
      return `It is delicate or urgent and takes level 3 in ${technique}.`
    case 'mentor-missing':
      return `You are learning ${technique}. A seat beside somebody who mentors it would open it.`
    case 'two-places':
      return finding.ids.place
        ? `You sit at ${say.place(finding.ids.place)} in that shift already.`
        : 'You have a seat in that shift already.'
    case 'is-away':
      return 'You are away in that shift.'
    case 'not-inducted':
      return `You have not been through ${finding.ids.item ? `“${finding.ids.item}”` : 'the induction'} yet. Ask the manager or a preparator.`
    default:
      return sayFinding(finding, records)
  }
}
