'use client'
// A new lab leads its manager through what is needed before a first day can be drawn up; each part can be done now,
// later or not at all.
import Link from 'next/link'
import { useBoard, useWho } from '../_board/index.ts'
import { buttonClass, Notice } from '../_parts/controls/index.ts'
import { FirstDayLead } from './first-day-lead.tsx'
import { count, plural } from './words.ts'

const all = 5

/** One line that leads on; nothing once all is set up and entered, in the demo lab, or for others. */
export function SetUpLead() {
  const lab = useBoard((records) => records.lab.get('lab'))
  const role = useWho()?.role
  if (!lab || lab.isDemo || role !== 'manager') return null
  const left = all - lab.setUp.length
  if (left <= 0) return <FirstDayLead />
  return (
    <Notice
      kind="plain"
      mark="posted"
      action={
        <Link className={buttonClass('ink')} href="/setup">
          Go on setting up
        </Link>
      }
    >
      {lab.name} is new. {left === all ? 'Five short parts' : `${count(left)} more ${plural(left, 'part', 'parts')}`}{' '}
      and the first day can be drawn up.
    </Notice>
  )
}
