'use client'
// A lab in which nobody's days or skills are entered, or no work waits: a draw-up would seat nobody, so what is missing
// is said with the way to it.
import Link from 'next/link'
import { type Unentered, unenteredOf } from '#lib/views'
import { useBoard } from '../_board/index.ts'
import { buttonClass, Notice } from '../_parts/controls/index.ts'

const says: Readonly<Record<Unentered, string>> = {
  days: 'on which days somebody comes',
  skills: 'what somebody can do',
  work: 'a jacket or specimen with work to do',
}

/** What is missing, and where to enter it; nothing once all is there. */
export function FirstDayLead() {
  const missing = useBoard((records) => unenteredOf(records).join(' '))
  if (missing === '') return null
  const kinds = missing.split(' ') as Unentered[]
  const isCrew = kinds[0] !== 'work'
  return (
    <Notice
      kind="plain"
      action={
        <Link className={buttonClass('ink')} href={isCrew ? '/crew' : '/rack'}>
          {isCrew ? 'Open Crew, choose a person' : 'Open the Rack'}
        </Link>
      }
    >
      Before a line-up can seat anybody, enter {kinds.map((kind) => says[kind]).join(', and ')}.
    </Notice>
  )
}
