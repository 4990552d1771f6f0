// What does not move: walls with their windows and doors, partitions, the metre rule, the compressor and its pipe.
import { memo } from 'react'
import { MarkAt } from '../marks/index.ts'
import { short } from '../stone/outline.ts'
import { type Plan, pxOf, type Scale } from './measure.ts'
import type { LineM, RoomShape } from './shapes.ts'
import { TracingSheet } from './tracing.tsx'

type ShellProps = {
  readonly plan: Scale
  readonly room: RoomShape
}

/** Floor (or the sheet laid over it), walls, windows, doors and partitions. */
export const Walls = memo(function Walls({
  plan,
  room,
  isTraced = false,
}: ShellProps & { readonly isTraced?: boolean }) {
  const { inner, letters } = plan
  const thick = letters.wall
  return (
    <>
      {isTraced ? (
        <TracingSheet plan={plan} />
      ) : (
        <rect className="fill-paper" x={inner.x} y={inner.y} width={inner.w} height={inner.h} />
      )}
      <path
        className="fill-ink"
        fillRule="evenodd"
        d={`M${inner.x - thick} ${inner.y - thick}h${inner.w + thick * 2}v${inner.h + thick * 2}h${-inner.w - thick * 2}zM${inner.x} ${inner.y}v${inner.h}h${inner.w}v${-inner.h}z`}
      />
      {room.windows.map((window, index) => (
        <Window key={index} plan={plan} room={room} window={window} />
      ))}
      {room.partitions.map((wall, index) => (
        <Partition key={index} plan={plan} wall={wall} doors={room.doors} />
      ))}
      {room.doors.map((door, index) => (
        <Door key={index} plan={plan} room={room} door={door} />
      ))}
    </>
  )
})

/** A metre rule along the lower edge: every metre a tick, every five a figure. */
export const MetreRule = memo(function MetreRule({ plan, room }: ShellProps) {
  const top = plan.inner.y + plan.inner.h + plan.letters.wall
  const size = plan.density === 'wall' ? 26 : 13
  const isFigured = plan.density !== 'dot'
  return (
    <g>
      {Array.from({ length: Math.floor(room.widthM) + 1 }, (_, metre) => {
        const { x } = pxOf(plan, metre, 0)
        const isFifth = metre % 5 === 0
        return (
          <g key={metre}>
            <path className="stroke-edge" d={`M${short(x)} ${top}v${isFifth ? 8 : 4}`} strokeWidth={1} />
            {isFigured && isFifth ? (
              <text className="fill-umber" x={short(x) + 5} y={top + size + 2} fontSize={size}>
                {metre === 0 ? '0 m' : metre}
              </text>
            ) : null}
          </g>
        )
      })}
    </g>
  )
})

/** The compressor and the pipe that runs along the walls to its air lines. */
export const Compressor = memo(function Compressor({ plan, room }: CompressorProps) {
  if (room.compressor === null) return null
  const at = pxOf(plan, room.compressor.xM, room.compressor.yM)
  const side = compressorM * plan.pxPerM
  const mark = Math.min(plan.density === 'wall' ? 44 : 24, side * 0.6)
  return (
    <g>
      <path
        className="stroke-wash"
        fill="none"
        strokeWidth={plan.density === 'wall' ? 4 : plan.density === 'dot' ? 1.2 : 2.2}
        strokeDasharray="9 3"
        d={pipePath(plan, at)}
      />
      <rect
        className="fill-bench stroke-ink"
        x={at.x - side / 2}
        y={at.y - side / 2}
        width={side}
        height={side}
        strokeWidth={1.2}
      />
      {mark >= 14 ? <MarkAt name="compressor" x={at.x} y={at.y} size={mark} className="text-ink" /> : null}
    </g>
  )
})

/** A compressor takes about this much floor; the board knows only where it stands. */
export const compressorM = 0.9

function Window({ plan, room, window }: ShellProps & { readonly window: LineM }) {
  const [from, to] = [pxOf(plan, window.from.xM, window.from.yM), pxOf(plan, window.to.xM, window.to.yM)]
  const thick = plan.letters.wall
  const pane = Math.max(2.5, thick * 0.45)
  const wall = outerWall(window, room)
  if (wall === undefined)
    return <path className="stroke-paper" d={`M${from.x} ${from.y}L${to.x} ${to.y}`} strokeWidth={2} />
  const off = (wall === 'top' || wall === 'left' ? -1 : 1) * (thick / 2)
  const isLevel = wall === 'top' || wall === 'bottom'
  return (
    <path
      className="stroke-paper"
      strokeWidth={pane}
      d={isLevel ? `M${from.x} ${from.y + off}H${to.x}` : `M${from.x + off} ${from.y}V${to.y}`}
    />
  )
}

