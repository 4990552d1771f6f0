// What the drawing of the room needs to know, in metres and plain words. Furniture lies by its centre, racks
// by their top left corner, all from the room's inner top left corner.
import type { StoolState } from '../figures/index.ts'
import type { StoneStage, Tone } from '../stone/index.ts'

type PointM = { readonly xM: number; readonly yM: number }
export type LineM = { readonly from: PointM; readonly to: PointM }

type RackShape = {
  readonly code: string
  readonly xM: number
  readonly yM: number
  readonly widthM: number
  readonly depthM: number
}

export type RoomShape = {
  readonly widthM: number
  readonly depthM: number
  /** Inner walls. */
  readonly partitions: readonly LineM[]
  /** On an outer wall or a partition, by their two ends; the first end carries the hinge. */
  readonly doors: readonly LineM[]
  readonly windows: readonly LineM[]
  readonly compressor: PointM | null
  readonly racks: readonly RackShape[]
}

export type PlaceShape = {
  readonly id: string
  readonly code: string
  /** furniture is solid; a bay is dashed floor under a hoist; hood and tank carry their mark. */
  readonly form: 'bench' | 'table' | 'bay' | 'hood' | 'tank'
  readonly xM: number
  readonly yM: number
  readonly widthM: number
  readonly depthM: number
  /** Clockwise; 0 has its seats below. */
  readonly rotationDeg: number
  readonly seats: number
  readonly airLines?: number | undefined
  /** Out of use: hatched, with up to two lines of words. */
  readonly closedWords?: readonly string[] | undefined
  /** The place and who and what is there in one sentence, for readers. */
  readonly label: string
}

export type PieceShape = {
  readonly placeId: string
  /** The id the outline comes from. */
  readonly seed: string
  readonly number: string
  readonly stage: StoneStage
  readonly lengthM: number
  readonly widthM: number
  readonly tone?: Tone | undefined
  /** Name and mass, drawn where there is room: "Hip and tail, 820 kg". */
  readonly words?: string | undefined
  /** Such as "2 May"; undercut when at risk. */
  readonly date?: { readonly words: string; readonly isAtRisk: boolean } | undefined
}

export type SitterShape = {
  readonly key: string
  readonly placeId: string
  /** Which of the place's seats, from 0. */
  readonly seat: number
  readonly state: StoolState
  readonly initial: string
  readonly name: string
  /** The technique, or "due 10:15". */
  readonly note?: string | undefined
  readonly tone?: Tone | undefined
  readonly isHeld?: boolean | undefined
  readonly isClaimed?: boolean | undefined
  /** The key of the mentor this learner is tied to. */
  readonly besideKey?: string | undefined
  /** The number of the change that brought them here. */
  readonly change?: number | undefined
}

export type RackStoneShape = {
  readonly rackCode: string
  readonly seed: string
  readonly stage: StoneStage
  readonly lengthM: number
  readonly widthM: number
}

export type ThreadShape = {
  /** The change's number, the same as in the margin. */
  readonly change: number
  readonly fromPlaceId: string
  readonly fromSeat: number
  readonly toPlaceId: string
  readonly toSeat: number
}

/** How much is written: dot for the phone's plan, name for a tablet, full for a desk, wall for 4 m. */
export type PlanDensity = 'dot' | 'name' | 'full' | 'wall'
