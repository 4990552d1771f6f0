'use client'
// What the count takes for granted, so that nobody is surprised by it.
import type { SeasonAnswer } from '#lib/season'
import type { Records } from '#lib/words'
import { namesIn, sayDate } from '../_text/index.ts'

/** The list. */
export function Taken({ season, records }: { readonly season: SeasonAnswer; readonly records: Records }) {
  const names = namesIn(records)
  const { renewals, awayShare, workShare } = season.assumed
  return (
    <ul className="list-disc pt-2 pl-5 text-small text-wash">
      <li>
        Of the half-days people are down for, about {Math.round((1 - awayShare) * 100)} in a hundred are given to
        pieces, as the hours of this year and the last say; holidays, illness and days without a fitting piece take the
        rest.
      </li>
      <li>
        Of such a half-day, about {Math.round(workShare * 100)} in a hundred becomes work; laying out and clearing away
        take the rest.
      </li>
      {renewals.map(({ personId, techniqueId, on }) => (
        <li key={`${personId} ${techniqueId}`}>
          {names.person(personId)}’s sign-off for {names.technique(techniqueId)} runs out on {sayDate(on, 'full')} and
          is renewed in time.
        </li>
      ))}
      <li>Nobody works above their level, and no place, bench, air or daily limit is exceeded.</li>
    </ul>
  )
}
