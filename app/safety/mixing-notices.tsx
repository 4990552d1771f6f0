'use client'
// What does not go well beside what, said once each. It refuses nothing: whoever draws up the day decides.
import { mixingOfDay, type Turn } from '#lib/rules'
import type { Finding, Records } from '#lib/words'
import { NoticeLine } from '../_parts/controls/index.ts'
import { sayFinding } from '../_text/index.ts'

type NoticesProps = { readonly records: Records; readonly findings: readonly Finding[] }

/** One line for each thing to say. */
export function MixingNotices({ records, findings }: NoticesProps) {
  const said = [...new Set(findings.map((finding) => sayFinding(finding, records)))]
  return said.map((text) => <NoticeLine key={text}>{text}</NoticeLine>)
}

type DayProps = { readonly records: Records; readonly date: string; readonly turns: readonly Turn[] }

/** The same for the turns of a day as drawn up. */
export function MixingOfTurns({ records, date, turns }: DayProps) {
  return <MixingNotices records={records} findings={mixingOfDay(records, date, turns)} />
}
