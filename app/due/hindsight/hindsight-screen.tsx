'use client'
// What the kept forecasts were worth, in plain words: how many steps ended within the window they were given, which way
// they missed, what plainer ways would have said at the same moment, and the latest ones one by one. For manager and
// preparators; nothing here is by person.
import Link from 'next/link'
import type { Hindsight } from '#lib/forecast'
import type { Records } from '#lib/words'
import { useAsk, useBoard, useWho } from '../../_board/index.ts'
import {
  Button,
  buttonClass,
  Fold,
  Notice,
  PageHeading,
  RowsComing,
  Section,
  useWidth,
} from '../../_parts/controls/index.ts'
import { sayDate, sayHours, sayHoursSpan } from '../../_text/index.ts'
import { CalibrationPlot, CalibrationTable } from './calibration.tsx'
import { sayMiddle, sayOutcome, sayWay, sayWays, sayWindows } from './say.ts'

type Answer = Hindsight | { readonly refused: string }

/** The screen. */
export function HindsightScreen() {
  const who = useWho()
  const mayAsk = who?.role === 'manager' || who?.role === 'preparator'
  const { answer, state, again } = useAsk<Answer>('hindsight', mayAsk ? {} : null)
  const records = useBoard((board) => board)
  const back = (
    <Link href="/due" className={buttonClass('line')}>
      Back to the dates
    </Link>
  )
  return (
    <div className="margin-page pb-10">
      <PageHeading title="How good the forecasts were" actions={back} />
      {who !== null && !mayAsk ? (
        <Notice kind="empty">This page is for the manager and the preparators. The dates are on Due.</Notice>
      ) : answer === null ? (
        state === 'stopped' ? (
          <Notice kind="error">
            The server did not answer. Nothing is lost. <Button onClick={again}>Ask again</Button>
          </Notice>
        ) : (
          <RowsComing count={6} />
        )
      ) : 'refused' in answer ? (
        <Notice kind="error">
          The server did not answer this time. Nothing is lost. <Button onClick={again}>Ask again</Button>
        </Notice>
      ) : (
        <Seen seen={answer} records={records} />
      )}
    </div>
  )
}

function Seen({ seen, records }: { readonly seen: Hindsight; readonly records: Records }) {
  const [frame, width] = useWidth<HTMLDivElement>(680)
  if (seen.count === 0) {
    return (
      <Notice kind="empty">
        No forecast has come to its end yet. One is kept each time a step is begun, and looked at when the step is
        finished.{seen.open > 0 ? ` Steps in work with a forecast: ${seen.open}.` : ''}
      </Notice>
    )
  }
  return (
    <div ref={frame} className="measured flex flex-col gap-8">
      <div>
        <p className="named text-say">{sayWindows(seen)}</p>
        <p className="named text-say">{sayMiddle(seen)}</p>
        {seen.changed.count === 0 ? null : (
          <p className="pt-1 text-small text-umber">
            Of {seen.changed.count} forecasts made anew while a step was in work, {seen.changed.inside} held.
          </p>
        )}
      </div>
      <Section title="Where the ends fell" aside={`${seen.count} finished steps`}>
        <CalibrationPlot list={seen.calibration} count={seen.count} width={width} />
        <p className="pb-2 text-small text-umber">
          Diamond: where it should be. Dot: where it was. Line: where the true share likely lies, from {seen.count}{' '}
          steps.
        </p>
        <Fold title="The same as a table">
          <CalibrationTable list={seen.calibration} count={seen.count} />
        </Fold>
      </Section>
      {seen.ways.length === 0 ? null : <Ways seen={seen} />}
      <Latest seen={seen} records={records} />
      <p className="text-small text-umber">
        Each forecast was kept when it was made, before the work, and is never changed. Hours are forecast from what is
        known of the piece, from the lab’s own finished and unfinished steps, and from the estimate somebody typed.
      </p>
    </div>
  )
}

/** The model beside what is naive. */
function Ways({ seen }: { readonly seen: Hindsight }) {
  return (
    <Section title="Beside plainer ways" aside={`the latest ${seen.comparable} steps`}>
      <p className="py-2">{sayWays(seen)}</p>
      <div className="overflow-x-auto">
        <table className="figures">
          <thead>
            <tr>
              <th scope="col">Way</th>
              <th scope="col">Missed by, hours a step</th>
              <th scope="col">Within its window</th>
              <th scope="col">Loss at 10, 50, 90 %</th>
            </tr>
          </thead>
          <tbody>
            {seen.ways.map(({ way, crpsH, inside, pinballH }) => (
              <tr key={way}>
                <th scope="row">{sayWay(way)}</th>
                <td>{crpsH.toFixed(1)}</td>
                <td>{Math.round(inside * 100)} %</td>
                <td>{pinballH.map((loss) => loss.toFixed(1)).join(' · ')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="pt-2 text-small text-umber">
        Missed by: the continuous ranked probability score, which for a forecast without a window is its distance from
        what came. The losses are pinball losses. Less is better in both.
      </p>
    </Section>
  )
}

function Latest({ seen, records }: { readonly seen: Hindsight; readonly records: Records }) {
  return (
    <Section title="The latest" aside="as their steps ended">
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told */}
      <ul role="list" aria-label="Forecasts and what came, the latest first">
        {seen.latest.map((one) => (
          <li
            key={one.stepId}
            className="flex flex-wrap items-baseline justify-between gap-x-6 border-b border-line py-2"
          >
            <span className="min-w-0">
              <PieceLink records={records} pieceId={one.pieceId} />, {stepName(records, one.stepId, one.techniqueId)}
              <span className="block text-small text-umber">
                forecast {sayHoursSpan(one.p10H, one.p90H)}, middle {sayHours(one.p50H)}
                {one.typedH === null ? '' : `; estimated ${sayHours(one.typedH)}`}
              </span>
            </span>
            <span>
              took {sayHours(one.tookH)}, <b>{sayOutcome(one)}</b>
              <span className="text-small text-umber"> {sayDate(one.endedOn, 'short')}</span>
            </span>
          </li>
        ))}
      </ul>
    </Section>
  )
}

function PieceLink({ records, pieceId }: { readonly records: Records; readonly pieceId: string }) {
  const specimen = records.specimen.get(pieceId)
  const jacket = records.jacket.get(pieceId)
  const name = specimen ? `${specimen.number} ${specimen.name}` : jacket ? jacket.fieldNumber : 'a piece at rest'
  return (
    <Link href={`/sheet/${pieceId}`} className="inline-flex min-h-11 items-center underline-offset-4 hover:underline">
      {name}
    </Link>
  )
}

const stepName = (records: Records, stepId: string, techniqueId: string): string =>
  records.step.get(stepId)?.title ??
  records.lab.get('lab')?.techniques.find(({ id }) => id === techniqueId)?.name ??
  'a step'
