// The one plot of hindsight: for the low end, the middle and the high end of the windows, the share of steps that ended
// below, as a dot with the span in which the true share likely lies, beside an open mark where it should be. Shapes and words
// carry it, no colour; the table says the same.
import type { Calibration } from '#lib/forecast'

type Props = { readonly list: readonly Calibration[]; readonly count: number }

const names: Readonly<Record<Calibration['tau'], string>> = {
  0.1: 'below the low end',
  0.5: 'below the middle',
  0.9: 'below the high end',
}
const ROW = 62
const TOP = 30

/** The plot, as wide as it may be. */
export function CalibrationPlot({ list, count, width }: Props & { readonly width: number }) {
  const [left, right] = [14, Math.max(260, Math.min(width, 860)) - 14]
  const x = (share: number) => left + share * (right - left)
  const height = TOP + list.length * ROW + 8
  const label = list
    .map(({ tau, share }) => `${names[tau]} ${percent(share)} of ${count}, should be ${percent(tau)}`)
    .join('; ')
  return (
    <svg
      className="block"
      width={right + 14}
      height={height}
      viewBox={`0 0 ${right + 14} ${height}`}
      role="img"
      aria-label={label}
    >
      <title>{label}</title>
      {[0, 0.25, 0.5, 0.75, 1].map((share) => (
        <g key={share}>
          <path className="stroke-line" d={`M${x(share)} ${TOP - 8}V${height - 8}`} strokeWidth={1} />
          <text
            className="fill-umber"
            x={x(share)}
            y={14}
            fontSize={13}
            textAnchor={share === 0 ? 'start' : share === 1 ? 'end' : 'middle'}
          >
            {percent(share)}
          </text>
        </g>
      ))}
      {list.map(({ tau, share, from, to }, i) => {
        const y = TOP + i * ROW + 36
        return (
          <g key={tau}>
            <text className="halo" x={left} y={y - 20} fontSize={14}>
              {names[tau]}: {percent(share)}, should be {percent(tau)}
            </text>
            <path
              className="stroke-ink"
              fill="none"
              d={`M${x(from)} ${y - 6}V${y + 6}M${x(from)} ${y}H${x(to)}M${x(to)} ${y - 6}V${y + 6}`}
              strokeWidth={1.5}
            />
            <circle className="fill-ink" cx={x(share)} cy={y} r={5.5} />
            <path
              className="fill-paper stroke-ink"
              d={`M${x(tau)} ${y - 11}l6 11l-6 11l-6 -11z`}
              strokeWidth={1.6}
              fillOpacity={0}
            />
          </g>
        )
      })}
    </svg>
  )
}

/** The same in figures. */
export function CalibrationTable({ list, count }: Props) {
  return (
    <div className="overflow-x-auto">
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">Ends</th>
            <th scope="col">Should be</th>
            <th scope="col">Were, of {count}</th>
            <th scope="col">True share likely</th>
          </tr>
        </thead>
        <tbody>
          {list.map(({ tau, below, share, from, to }) => (
            <tr key={tau}>
              <th scope="row">{names[tau]}</th>
              <td>{percent(tau)}</td>
              <td>
                {below} ({percent(share)})
              </td>
              <td>
                {percent(from)} to {percent(to)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

const percent = (share: number): string => `${Math.round(share * 100)} %`
