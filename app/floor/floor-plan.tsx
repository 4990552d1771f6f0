'use client'
// The plan in its frame: the Floor of a shift as the drawing needs it, as wide as there is room. Where the window is
// too small for it the plan pans inside its frame.
import { type RefCallback, useDeferredValue, useMemo } from 'react'
import type { Floor } from '#lib/views'
import type { Records } from '#lib/words'
import { type PlanDensity, RoomPlan, type SitterShape, type Tracing } from '../_parts/room/index.ts'
import { useShared } from '../_parts/shared.ts'
import { later } from '../_shell/later.tsx'
import type { CarryLayerProps } from './carry-layer.tsx'
import { pieceShape, placeShape, rackStones, sittersOf } from './shapes.ts'

export type Inks = {
  /** Ink of a person's stool and name. */
  readonly ofPerson: (personId: string) => 'ink' | 'faint' | 'chalk'
  /** Ink of a piece at a place. */
  readonly ofPiece: (pieceId: string, placeId: string) => 'ink' | 'faint' | 'chalk'
  /** Number of the change that brings a person here. */
  readonly changeOf: (personId: string) => number | undefined
}

export type FloorPlanProps = {
  readonly records: Records
  readonly floor: Floor
  readonly frame: RefCallback<HTMLElement>
  readonly width: number
  readonly density: PlanDensity
  readonly label: string
  readonly chosenId: string | null
  readonly onChoose: (placeId: string) => void
  readonly inks?: Inks | undefined
  readonly tracing?: Tracing | undefined
  /** People whom the proposal takes off their seat, shown where they sat. */
  readonly leaving?: readonly SitterShape[] | undefined
  /** Somebody was carried to another place by hand; without it stools stay where they are. */
  readonly onCarry?: ((personId: string, placeId: string) => void) | undefined
  /** The same for a piece, taken by its stone. */
  readonly onCarryPiece?: ((pieceId: string, placeId: string) => void) | undefined
  /** What would follow, said before letting go. */
  readonly ahead?: CarryLayerProps['ahead']
}

const CarryLayer = later(() => import('./carry-layer.tsx').then((part) => part.CarryLayer))
const noStones: ReturnType<typeof rackStones> = []

/** The drawing of one shift. */
export function FloorPlan(props: FloorPlanProps) {
  const { records, floor, frame, width, density, label, chosenId, onChoose, inks, tracing } = props
  const { leaving, onCarry, onCarryPiece, ahead } = props
  const room = records.room.get('room')
  const places = useShared(useMemo(() => floor.places.map(placeShape), [floor]))
  const pieces = useShared(
    useMemo(
      () =>
        floor.places.flatMap((entry) =>
          entry.pieces.map((piece) => ({
            ...pieceShape(piece, entry.place.id),
            tone: inks?.ofPiece(piece.pieceId, entry.place.id),
          })),
        ),
      [floor, inks],
    ),
  )
  const sitters = useShared(
    useMemo(
      () =>
        [...sittersOf(floor), ...(leaving ?? [])].map((sitter) => ({
          ...sitter,
          tone: inks?.ofPerson(sitter.key),
          change: inks?.changeOf(sitter.key),
        })),
      [floor, inks, leaving],
    ),
  )
  // Only pieces and the room say what lies on the racks; a tick in the room must not draw eighty stones anew.
  const { jacket, specimen } = records
  const pans = density === 'dot' ? undefined : 0
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  const lying = useMemo(() => rackStones(records), [jacket, specimen, room])
  // The room and its people are there first; the racks fill a moment later.
  const stones = useDeferredValue(lying, noStones)
  return (
    <section
      ref={frame}
      className="relative max-w-full overflow-x-auto overflow-y-hidden"
      tabIndex={pans}
      aria-label="Plan of the room"
    >
      {room ? (
        <RoomPlan
          room={room}
          places={places}
          pieces={pieces}
          sitters={sitters}
          rackStones={stones}
          width={width}
          density={density}
          moment={`${floor.date} ${floor.shiftId}`}
          label={label}
          chosenId={chosenId ?? undefined}
          onChoose={onChoose}
          tracing={tracing}
        />
      ) : null}
      {room && onCarry && density !== 'dot' ? (
        <CarryLayer
          room={room}
          places={places}
          sitters={sitters}
          pieces={pieces}
          width={width}
          density={density}
          onChoose={onChoose}
          onCarry={onCarry}
          onCarryPiece={onCarryPiece}
          ahead={ahead}
        />
      ) : null}
    </section>
  )
}
