'use client'
// What is asked about before something is made up or put on: each thing said, and one field for the reason. Nothing is
// forbidden here; what is unusual stays on record with its reason.
import type { Finding, Records } from '#lib/words'
import { NoticeLine, TextField } from '../_parts/controls/index.ts'
import { sayFinding } from '../_text/index.ts'

type AskedProps = {
  readonly records: Records
  readonly asked: readonly Finding[]
  readonly despite: string
  readonly onDespite: (reason: string) => void
}

/** Nothing at all where nothing is unusual. */
export function Asked({ records, asked, despite, onDespite }: AskedProps) {
  if (asked.length === 0) return null
  return (
    <div className="flex flex-col gap-2 border-l-[5px] border-ink pl-3" aria-live="polite">
      {asked.map((one) => (
        <NoticeLine key={one.code}>{sayFinding(one, records)}</NoticeLine>
      ))}
      <TextField
        label="Why all the same"
        hint="Stays on record."
        maxLength={240}
        value={despite}
        onChange={(event) => onDespite(event.target.value)}
      />
    </div>
  )
}
