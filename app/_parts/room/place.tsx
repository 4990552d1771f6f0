// One place with what lies on it: a bench or table to scale, a bay as dashed floor under its hoist. The whole
// place with its seats is one thing to reach, by finger or by Tab.
import { box as corners, hatch } from '../figures/hatch.ts'
import { wordWidth } from '../figures/scale.ts'
import { MarkAt, type MarkName } from '../marks/index.ts'
import { proportion, StoneAt } from '../stone/index.ts'
import { short } from '../stone/outline.ts'
import { layBench, numberLine, numberWidth } from './bench.ts'
import type { Box, PlaceOnPlan, Plan } from './measure.ts'
import type { PieceShape } from './shapes.ts'

type PlaceProps = { readonly plan: Plan; readonly on: PlaceOnPlan; readonly pieces: readonly PieceShape[] }

/** The furniture and its pieces. */
export function PlaceDrawing({ plan, on, pieces }: PlaceProps) {
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
}

function Bench({ plan, on, pieces }: PlaceProps) {
  const { place, box } = on
  const { letters, density } = plan
  const isClosed = place.closedWords !== undefined
  if (density === 'dot') return <DotBench box={box} code={place.code} isClosed={isClosed} />
  const at = layBench(box, place.code, pieces, letters, plan.pxPerM)
  const [first] = pieces
  const tone = toneClass(first?.tone)
  const words = numberLine(pieces)
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
        <ClosedBench box={box} words={place.closedWords ?? []} size={letters.note} codeSize={letters.code} />
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
          <text className="inked" x={at.number.x} y={at.number.y} fontSize={at.number.size} textAnchor="middle">
            {words}
          </text>
          {first.date?.isAtRisk === true ? (
            <path
              className="stroke-current"
              strokeWidth={density === 'wall' ? 5 : 3}
              d={`M${short(at.number.x - numberWidth(words, at.number.size) / 2)} ${short(at.number.y + letters.number * 0.29)}h${short(numberWidth(words, at.number.size))}`}
            />
          ) : null}
        </g>
      )}
    </>
  )
}

