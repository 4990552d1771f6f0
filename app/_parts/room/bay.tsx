// A bay for large jackets: dashed floor under the beam of its hoist, the jacket at the room's own scale with
// its number inked on it.
import { wordWidth } from '../figures/scale.ts'
import { MarkAt } from '../marks/index.ts'
import { proportion, StoneAt } from '../stone/index.ts'
import { ClosedBench } from './closed-bench.tsx'
import type { Box, PlaceOnPlan, Scale } from './measure.ts'
import type { PieceShape } from './shapes.ts'
import { toneClass } from './tone-class.ts'

type BayProps = { readonly plan: Scale; readonly on: PlaceOnPlan; readonly pieces: readonly PieceShape[] }

/** The bay and its jackets. */
export function Bay({ plan, on, pieces }: BayProps) {
  const { box, place } = on
  const { letters, density, pxPerM } = plan
  const isDot = density === 'dot'
  const { beam, slot, stones } = layBay(plan, on, pieces)
  const over = Math.min(26, pxPerM * 0.4)
  const [first] = pieces
  const isWorded = density === 'full' && first?.words !== undefined
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
          words={pieces.length > 0 ? [] : place.closedWords}
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
      {stones.map(({ piece, x, y, width, height }) => {
        const size = Math.min(letters.number + 10, (slot - 10) / (piece.number.length * 0.6))
        const fitsNumber = !isDot && size >= 12
        const numberSize = Math.min(size, Math.max(letters.number, width * 0.135))
        // A number wider than its stone would hide it: then it stands beneath.
        const isInked = fitsNumber && width > piece.number.length * numberSize * 0.6 * 1.3
        return (
          <g key={piece.seed} className={toneClass(piece.tone)}>
            <StoneAt
              seed={piece.seed}
              stage={piece.stage}
              x={x}
              y={y}
              width={width}
              height={height}
              tone={piece.tone ?? 'ink'}
              {...(isInked ? { number: piece.number, numberSize } : {})}
            />
            {fitsNumber && !isInked ? (
              <text
                className="inked"
                x={x}
                y={y + height / 2 + numberSize * 1.25}
                fontSize={numberSize}
                textAnchor="middle"
              >
                {piece.number}
              </text>
            ) : null}
          </g>
        )
      })}
      {isDot || first === undefined ? null : (
        <BayHead plan={plan} box={box} code={place.code} piece={first} isWorded={isWorded} />
      )}
    </>
  )
}

/** Where a bay's jackets lie, under the beam of the hoist. */
export function layBay(plan: Scale, { box }: PlaceOnPlan, pieces: readonly PieceShape[]) {
  const { letters, density, pxPerM } = plan
  const beam = box.y + (density === 'dot' ? 0 : letters.code * 1.35) + 5
  const room = { x: box.x + 4, y: beam + 10, w: box.w - 8, h: box.y + box.h - beam - 16 }
  const shown = pieces.slice(0, 3)
  const slot = room.w / Math.max(1, shown.length)
  const stones = shown.map((piece, index) => {
    const ratio = proportion(piece.lengthM, piece.widthM)
    const long = Math.max(piece.lengthM, piece.widthM) * pxPerM
    const width = Math.max(letters.stone, Math.min(long, slot - 4, room.h / ratio))
    return { piece, x: room.x + slot * (index + 0.5), y: room.y + room.h / 2, width, height: width * ratio }
  })
  return { beam, slot, stones }
}

function BayHead({ plan, box, code, piece, isWorded }: BayHeadProps) {
  const { letters } = plan
  const baseline = box.y + letters.code + 1
  const left = box.x + 5 + code.length * letters.code * 0.68 + 8
  const dateRoom = piece.date === undefined ? 0 : piece.date.words.length * letters.date * 0.56 + letters.mark + 10
  const words = fittingParts(piece.words ?? '', box.x + box.w - 6 - dateRoom - left, letters.date + 1)
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

/** Name and mass while both fit, the name alone, or nothing: never half a name or a figure without its unit. */
function fittingParts(words: string, room: number, size: number): string {
  const parts = words.split(', ')
  while (parts.length > 0 && wordWidth(parts.join(', '), size) * 0.95 > room) parts.pop()
  return parts.join(', ')
}

type BayHeadProps = {
  readonly plan: Scale
  readonly box: Box
  readonly code: string
  readonly piece: PieceShape
  readonly isWorded: boolean
}
