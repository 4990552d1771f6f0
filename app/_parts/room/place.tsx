// One place with what lies on it: a bench or table to scale, a bay as dashed floor under its hoist. The whole
// place with its seats is one thing to reach, by finger or by Tab.
import { memo } from 'react'
import { box as corners, hatch } from '../figures/hatch.ts'
import { MarkAt, type MarkName } from '../marks/index.ts'
import { StoneAt } from '../stone/index.ts'
import { short } from '../stone/outline.ts'
import { Bay } from './bay.tsx'
import { layBench, type NumberAt, numberWidth } from './bench.ts'
import { ClosedBench } from './closed-bench.tsx'
import type { Box, Letters, PlaceOnPlan, Scale } from './measure.ts'
import type { PieceShape } from './shapes.ts'
import { toneClass } from './tone-class.ts'

type PlaceProps = { readonly plan: Scale; readonly on: PlaceOnPlan; readonly pieces: readonly PieceShape[] }

/** The furniture and its pieces. */
export const PlaceDrawing = memo(function PlaceDrawing({ plan, on, pieces }: PlaceProps) {
  const isProposed = pieces.some((piece) => piece.tone === 'chalk')
  const { box } = on
  return (
    <g>
      {on.place.form === 'bay' ? (
        <Bay plan={plan} on={on} pieces={pieces} />
      ) : (
        <Bench plan={plan} on={on} pieces={pieces} />
      )}
      {isProposed ? (
        <rect
          className="stroke-chalk"
          fill="none"
          x={box.x - 3}
          y={box.y - 3}
          width={box.w + 6}
          height={box.h + 6}
          strokeWidth={2}
          strokeDasharray="5 3"
        />
      ) : null}
    </g>
  )
})

function Bench({ plan, on, pieces }: PlaceProps) {
  const { place, box } = on
  const { letters, density } = plan
  const isClosed = place.closedWords !== undefined
  if (density === 'dot') return <DotBench box={box} code={place.code} isClosed={isClosed} />
  const at = layBench(box, place.code, pieces, letters, plan.pxPerM)
  const [first] = pieces
  const tone = toneClass(first?.tone)
  const sign: MarkName | undefined =
    pieces.length > 0 ? undefined : place.form === 'hood' ? 'hood' : place.form === 'tank' ? 'tank' : undefined
  return (
    <>
      <rect
        className={`stroke-ink ${isClosed ? 'fill-paper' : 'fill-bench'}`}
        x={box.x}
        y={box.y}
        width={box.w}
        height={box.h}
        rx={1.5}
        strokeWidth={1.2}
      />
      {isClosed ? (
        // What lies there keeps its number; the hatching, the dock and the list say that it is out of use.
        <ClosedBench
          box={box}
          words={pieces.length > 0 ? [] : (place.closedWords ?? [])}
          size={letters.note}
          codeSize={letters.code}
        />
      ) : null}
      <text x={at.code.x} y={at.code.y} fontSize={letters.code} fontWeight={700}>
        {place.code}
      </text>
      {sign === undefined || box.w < letters.mark * 3 ? null : (
        <MarkAt
          name={sign}
          x={box.x + box.w / 2}
          y={box.y + box.h / 2 + 4}
          size={letters.mark * 1.4}
          className="text-umber"
        />
      )}
      {at.stones.map(({ piece, ...stone }) => (
        <StoneAt key={piece.seed} seed={piece.seed} stage={piece.stage} tone={piece.tone ?? 'ink'} {...stone} />
      ))}
      {first?.date === undefined ? null : (
        <g className={tone}>
          {at.mark === null ? null : (
            <MarkAt name={first.date.isAtRisk ? 'undercut' : 'plumb'} {...at.mark} size={letters.mark} />
          )}
          {at.date === null ? null : (
            <text {...at.date} fontSize={letters.date} fontWeight={600} textAnchor="end">
              {first.date.words}
            </text>
          )}
        </g>
      )}
      {at.number === null || first === undefined ? null : (
        <g className={tone}>
          <Inked at={at.number} isTight={density === 'wall'} />
          {first.date?.isAtRisk === true ? (
            <path
              className="stroke-current"
              strokeWidth={density === 'wall' ? 5 : 3}
              d={underline(at.number, letters)}
            />
          ) : null}
        </g>
      )}
    </>
  )
}

/** The number as it is inked on plaster, in one line or two. */
function Inked({ at, isTight }: { readonly at: NumberAt; readonly isTight: boolean }) {
  return at.lines.map((line, index) => (
    <text
      key={line}
      className={isTight ? 'inked inked-tight' : 'inked'}
      x={at.x}
      y={at.y - (at.lines.length - 1 - index) * at.leading}
      fontSize={at.size}
      textAnchor="middle"
    >
      {line}
    </text>
  ))
}

/** The undercut of a piece at risk: a bar under its last line. */
function underline(at: NumberAt, { number, run }: Letters): string {
  const width = numberWidth(at.lines.at(-1) ?? '', at.size, run)
  return `M${short(at.x - width / 2)} ${short(at.y + number * 0.29)}h${short(width)}`
}

function DotBench({ box, code, isClosed }: { readonly box: Box; readonly code: string; readonly isClosed: boolean }) {
  const size = Math.max(10, Math.min(14, box.h * 0.62, (box.w / Math.max(2, code.length)) * 1.2))
  return (
    <>
      <rect
        className={`stroke-ink ${isClosed ? 'fill-paper' : 'fill-bench'}`}
        x={box.x}
        y={box.y}
        width={box.w}
        height={box.h}
        rx={1.5}
        strokeWidth={1.2}
      />
      {isClosed ? (
        <path className="stroke-edge" strokeWidth={1} d={hatch(corners(box.x, box.y, box.w, box.h), 5)} />
      ) : null}
      <text
        className="halo"
        x={box.x + box.w / 2}
        y={box.y + box.h / 2 + size * 0.36}
        fontSize={size}
        fontWeight={700}
        textAnchor="middle"
      >
        {code}
      </text>
    </>
  )
}
