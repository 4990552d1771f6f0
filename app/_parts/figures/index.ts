// Figures: drawings that say an amount, a time or a state, each with its words.
export { type AirPart, AirPipe, type AirPipeProps } from './air-pipe.tsx'
export { FinishWindow, type FinishWindowProps } from './finish-window.tsx'
export { ForceComb, type ForceCombProps } from './force-comb.tsx'
export { box, hatch } from './hatch.ts'
export { along, type Scale } from './scale.ts'
export { type RailShift, ShiftRail, type ShiftRailProps } from './shift-rail.tsx'
export {
  ChanceDots,
  chanceWords,
  ExposureBar,
  HoursBar,
  KeyItem,
  levelWords,
  type SkillLevel,
  SkillRing,
} from './small.tsx'
export { StagePath, type StagePathStep } from './stage-path.tsx'
export { Stool, StoolAt, type StoolState, stoolWords } from './stool.tsx'
export { AxisRules, monthStarts, TimeAxis } from './time-axis.tsx'
