// Figures: drawings that say an amount, a time or a state, each with its words.
export { AirPipe } from './air-pipe.tsx'
export { FinishWindow } from './finish-window.tsx'
export { ForceComb } from './force-comb.tsx'
export { box, hatch } from './hatch.ts'
export { DuePlumb, type DuePlumbProps } from './plumbs.tsx'
export { along, type Scale } from './scale.ts'
export { ShiftRail } from './shift-rail.tsx'
export {
  ChanceDots,
  chanceWords,
  ExposureBar,
  HoursBar,
  KeyItem,
  levelWords,
  SkillRing,
} from './small.tsx'
export { StagePath, type StagePathStep } from './stage-path.tsx'
export { Stool, StoolAt, type StoolState } from './stool.tsx'
export { AxisRules, monthStarts, TimeAxis } from './time-axis.tsx'
