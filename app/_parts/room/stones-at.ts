// Where the stones of one place lie in the drawing, for whoever takes one up by hand.
import { layBay } from './bay.tsx'
import { layBench } from './bench.ts'
import type { PlaceOnPlan, Plan } from './measure.ts'
import type { PieceShape } from './shapes.ts'

export type StoneSpot = {
  readonly piece: PieceShape
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** The stones that are drawn; a bench shows three at most. */
export function stonesAt(plan: Plan, on: PlaceOnPlan, pieces: readonly PieceShape[]): readonly StoneSpot[] {
  return on.place.form === 'bay'
    ? layBay(plan, on, pieces).stones
    : layBench(on.box, on.place.code, pieces, plan.letters, plan.pxPerM).stones
}
