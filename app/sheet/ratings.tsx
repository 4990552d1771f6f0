'use client'
// What is known of rock and bone, in words over five steps. It is judged anew by an assessment, which keeps the former.
import type { RecordOf } from '#lib/words'
import { buttonClass, FoldingSection } from '../_parts/controls/index.ts'
import { grouped, nameRating, type RatingName, sayDate, sayRating } from '../_text/index.ts'
import { nameOf, type SheetAt } from './sheet-at.ts'

const shown: readonly RatingName[] = ['rockHardness', 'contrast', 'soundness', 'breakage']

type RatingsProps = { readonly at: SheetAt; readonly specimen: RecordOf<'specimen'> }

/** The four ratings and the surface to expose. */
export function Ratings({ at, specimen }: RatingsProps) {
  const { ratings } = specimen
  return (
    <FoldingSection id="rock" title="Rock and bone" brief={sayRating('soundness', ratings.soundness)}>
      <dl>
        {shown.map((name) => (
          <div key={name} className="flex items-center gap-3 border-b border-line py-2">
            <dt className="w-32 flex-none text-small text-umber">{nameRating(name)}</dt>
            <dd className="min-w-0 flex-1 font-firm">
              <FiveSteps value={ratings[name]} />
              {sayRating(name, ratings[name])}
            </dd>
          </div>
        ))}
        <div className="flex items-center gap-3 border-b border-line py-2">
          <dt className="w-32 flex-none text-small text-umber">To expose</dt>
          <dd className="font-firm">{grouped(Math.round(ratings.toExposeCm2))} cm²</dd>
        </div>
      </dl>
      <p className="pt-1 text-small text-umber">
        Rated {sayDate(ratings.on, 'full')}
        {ratings.by === null ? '' : ` by ${nameOf(at, ratings.by)}`}
      </p>
      {at.isStaff ? (
        <a className={`${buttonClass('quiet')} no-print mt-1`} href="#assessments">
          To the assessments
        </a>
      ) : null}
    </FoldingSection>
  )
}

/** One to five as strokes: full ones so far, thin ones beyond. The words beside it say it. */
function FiveSteps({ value }: { readonly value: number }) {
  return (
    <svg className="pen mr-2 inline-block align-[-2px]" width={45} height={14} viewBox="0 0 45 14" aria-hidden="true">
      {[1, 2, 3, 4, 5].map((step) => (
        <path
          key={step}
          className={step <= value ? 'stroke-ink' : 'stroke-edge'}
          d={`M${step * 9 - 5} 1.500v11`}
          strokeWidth={step <= value ? 4 : 1}
          strokeLinecap="butt"
        />
      ))}
    </svg>
  )
}
