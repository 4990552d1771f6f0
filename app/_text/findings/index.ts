// What a finding says to the person it concerns.
import type { Finding, Records } from '#lib/words'
import { capital } from '../amounts.ts'
import { namesIn } from '../names.ts'
import { actSentences } from './acts.ts'
import { materialSentences } from './materials.ts'
import { ruleSentences } from './rules.ts'
import type { Sentences } from './sentence.ts'
import { sessionSentences } from './session.ts'

const sentences: Sentences = { ...ruleSentences, ...actSentences, ...materialSentences, ...sessionSentences }

/** True when a code has its own sentence. */
export const hasSentence = (code: string): boolean => Object.hasOwn(sentences, code)

/** One sentence or two: who, where, what. Names come from the records. */
export function sayFinding(finding: Finding, records: Records): string {
  const sentence = hasSentence(finding.code) ? sentences[finding.code] : undefined
  if (!sentence) return `This cannot be done as things stand (${finding.code}).`
  return capital(sentence(namesIn(records), finding.ids, finding.numbers))
}

/** Several findings as one text; the same sentence is said once. */
export function sayFindings(findings: readonly Finding[], records: Records): string {
  return [...new Set(findings.map((finding) => sayFinding(finding, records)))].join(' ')
}
