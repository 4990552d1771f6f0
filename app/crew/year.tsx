'use client'
// The year of the volunteers on one sheet, for staff: what was given and what came of it. Sums only; it prints with Crew.
import { memo } from 'react'
import { yearReport } from '#lib/views'
import { paintsFor } from '../_board/index.ts'
import { Fold } from '../_parts/controls/index.ts'
import type { CrewAt } from './use-crew-at.ts'

/** This year and the last. */
export const Year = memo(
  function Year({ at }: { readonly at: CrewAt }) {
    if (!at.isStaff) return null
    const now = Number(at.today.slice(0, 4))
    const years = [now, now - 1].map((year) => ({ year, ...yearReport(at.records, year) }))
    const rows: readonly (readonly [string, (one: (typeof years)[number]) => string])[] = [
      ['Volunteers who gave hours', (one) => String(one.people)],
      ['Hours given', (one) => Math.round(one.hours).toLocaleString('en')],
      ['Full-time posts, at 2 080 h a year', (one) => one.posts.toFixed(1)],
      ['Pieces brought to a new stage', (one) => String(one.moved)],
      ['of these housed or released', (one) => String(one.finished)],
      ['Dates met', (one) => String(one.datesMet)],
    ]
    return (
      <Fold title="The volunteers’ year" className="pt-2">
        <table className="max-w-xl w-full">
          <thead>
            <tr className="border-b border-ink">
              <th scope="col" className="text-left">
                <span className="sr-only">What</span>
              </th>
              {years.map(({ year }) => (
                <th key={year} scope="col" className="py-2 text-right font-firm">
                  {year}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(([word, say]) => (
              <tr key={word} className="border-b border-line">
                <th scope="row" className="py-2 text-left font-normal">
                  {word}
                </th>
                {years.map((one) => (
                  <td key={one.year} className="text-right">
                    {say(one)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
        <p className="pt-2 text-small text-umber">Pieces at rest in the archive are not counted.</p>
      </Fold>
    )
  },
  paintsFor('tally', 'specimen', 'due', 'person'),
)
