'use client'
// What comes next for whoever looks: the next step of their learning path, and why they are not put to work yet.
import Link from 'next/link'
import { levelOf, missingInduction, pathOf } from '#lib/rules'
import type { PersonId, Records } from '#lib/words'
import { Notice } from '../_parts/controls/index.ts'
import { sayMissing, sayNextStep, sayWayTo } from '../crew/learning/say.ts'

/** Why they are not put to work yet; nothing where they are. */
export function NotYet({ records, personId, date }: NextStepProps) {
  const person = records.person.get(personId)
  const missing = person ? sayMissing(missingInduction(records, person, date)) : ''
  if (missing === '') return null
  return (
    <Notice kind="stale" className="mt-3">
      {missing} Ask the manager or a preparator.
    </Notice>
  )
}

/** The next step; nothing for who follows no path, and at its end. */
export function NextStep({ records, personId, date }: NextStepProps) {
  const person = records.person.get(personId)
  const on = person && pathOf(records, person, date)
  const next = on?.next
  if (!on || !next) return null
  return (
    <section aria-label="Learning path" className="border-t border-line py-3">
      <p className="text-small font-firm text-umber">Next on your path, {on.path.name.toLowerCase()}</p>
      <p className="named text-say">{sayNextStep(next, records)}</p>
      <p className="text-small text-wash">
        {sayWayTo(next, next.kind === 'skill' ? levelOf(person, next.techniqueId, date) : 0)}{' '}
        <Link className="underline" href={`/crew?person=${personId}`}>
          The whole path
        </Link>
      </p>
    </section>
  )
}

type NextStepProps = { readonly records: Records; readonly personId: PersonId; readonly date: string }
