'use client'
// Why the hours left are what they are: for each open step the span the lab's own past gives it, and the facts that move
// it most. From the same model the forecast is made of, so that what is said is what was computed.
import { useMemo } from 'react'
import { hoursOutlook, quantileOf, reasonsOf } from '#lib/forecast'
import type { RecordOf, Records } from '#lib/words'
import { Fold } from '../_parts/controls/index.ts'
import { capital, namesIn, sayFactor, sayHours, sayHoursSpan, sayList } from '../_text/index.ts'
import type { SheetAt } from './sheet-at.ts'

type Reason = ReturnType<typeof reasonsOf>[number]

/** Facts named for a step before the rest are left out. */
const NAMED = 3

/** The fold; nothing where no step is open. */
export function HoursWhy({ at }: { readonly at: SheetAt }) {
  const { records, sheet } = at
  const told = useMemo(() => toldOf(records, sheet.id), [records, sheet.id])
  if (told.length === 0) return null
  return (
    <Fold title="Where these hours come from" className="no-print">
      <ul className="pb-1">
        {told.map(({ step, span, typed, reasons }) => (
          <li key={step.id} className="border-b border-line py-2">
            <p>
              <b>{step.title}</b>, {namesIn(records).technique(step.techniqueId)}: {span} left
              {typed === null ? '' : `; typed in as ${typed}`}.
            </p>
            <p className="text-small text-wash">{reasons}</p>
          </li>
        ))}
      </ul>
      <p className="text-small text-umber">
        Learned from the lab’s own steps, finished and unfinished, and from common practice where there are few. Eight
        in ten should fall inside the span.
      </p>
    </Fold>
  )
}

function toldOf(records: Records, pieceId: string) {
  const { model, leftOf, wholeOf, factsOf } = hoursOutlook(records)
  return [...records.step.values()]
    .filter((step) => step.pieceId === pieceId)
    .toSorted((a, b) => a.rank - b.rank)
    .flatMap((step) => {
      const [left, facts] = [leftOf(step), factsOf(step)]
      if (!left || !facts) return []
      const reasons = reasonsOf(model, facts, wholeOf(step)).slice(0, NAMED)
      return [
        {
          step,
          span: sayHoursSpan(quantileOf(left, 0.1), quantileOf(left, 0.9)),
          typed: typedOf(step),
          reasons:
            reasons.length === 0 ? 'Nothing about it is unusual.' : `${capital(sayList(reasons.map(sayReason)))}.`,
        },
      ]
    })
}

const typedOf = ({ hours: { lowH, likelyH, highH } }: RecordOf<'step'>): string | null =>
  likelyH > 0 ? `${sayHoursSpan(lowH, highH)}, likely ${sayHours(likelyH)}` : null

const facts: Readonly<Record<Reason['fact'], (isMore: boolean) => string>> = {
  size: (isMore) => (isMore ? 'a large surface' : 'a small surface'),
  rockHardness: (isMore) => (isMore ? 'hard rock' : 'soft rock'),
  contrast: (isMore) => (isMore ? 'poor contrast of bone and rock' : 'bone that stands out well'),
  soundness: (isMore) => (isMore ? 'unsound bone' : 'sound bone'),
  breakage: (isMore) => (isMore ? 'much broken' : 'hardly broken'),
  priority: () => 'a priority piece',
  shared: () => 'other steps share the work',
  technique: () => 'what this technique takes here',
  typed: () => 'what was typed in',
  piece: (isMore) => (isMore ? 'the piece took long so far' : 'the piece went quickly so far'),
  hands: () => 'how practised the hands on it are',
  unseen: () => 'nobody has looked inside: up to',
}

/** `hard rock: half as long again`. */
function sayReason({ fact, factor }: Reason): string {
  return `${facts[fact](factor > 1)}: ${sayFactor(factor)}`
}
