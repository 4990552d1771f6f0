'use client'
// What is known of rock and bone, in words over five steps. Rated again, the difference goes into the record, so that
// one sees how the judgement moved.
import { useState } from 'react'
import type { RecordOf } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, DialogButton, NumberField, Section, Select } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { grouped, nameRating, type RatingName, sayDate, sayRating } from '../_text/index.ts'
import { nameOf, type SheetAt } from './sheet-at.ts'

const shown: readonly RatingName[] = ['rockHardness', 'contrast', 'soundness', 'breakage']

type Ratings = RecordOf<'specimen'>['ratings']
type RatingsProps = { readonly at: SheetAt; readonly specimen: RecordOf<'specimen'> }

/** The four ratings and the surface to expose. */
export function Ratings({ at, specimen }: RatingsProps) {
  const { ratings } = specimen
  return (
    <Section title="Rock and bone">
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
        <DialogButton word="Rate again…" title="Rock and bone" className="no-print mt-2">
          {(close) => <RateForm at={at} specimen={specimen} onDone={close} />}
        </DialogButton>
      ) : null}
    </Section>
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

function RateForm({ at, specimen, onDone }: RatingsProps & { readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [ratings, setRatings] = useState<Ratings>(specimen.ratings)
  const changes = differences(specimen.ratings, ratings)
  return (
    <ActForm
      act="Keep it"
      problem={problem}
      isOff={changes.length === 0}
      onAct={() => {
        const isKept = attempt({
          kind: 'editSpecimen',
          pieceId: specimen.id,
          patch: { ratings: { ...ratings, on: at.today, by: at.me } },
        })
        if (!isKept) return
        attempt({
          kind: 'write',
          entryId: newId(),
          pieceId: specimen.id,
          entryKind: 'assessment',
          techniqueId: null,
          text: changes.join('\n'),
        })
        onDone()
      }}
    >
      {shown.map((name) => (
        <Select
          key={name}
          label={nameRating(name)}
          value={String(ratings[name])}
          onValue={(value) => setRatings({ ...ratings, [name]: Number(value) })}
          choices={[1, 2, 3, 4, 5].map((value) => ({
            value: String(value),
            label: `${value} ${sayRating(name, value)}`,
          }))}
        />
      ))}
      <NumberField
        label="Surface still to expose"
        unit="cm²"
        min={0}
        value={ratings.toExposeCm2}
        onValue={(value) => setRatings({ ...ratings, toExposeCm2: value ?? 0 })}
      />
      <p className="text-small text-umber">What changes is written into the treatment record as an assessment.</p>
    </ActForm>
  )
}

/** What is judged differently, a line each. */
export function differences(before: Ratings, after: Ratings): readonly string[] {
  const lines = shown
    .filter((name) => before[name] !== after[name])
    .map((name) => `${nameRating(name)}: ${sayRating(name, before[name])} → ${sayRating(name, after[name])}`)
  const { toExposeCm2 } = before
  return toExposeCm2 === after.toExposeCm2
    ? lines
    : [...lines, `To expose: ${grouped(toExposeCm2)} → ${grouped(after.toExposeCm2)} cm²`]
}
