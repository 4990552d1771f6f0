'use client'
// The season as the server plays it: what runs short week by week as a band of futures, which sealed jackets are worth
// opening, the first two weeks as they would go, and what was taken for granted. For those who plan.
import Link from 'next/link'
import { useState } from 'react'
import type { SeasonAnswer } from '#lib/season'
import { bottlenecks, lastDayOf } from '#lib/views'
import { useBoard, useWho } from '../_board/index.ts'
import {
  buttonClass,
  Check,
  Live,
  Notice,
  PageHeading,
  RowsComing,
  Section,
  SectionHeading,
} from '../_parts/controls/index.ts'
import { grouped, sayDate } from '../_text/index.ts'
import { Jackets } from './jackets.tsx'
import { LoadRow, LoadTable } from './load-row.tsx'
import { PlanDays } from './plan-days.tsx'
import { sayRefused } from './say.ts'
import { Taken } from './taken.tsx'
import { useSeason } from './use-season.ts'

/** Rows shown before one asks for all: what is rarely full needs nobody's eye. */
const SHOWN = 6

/** The screen. */
export function SeasonScreen() {
  const role = useWho()?.role
  const { season, isCounting, refused } = useSeason()
  return (
    <div className="margin-page pb-10">
      <PageHeading
        title={season === null ? 'The season' : `The season to ${sayDate(lastDayOf(season), 'full')}`}
        actions={
          <Link href="/due" className={buttonClass('line')}>
            Dates and chances
          </Link>
        }
      />
      <p className="text-small text-umber" role="status">
        {season === null ? 'Playing the season out.' : sayCount(season, isCounting)}
      </p>
      <Live message={season?.isWhole ? 'The season is counted.' : ''} />
      {role !== undefined && role !== 'manager' && role !== 'preparator' ? (
        <Notice kind="plain">The season is for those who plan it. The dates and their chances are on Due.</Notice>
      ) : refused !== null && season === null ? (
        <Notice kind="error">{sayRefused[refused]}</Notice>
      ) : season === null ? (
        <RowsComing count={6} />
      ) : (
        <Season season={season} />
      )}
    </div>
  )
}

function Season({ season }: { readonly season: SeasonAnswer }) {
  const records = useBoard((board) => board)
  const [isAll, setAll] = useState(false)
  const rows = bottlenecks(season)
  const shown = isAll ? rows : rows.slice(0, SHOWN)
  return (
    <>
      <section className="pt-4">
        <SectionHeading title="What runs short" aside="what dated pieces wait for most, first" />
        <div className="flex flex-wrap items-center justify-between gap-x-6">
          <p className="max-w-prose py-1 text-small text-wash">
            Week by week: the line is the middle of the futures, the shape around it eight in ten of them, the stepped
            line what there is. Hatched weeks are those with nothing to spare.
          </p>
          {rows.length > SHOWN ? <Check label={`All ${rows.length}`} isOn={isAll} onToggle={setAll} /> : null}
        </div>
        <ul aria-label="What runs short, what dated pieces wait for most first">
          {shown.map((row) => (
            <LoadRow key={`${row.bottleneck.kind} ${row.bottleneck.id}`} row={row} season={season} records={records} />
          ))}
        </ul>
        <LoadTable rows={shown} season={season} records={records} />
      </section>
      <div className="grid gap-x-10 pt-6 desk:grid-cols-2">
        <Jackets season={season} records={records} />
        <div>
          <PlanDays season={season} records={records} />
          <Section title="Taken for granted" className="pt-6">
            <Taken season={season} records={records} />
          </Section>
        </div>
      </div>
    </>
  )
}

const sayCount = (season: SeasonAnswer, isCounting: boolean): string =>
  `${grouped(season.futures)} ways the next ${season.weeks} weeks may go${season.isWhole ? '' : isCounting ? ', more are being played' : ''}. Estimates, not promises.`
