/** One future told turn by turn: the first days of the plan, and what a checker goes over. */
import { addDays, at } from '#lib/base'
import type { PlannedTurn } from '../words.ts'
import { keyOf } from './chance.ts'
import { minutesOf } from './hours.ts'
import type { LabModel } from './model.ts'
import type { Order } from './order.ts'
import { type Planned, SEASON_SEED } from './planned.ts'
import { runFuture } from './run.ts'
import { createRunner, type Runner } from './runner.ts'

interface Tables {
  readonly model: LabModel
  readonly order: Order
  readonly runner: Runner
}

/** The turns of a future up to a day, in order of time. */
export function turnsOf(
  { model, order, runner }: Tables,
  chance: { readonly key: number; readonly isMedian?: boolean },
  days: number,
): readonly PlannedTurn[] {
  const turns: PlannedTurn[] = []
  runFuture(model, order, runner, chance, {
    turns: (slot, step, place, picked, count) => {
      const day = at(model.slotDay, slot)
      if (day >= days) return
      for (let i = 0; i < count; i++) {
        turns.push({
          date: addDays(model.from, day),
          shiftId: model.shiftIds[at(model.slotShift, slot)] ?? '',
          personId: model.personIds[at(picked, i)] ?? '',
          pieceId: model.pieceIds[at(model.stepPiece, step)] ?? '',
          stepId: model.stepIds[step] ?? '',
          placeId: model.placeIds[place] ?? '',
        })
      }
    },
    slotEnds: () => {},
  })
  return turns
}

export interface Story {
  readonly turns: readonly PlannedTurn[]
  /** Minutes of hands each step took in this future. */
  readonly minutes: ReadonlyMap<string, number>
  /** Day on which each piece was ready; those that were not are not in it. */
  readonly readyOn: ReadonlyMap<string, string>
}

/** The whole of one future of a planned season. */
export function storyOf({ season, order }: Planned, future: number, seed = SEASON_SEED): Story {
  const { model } = season
  const runner = createRunner(model, order)
  const key = keyOf(seed, future)
  const minutes = new Map(model.stepIds.map((id, step) => [id, minutesOf(model, key, step)]))
  const turns = turnsOf({ model, order, runner }, { key }, model.days)
  const ready = model.pieceIds.flatMap((id, piece) => {
    const day = at(runner.finishDay, piece)
    return day < 0 ? [] : [[id, addDays(model.from, day)] as const]
  })
  return { turns, minutes, readyOn: new Map(ready) }
}
