'use client'
// Who looks at what at this moment: names only, one quiet line under the plan.
import { memo } from 'react'
import type { Records } from '#lib/words'
import { paintsFor, useOthers } from '../_board/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { numberOf } from './number-of.ts'
import { names } from './words.ts'

/** "Odile and Kofi are on the Floor, Ines is at OB24-017." */
export const WhoIsHere = memo(
  function WhoIsHere({ records }: { readonly records: Records }) {
    const others = useOthers()
    if (others.length === 0) return null
    const groups = new Map<string, Set<string>>()
    for (const other of others) {
      const where = whereWords(other.at, records)
      groups.set(where, (groups.get(where) ?? new Set()).add(other.name))
    }
    const parts = [...groups].map(([where, who]) => `${names([...who])} ${who.size === 1 ? 'is' : 'are'} ${where}`)
    return (
      <p className="flex items-center gap-2 text-small text-umber">
        <Mark name="person" size={20} />
        {parts.join(', ')}.
      </p>
    )
  },
  paintsFor('place', 'jacket', 'specimen'),
)

function whereWords(at: string, records: Records): string {
  const [kind = '', id = ''] = at.split('/')
  if (kind === 'sheet') return `at ${numberOf(records, id)}`
  if (kind === 'place') return `at ${records.place.get(id as never)?.code ?? 'a place'}`
  if (kind === 'question') return 'answering a question'
  const words: Record<string, string> = {
    floor: 'on the Floor',
    rack: 'at the Rack',
    due: 'at Due',
    crew: 'at Crew',
    mine: 'at their own shift',
    room: 'laying out the room',
  }
  return words[kind] ?? 'here'
}