/** Hatched, with words under the code, both on clear paper. */
function ClosedBench({ box, words, size, codeSize }: ClosedProps) {
  const line = size * 1.2
  const head = codeSize * 1.35
  const isBesideCode = box.h - head < line + 4
  const lines = words.slice(0, isBesideCode ? 1 : Math.max(1, Math.floor((box.h - head - 2) / line)))
  const longest = Math.max(0, ...lines.map((words) => wordWidth(words, size)))
  const fits = longest < box.w - (isBesideCode ? codeSize * 2.4 : 4)
  const middle = isBesideCode ? box.x + codeSize * 1.2 + box.w / 2 : box.x + box.w / 2
  const top = isBesideCode ? box.y + box.h / 2 - line / 2 : box.y + head + (box.h - head - lines.length * line) / 2 - 2
  return (
    <>
      <path className="stroke-edge" strokeWidth={1} d={hatch(corners(box.x, box.y, box.w, box.h), 6)} />
      <rect className="fill-paper" x={box.x + 2} y={box.y + 2} width={codeSize * 2} height={codeSize * 1.25} />
      {fits ? (
        <>
          <rect
            className="fill-paper"
            x={middle - longest / 2 - 3}
            y={top}
            width={longest + 6}
            height={lines.length * line + 2}
          />
          {lines.map((words, index) => (
            <text
              key={words}
              className={index === 0 ? '' : 'fill-umber'}
              x={middle}
              y={top + index * line + size * 0.95}
              fontSize={size}
              fontWeight={index === 0 ? 620 : 450}
              textAnchor="middle"
            >
              {words}
            </text>
          ))}
        </>
      ) : null}
    </>
  )
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

function Bay({ plan, on, pieces }: PlaceProps) {
  const { box, place } = on
  const { letters, density, pxPerM } = plan
  const isDot = density === 'dot'
  const head = isDot ? 0 : letters.code * 1.35
  const beam = box.y + head + 5
  const over = Math.min(26, pxPerM * 0.4)
  const [first] = pieces
  const isWorded = density === 'full' && first?.words !== undefined
  const room = { x: box.x + 4, y: beam + 10, w: box.w - 8, h: box.y + box.h - beam - 16 }
  const shown = pieces.slice(0, 3)
  const slot = room.w / Math.max(1, shown.length)
  return (
    <>
      <rect
        className="stroke-edge"
        fill="none"
        x={box.x}
        y={box.y}
        width={box.w}
        height={box.h}
        strokeWidth={1.3}
        strokeDasharray="9 4"
      />
      <path
        className="stroke-edge"
        strokeWidth={1}
        d={`M${box.x - over} ${beam}H${box.x + box.w + over}M${box.x - over} ${beam + (isDot ? 2.5 : 5)}H${box.x + box.w + over}`}
      />
      {place.closedWords === undefined ? null : (
        <ClosedBench
          box={{ ...box, y: beam + 5, h: box.y + box.h - beam - 5 }}
          words={place.closedWords}
          size={letters.note}
          codeSize={letters.code}
        />
      )}
      {isDot && pieces.length > 0 ? null : (
        <text
          x={box.x + 5}
          y={box.y + letters.code + (isDot ? box.h / 2 - letters.code / 2 : 1)}
          fontSize={letters.code}
          fontWeight={700}
        >
          {place.code}
        </text>
      )}
      {shown.map((piece, index) => {
        const ratio = proportion(piece.lengthM, piece.widthM)
        const long = Math.max(piece.lengthM, piece.widthM) * pxPerM
        const width = Math.max(letters.stone, Math.min(long, slot - 4, room.h / ratio))
        const size = Math.min(letters.number + 10, (slot - 10) / (piece.number.length * 0.6))
        const fitsNumber = !isDot && size >= 12
        return (
          <StoneAt
            key={piece.seed}
            seed={piece.seed}
            stage={piece.stage}
            x={room.x + slot * (index + 0.5)}
            y={room.y + room.h / 2}
            width={width}
            height={width * ratio}
            tone={piece.tone ?? 'ink'}
            {...(fitsNumber
              ? { number: piece.number, numberSize: Math.min(size, Math.max(letters.number, width * 0.135)) }
              : {})}
          />
        )
      })}
      {isDot || first === undefined ? null : (
        <BayHead plan={plan} box={box} code={place.code} piece={first} isWorded={isWorded} />
      )}
    </>
  )
}

function BayHead({ plan, box, code, piece, isWorded }: BayHeadProps) {
  const { letters } = plan
  const baseline = box.y + letters.code + 1
  const left = box.x + 5 + code.length * letters.code * 0.68 + 8
  const dateRoom = piece.date === undefined ? 0 : piece.date.words.length * letters.date * 0.56 + letters.mark + 10
  const words = clipped(piece.words ?? '', box.x + box.w - 6 - dateRoom - left, letters.date + 1)
  return (
    <g className={toneClass(piece.tone)}>
      {isWorded ? (
        <text className="named" x={left} y={baseline} fontSize={letters.date + 1}>
          {words}
        </text>
      ) : null}
      {piece.date === undefined ? null : (
        <>
          {plan.density === 'full' ? (
            <text x={box.x + box.w - 6} y={baseline} fontSize={letters.date} fontWeight={600} textAnchor="end">
              {piece.date.words}
            </text>
          ) : null}
          <MarkAt
            name={piece.date.isAtRisk ? 'undercut' : 'plumb'}
            x={box.x + box.w - (plan.density === 'full' ? dateRoom - 4 : letters.mark * 0.8)}
            y={baseline - letters.code * 0.33}
            size={letters.mark}
          />
        </>
      )}
    </g>
  )
}

/** As many whole words as fit; a comma or a word is never left hanging. */
export function clipped(words: string, room: number, size: number): string {
  const all = words.split(' ')
  while (all.length > 0 && all.join(' ').length * size * 0.55 > room) all.pop()
  return all.join(' ').replace(/,$/, '')
}

const toneClass = (tone: PieceShape['tone']) =>
  tone === 'chalk' ? 'text-chalk' : tone === 'faint' ? 'text-faint' : 'text-ink'

type ClosedProps = {
  readonly box: Box
  readonly words: readonly string[]
  readonly size: number
  readonly codeSize: number
}
type BayHeadProps = {
  readonly plan: Plan
  readonly box: Box
  readonly code: string
  readonly piece: PieceShape
  readonly isWorded: boolean
}
