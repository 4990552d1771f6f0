'use client'
// Two parts of the first set-up lie on other screens: there a strip leads back, until the part is done.
import Link from 'next/link'
import { usePathname } from 'next/navigation'
import { useBoard, useWho } from '../_board/index.ts'
import { buttonClass } from '../_parts/controls/index.ts'

const partAt: Readonly<Record<string, 'room' | 'jackets'>> = { '/room': 'room', '/rack': 'jackets' }

/** "Part of setting up", with the way back; nothing elsewhere, nothing for others. */
export function BackToSetUp() {
  const part = partAt[usePathname()]
  const role = useWho()?.role
  const setUp = useBoard((records) => records.lab.get('lab')?.setUp)
  if (role !== 'manager' || part === undefined || setUp === undefined || setUp.includes(part)) return null
  return (
    <div className="no-print margin-page flex flex-wrap items-center justify-between gap-x-4 border-b border-line bg-plaster py-1">
      <p className="text-small font-firm text-umber">This is a part of setting up the lab. All you enter is kept.</p>
      <Link className={buttonClass('quiet')} href="/setup">
        Back to setting up
      </Link>
    </div>
  )
}
