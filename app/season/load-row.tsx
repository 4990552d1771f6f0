'use client'
// One thing that is scarce, over the season's weeks: the band of futures against what there is. Its words stand beside
// it, its figures in a table below, so that nothing is in the drawing alone.
import { scaleLinear } from 'd3-scale'
import { area, curveMonotoneX, curveStepAfter, line } from 'd3-shape'
import { addDays, dayNumber } from '#lib/base'
import type { SeasonAnswer } from '#lib/season'
import type { BottleneckRow } from '#lib/views'
import type { Records } from '#lib/words'
import { Fold, useWidth } from '../_parts/controls/index.ts'
import { box, hatch, monthStarts } from '../_parts/figures/index.ts'
import { grouped, sayDate } from '../_text/index.ts'
import { sayBottleneck } from './say.ts'

type LoadProps = { readonly season: SeasonAnswer; readonly records: Records }

const HEIGHT = 104
const [TOP, BOTTOM] = [10, 22]

/** The row. */
export function LoadRow({ row, season, records }: LoadProps & { readonly row: BottleneckRow }) {
  const name = sayBottleneck(row.bottleneck, records)
  return (
    <li className="season-load border-b border-line py-3">
      <div>
        <h3 className="named text-say">{name}</h3>
        <p className="text-small text-wash">{sayLoad(row, season)}</p>
      </div>
      <Band row={row} season={season} name={name} />
    </li>
  )
}

function Band({
  row,
  season,
  name,
}: {
  readonly row: BottleneckRow
  readonly season: SeasonAnswer
  readonly name: string
}) {
  const [frame, width] = useWidth<HTMLDivElement>(640)
  const { used, there } = row.bottleneck
  const most = Math.max(1, ...there, ...used.map(({ p90 }) => p90))
  const x = scaleLinear([0, season.weeks], [1, width - 46])
  const y = scaleLinear([0, most], [HEIGHT - BOTTOM, TOP]).nice(3)
  const middle = (week: number) => x(week + 0.5)
  const points = used.map((band, week) => ({ ...band, week }))
  const band = area<(typeof points)[number]>()
    .x(({ week }) => middle(week))
    .y0(({ p10 }) => y(p10))
    .y1(({ p90 }) => y(p90))
    .curve(curveMonotoneX)(points)
  const median = line<(typeof points)[number]>()
    .x(({ week }) => middle(week))
    .y(({ p50 }) => y(p50))
    .curve(curveMonotoneX)(points)
  const stock = line<number>()
    .x((_there, week) => x(week))
    .y((amount) => y(amount))
    .curve(curveStepAfter)([...there, there.at(-1) ?? 0])
  const first = dayNumber(season.from)
  const months = monthStarts({ from: first, to: first + season.weeks * 7, left: 0, right: 0 })
  const every = Math.max(1, Math.ceil(44 / Math.max(1, ((width - 46) * 4.35) / season.weeks)))
  const label = `${name}: ${sayLoad(row, season)}`
  return (
    <div ref={frame} className="measured min-w-0">
      <svg
        className="block"
        width={width}
        height={HEIGHT}
        viewBox={`0 0 ${width} ${HEIGHT}`}
        role="img"
        aria-label={label}
      >
        <title>{label}</title>
        {months.map((day, index) => (
          <g key={day}>
            <path
              className="stroke-line"
              d={`M${x((day - first) / 7)} ${TOP}V${HEIGHT - BOTTOM + 6}`}
              strokeWidth={1}
            />
            {index % every === 0 ? (
              <text className="fill-umber" x={x((day - first) / 7) + 3} y={HEIGHT - 5} fontSize={13}>
                {monthOf(addDays(season.from, day - first))}
              </text>
            ) : null}
          </g>
        ))}
        {y.ticks(3).map((tick) => (
          <g key={tick}>
            <path className="stroke-line" d={`M1 ${y(tick)}H${width - 46}`} strokeWidth={0.8} />
            <text className="fill-umber" x={width - 42} y={y(tick) + 4} fontSize={13}>
              {grouped(tick)}
            </text>
          </g>
        ))}
        <path className="window" d={band ?? ''} />
        {row.tight.map((week) => (
          <path
            key={week}
            className="stroke-ink"
            d={hatch(box(x(week), y(there[week] ?? 0), x(week + 1) - x(week), y(0) - y(there[week] ?? 0)), 5)}
            strokeWidth={0.9}
          />
        ))}
        <path className="fill-none stroke-ink" d={median ?? ''} strokeWidth={2.4} />
        <path
          className="fill-none stroke-ink"
          d={stock ?? ''}
          strokeWidth={1.2}
          strokeDasharray="1 3"
          strokeLinecap="round"
        />
      </svg>
    </div>
  )
}

/** The figures behind the drawings. */
export function LoadTable({ rows, season, records }: LoadProps & { readonly rows: readonly BottleneckRow[] }) {
  return (
    <Fold title="The figures as a table">
      <div className="overflow-x-auto">
        <table className="season-table text-small">
          <caption className="sr-only">Used in each week: 10, 50 and 90 in a hundred futures, of what there is</caption>
          <thead>
            <tr>
              <th scope="col">Week of</th>
              {rows.map(({ bottleneck }) => (
                <th key={`${bottleneck.kind} ${bottleneck.id}`} scope="col">
                  {sayBottleneck(bottleneck, records)}
                  <span className="block font-normal text-umber">{unitOf(bottleneck.kind)}</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {Array.from({ length: season.weeks }, (_, week) => (
              <tr key={week}>
                <th scope="row">{sayDate(addDays(season.from, week * 7), 'short')}</th>
                {rows.map(({ bottleneck: { kind, id, used, there } }) => {
                  const band = used[week]
                  return (
                    <td key={`${kind} ${id}`}>
                      {band === undefined
                        ? ''
                        : `${Math.round(band.p10)} · ${Math.round(band.p50)} · ${Math.round(band.p90)} of ${Math.round(there[week] ?? 0)}`}
                    </td>
                  )
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Fold>
  )
}

const units = { people: 'hours of hands', place: 'hours of seats', air: 'L/min at once' } as const
const unitOf = (kind: keyof typeof units): string => units[kind]

function sayLoad({ bottleneck, tight, share, worstShare }: BottleneckRow, season: SeasonAnswer): string {
  const [low, high] = [Math.round(share * 100), Math.round(worstShare * 100)]
  const used = `${low} to ${high} in a hundred of its ${unitOf(bottleneck.kind)} used`
  const [first] = tight
  if (first === undefined) return `${used}; something to spare in every week.`
  const weeks = tight.length === 1 ? 'one week' : `${tight.length} weeks`
  return `${used}; nothing to spare in ${weeks}, first from ${sayDate(addDays(season.from, first * 7), 'short')}.`
}

const monthOf = (date: string): string =>
  (sayDate(date, 'brief').split(' ')[2] ?? '') + (date.slice(5, 7) === '01' ? ` ${date.slice(2, 4)}` : '')
