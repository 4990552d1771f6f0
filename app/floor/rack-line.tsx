'use client'
// What waits on the racks, in one line that leads there.
import Link from 'next/link'
import { memo } from 'react'
import { waitingOf } from '#lib/views'
import type { Records } from '#lib/words'
import { paintsFor, useDerived } from '../_board/index.ts'
import { buttonClass } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { plural } from './words.ts'

/** "Rack: 34 waiting". */
export const RackLine = memo(
  function RackLine({ records, date }: RackLineProps) {
    const waiting = useDerived(records, (board) => waitingOf(board, date), [date])
    return (
      <p className="flex items-center gap-2 text-small text-umber">
        <Mark name="rack" size={20} />
        {waiting} {plural(waiting, 'piece waits', 'pieces wait')} with a step that may be done next.
        <Link className={buttonClass('quiet')} href="/rack">
          Rack
        </Link>
      </p>
    )
  },
  paintsFor('jacket', 'specimen', 'assignment', 'step'),
)

type RackLineProps = { readonly records: Records; readonly date: string }
