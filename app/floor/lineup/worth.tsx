'use client'
// What the manager wants to know before posting: whether it is worth looking further, and what made this one best.
import type { Proposal } from '#lib/lineup'
import { Fold, Row, Rows } from '../../_parts/controls/index.ts'
import { sayBound, worthRows } from './say-worth.ts'

export type WorthProps = { readonly proposal: Proposal; readonly isAsking: boolean }

/** The bound in one sentence, the parts of the worth folded beneath it. */
export function Worth({ proposal, isAsking }: WorthProps) {
  const rows = worthRows(proposal.parts, proposal.score)
  return (
    <section aria-label="How good it is">
      <p className="named text-say">{sayBound(proposal, isAsking)}</p>
      {rows.length === 0 ? null : (
        <Fold title="What it is made of">
          <p className="pb-1 text-small text-wash">
            Each part counts by the quarter-hour, as much as the lab’s settings say; shares of the whole day.
          </p>
          <Rows>
            {rows.map(({ part, word, percent }) => (
              <Row
                key={part}
                end={<span className="font-firm">{percent < 0 ? `−${-percent} %` : `${percent} %`}</span>}
              >
                {word}
              </Row>
            ))}
          </Rows>
        </Fold>
      )}
    </section>
  )
}
