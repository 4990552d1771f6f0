'use client'
// What waits on the racks, in one line that leads there.
import Link from 'next/link'
import { useMemo } from 'react'
import { waitingOf } from '#lib/views'
import type { Records } from '#lib/words'
import { buttonClass } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { plural } from './words.ts'

/** "Rack: 34 waiting". */
export function RackLine({ records, date }: { readonly records: Records; readonly date: string }) {
  const { jacket, specimen, assignment, step } = records
  // biome-ignore lint/correctness/useExhaustiveDependencies: only these kinds are counted
  const waiting = useMemo(() => waitingOf(records, date), [jacket, specimen, assignment, step, date])
  return (
    <p className="flex items-center gap-2 text-small text-umber">
      <Mark name="rack" size={20} />
      {waiting} {plural(waiting, 'piece waits', 'pieces wait')} with a step that may be done next.
      <Link className={buttonClass('quiet')} href="/rack">
        Rack
      </Link>
    </p>
  )
}
