// The racks with what waits on them: shelves to scale, stones in their true relative size.
import { memo } from 'react'
import { proportion, StoneAt, type Tone } from '../stone/index.ts'
import { short } from '../stone/outline.ts'
import { boxPx, type Scale } from './measure.ts'
import type { RackStoneShape, RoomShape } from './shapes.ts'

/** Shelves with the stones that lie there, in true relative size, as many as fit. */
export const Racks = memo(function Racks({ plan, room, stones, tone }: RacksProps) {
  return room.racks.map((rack) => {
    const box = boxPx(plan, { x: rack.xM, y: rack.yM, w: rack.widthM, h: rack.depthM })
    const isLying = box.w >= box.h
    const rows = Math.max(1, Math.round((isLying ? box.h : box.w) / Math.max(22, plan.pxPerM * 0.6)))
    const here = stones.filter((stone) => stone.rackCode === rack.code)
    const bays = Math.max(1, Math.round((isLying ? box.w : box.h) / (plan.pxPerM * 1.7)))
    return (
      <g key={rack.code}>
        <rect className="fill-bench stroke-ink" x={box.x} y={box.y} width={box.w} height={box.h} strokeWidth={1.2} />
        <path className="stroke-edge" fill="none" strokeWidth={1} d={shelfLines(box, rows, bays, isLying)} />
        {lieOnShelves(here, box, rows, isLying, plan.pxPerM).map(({ stone, ...at }) => (
          <StoneAt key={stone.seed} seed={stone.seed} stage={stone.stage} tone={tone} {...at} />
        ))}
      </g>
    )
  })
})

type PxBox = { readonly x: number; readonly y: number; readonly w: number; readonly h: number }

function shelfLines(box: PxBox, rows: number, bays: number, isLying: boolean): string {
  const lines: string[] = []
  for (let row = 1; row < rows; row++) {
    lines.push(
      isLying
        ? `M${box.x} ${short(box.y + (box.h * row) / rows)}h${box.w}`
        : `M${short(box.x + (box.w * row) / rows)} ${box.y}v${box.h}`,
    )
  }
  for (let bay = 1; bay < bays; bay++) {
    lines.push(
      isLying
        ? `M${short(box.x + (box.w * bay) / bays)} ${box.y}v${box.h}`
        : `M${box.x} ${short(box.y + (box.h * bay) / bays)}h${box.w}`,
    )
  }
  return lines.join('')
}

function lieOnShelves(stones: readonly RackStoneShape[], box: PxBox, rows: number, isLying: boolean, pxPerM: number) {
  const deep = (isLying ? box.h : box.w) / rows
  const long = isLying ? box.w : box.h
  const lying: { stone: RackStoneShape; x: number; y: number; width: number; height: number }[] = []
  let row = 0
  let at = deep * 0.3
  for (const stone of stones) {
    // Along a lying rack a stone may be longer than the shelf is deep; on a standing one that is the shelf's depth, and
    // a housed stone's cradle reaches beyond it on both sides.
    const most = deep * (isLying ? 1.5 : stone.stage === 'housed' ? 0.68 : 0.84)
    const width = Math.min(most, Math.max(deep * 0.46, stone.lengthM * pxPerM))
    const height = Math.min(deep * 0.72, width * proportion(stone.lengthM, stone.widthM))
    const reach = isLying ? width : height
    if (at + reach > long - 4) {
      row += 1
      at = deep * 0.3
    }
    if (row >= rows) break
    const across = deep * (row + 0.5)
    const along = at + reach / 2
    lying.push({ stone, width, height, x: box.x + (isLying ? along : across), y: box.y + (isLying ? across : along) })
    at += reach + deep * 0.24
  }
  return lying
}

type RacksProps = {
  readonly plan: Scale
  readonly room: RoomShape
  readonly stones: readonly RackStoneShape[]
  readonly tone: Tone
}
