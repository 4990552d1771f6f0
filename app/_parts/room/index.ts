// The room as a measured drawing.
export { RoomPlan, type Tracing } from './room-plan.tsx'
export type {
  PieceShape,
  PlaceShape,
  PlanDensity,
  RackStoneShape,
  RoomShape,
  SitterShape,
  ThreadShape,
} from './shapes.ts'
