// The room as a measured drawing.
export { ChangeNumber } from './crew.tsx'
export { type PlanEditing, RoomPlan, type RoomPlanProps, type Tracing } from './room-plan.tsx'
export type {
  LineM,
  PieceShape,
  PlaceShape,
  PlanDensity,
  PointM,
  RackShape,
  RackStoneShape,
  RoomShape,
  SitterShape,
  ThreadShape,
} from './shapes.ts'
export { mostThreads } from './tracing.tsx'
