// The steps of a piece as the Sheet lists them: hours done, what is left of the estimate on one scale for all, what a
// step waits for. Dropped steps come last.
import { stepsBefore, techniqueOf } from '#lib/rules'
import type { RecordOf, Records, Technique } from '#lib/words'

export type SheetStep = {
  readonly step: RecordOf<'step'>
  readonly technique: Readonly<Technique> | null
  readonly doneH: number
  /** What the low and the high estimate leave; both 0 for a step that is closed. */
  readonly leftLowH: number
  readonly leftHighH: number
  /** Open, and longer at work than its high estimate. */
  readonly isOver: boolean
  readonly isOpen: boolean
  /** Open steps that must be done before; those that come before another of them go without saying. */
  readonly waitsFor: readonly RecordOf<'step'>[]
}

export type SheetSteps = {
  readonly rows: readonly SheetStep[]
  /** End of the one scale on which all rows draw their hours left. */
  readonly scaleH: number
  readonly doneH: number
  readonly leftLowH: number
  readonly leftHighH: number
}

/** All steps of a piece in their order. */
export function sheetSteps(records: Records, pieceId: string): SheetSteps {
  const steps = [...records.step.values()].filter((step) => step.pieceId === pieceId)
  const rows = steps
    .toSorted(
      (a, b) =>
        Number(a.state === 'dropped') - Number(b.state === 'dropped') || a.rank - b.rank || (a.id < b.id ? -1 : 1),
    )
    .map((step) => rowOf(records, step))
  const sum = (of: (row: SheetStep) => number) => rows.reduce((total, row) => total + of(row), 0)
  return {
    rows,
    scaleH: niceScale(Math.max(0, ...rows.map((row) => row.leftHighH))),
    doneH: sum((row) => row.doneH),
    leftLowH: sum((row) => row.leftLowH),
    leftHighH: sum((row) => row.leftHighH),
  }
}

function rowOf(records: Records, step: RecordOf<'step'>): SheetStep {
  const isOpen = step.state === 'waiting' || step.state === 'begun'
  const doneH = step.doneMinutes / 60
  const left = (hours: number) => (isOpen ? Math.max(0, hours - doneH) : 0)
  return {
    step,
    technique: techniqueOf(records, step.techniqueId) ?? null,
    doneH,
    leftLowH: left(step.hours.lowH),
    leftHighH: left(step.hours.highH),
    isOver: isOpen && doneH > step.hours.highH,
    isOpen,
    waitsFor: isOpen ? nearest(stepsBefore(records, step)) : [],
  }
}

const nearest = (before: readonly RecordOf<'step'>[]): readonly RecordOf<'step'>[] =>
  before.filter((step) => !before.some((other) => other.after.includes(step.id)))

/** The next 1, 2, 5 times a power of ten: a scale whose end can be said. */
export function niceScale(most: number): number {
  if (most <= 1) return 1
  const power = 10 ** Math.floor(Math.log10(most))
  const share = most / power
  return (share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10) * power
}