function Door({ plan, room, door }: ShellProps & { readonly door: LineM }) {
  const wall = outerWall(door, room)
  if (wall === undefined) return null
  const [hinge, end] = [pxOf(plan, door.from.xM, door.from.yM), pxOf(plan, door.to.xM, door.to.yM)]
  const wide = Math.hypot(end.x - hinge.x, end.y - hinge.y)
  const thick = plan.letters.wall
  const inward = { top: { x: 0, y: 1 }, bottom: { x: 0, y: -1 }, left: { x: 1, y: 0 }, right: { x: -1, y: 0 } }[wall]
  const leaf = { x: hinge.x + inward.x * wide, y: hinge.y + inward.y * wide }
  // Sweep so that the arc bulges into the opening, whichever wall and whichever side the hinge is on.
  const turn = (leaf.x - hinge.x) * (end.y - hinge.y) - (leaf.y - hinge.y) * (end.x - hinge.x) > 0 ? 1 : 0
  const gap = {
    x: Math.min(hinge.x, end.x) - (wall === 'left' ? thick + 0.5 : wall === 'right' ? 0.5 : 0),
    y: Math.min(hinge.y, end.y) - (wall === 'top' ? thick + 0.5 : wall === 'bottom' ? 0.5 : 0),
    w: inward.x === 0 ? wide : thick + 1,
    h: inward.y === 0 ? wide : thick + 1,
  }
  const size = plan.density === 'wall' ? 26 : 14
  const isNamed = plan.density !== 'dot' && wide > size * 3.4
  return (
    <g>
      <rect className="fill-paper" x={gap.x} y={gap.y} width={gap.w} height={gap.h} />
      <path
        className="stroke-edge"
        fill="none"
        strokeWidth={1}
        d={`M${short(hinge.x)} ${short(hinge.y)}L${short(leaf.x)} ${short(leaf.y)}A${short(wide)} ${short(wide)} 0 0 ${turn} ${short(end.x)} ${short(end.y)}`}
      />
      {isNamed ? (
        <text
          className="fill-umber"
          x={(hinge.x + end.x) / 2 + inward.x * wide * 0.3}
          y={(hinge.y + end.y) / 2 + inward.y * wide * 0.25 + size * 0.35}
          fontSize={size}
          textAnchor="middle"
        >
          door
        </text>
      ) : null}
    </g>
  )
}

function Partition({
  plan,
  wall,
  doors,
}: {
  readonly plan: Scale
  readonly wall: LineM
  readonly doors: readonly LineM[]
}) {
  const d = solidStretches(wall, doors)
    .map(([from, to]) => {
      const [a, b] = [pxOf(plan, from.xM, from.yM), pxOf(plan, to.xM, to.yM)]
      return `M${short(a.x)} ${short(a.y)}L${short(b.x)} ${short(b.y)}`
    })
    .join('')
  const thick = plan.density === 'wall' ? 7 : plan.density === 'dot' ? 3 : 4
  return (
    <>
      <path className="stroke-ink" fill="none" strokeWidth={thick} strokeLinecap="square" d={d} />
      <path className="stroke-paper" fill="none" strokeWidth={thick / 3} strokeLinecap="square" d={d} />
    </>
  )
}

/** What is left of a partition between its doors. */
export function solidStretches(
  wall: LineM,
  doors: readonly LineM[],
): readonly (readonly [LineM['from'], LineM['to']])[] {
  const [dx, dy] = [wall.to.xM - wall.from.xM, wall.to.yM - wall.from.yM]
  const length = Math.hypot(dx, dy)
  if (length === 0) return []
  const shareOf = (x: number, y: number) => ((x - wall.from.xM) * dx + (y - wall.from.yM) * dy) / (length * length)
  const offOf = (x: number, y: number) => Math.abs((x - wall.from.xM) * dy - (y - wall.from.yM) * dx) / length
  const gaps = doors
    .filter((door) => offOf(door.from.xM, door.from.yM) < 0.15 && offOf(door.to.xM, door.to.yM) < 0.15)
    .map((door) => [shareOf(door.from.xM, door.from.yM), shareOf(door.to.xM, door.to.yM)].sort((a, b) => a - b))
    .filter(([from = 0, to = 0]) => to > 0 && from < 1)
    .sort(([a = 0], [b = 0]) => a - b)
  const at = (share: number) => ({ xM: wall.from.xM + dx * share, yM: wall.from.yM + dy * share })
  const solid: (readonly [LineM['from'], LineM['to']])[] = []
  let done = 0
  for (const [from = 0, to = 0] of gaps) {
    if (from > done) solid.push([at(done), at(from)])
    done = Math.max(done, to)
  }
  if (done < 1) solid.push([at(done), at(1)])
  return solid
}

/** Where the pipe ends: along the top wall by x, along the right wall by y. */
export function pipedWalls({ places, inner, pxPerM }: Plan) {
  const near = pxPerM * 1.3
  const air = places.filter(({ place }) => (place.airLines ?? 0) > 0)
  const [above, below] = [
    air.filter(({ box }) => box.y - inner.y < near),
    air.filter(({ box }) => box.y - inner.y >= near),
  ]
  return {
    top: above.map(({ box }) => box.x + box.w / 2),
    right: below.filter(({ box }) => inner.x + inner.w - box.x - box.w < near).map(({ box }) => box.y + box.h / 2),
  }
}

/** Along the top and the right wall to the air lines that stand near them, as pipes are hung. */
function pipePath(plan: Plan, at: { readonly x: number; readonly y: number }): string {
  const { inner } = plan
  const hung = plan.density === 'wall' ? 11 : plan.density === 'dot' ? 3 : 7
  const { top, right } = pipedWalls(plan)
  const reach = [at.x, ...top, ...(right.length > 0 ? [inner.x + inner.w - hung] : [])]
  let path = `M${short(Math.min(...reach))} ${inner.y + hung}H${short(Math.max(...reach))}`
  if (right.length > 0) path += `V${short(Math.max(...right))}`
  return `M${short(at.x)} ${short(at.y)}V${inner.y + hung}${path}`
}

function outerWall(line: LineM, room: RoomShape): 'top' | 'right' | 'bottom' | 'left' | undefined {
  const isOn = (value: (point: LineM['from']) => number, wall: number) =>
    Math.abs(value(line.from) - wall) < 0.15 && Math.abs(value(line.to) - wall) < 0.15
  if (isOn((point) => point.yM, 0)) return 'top'
  if (isOn((point) => point.yM, room.depthM)) return 'bottom'
  if (isOn((point) => point.xM, 0)) return 'left'
  if (isOn((point) => point.xM, room.widthM)) return 'right'
  return undefined
}

type CompressorProps = { readonly plan: Plan; readonly room: RoomShape }
