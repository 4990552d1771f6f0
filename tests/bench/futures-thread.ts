// One thread of the futures bench: gets the season's tables, runs a share of the futures, gives back their tally.
import { parentPort } from 'node:worker_threads'
import { createRunner, emptyTally, type LabModel, orderOf, runFutures } from '#lib/season'

export interface Share {
  readonly model: LabModel
  readonly pieces: Int32Array
  readonly seed: number
  readonly from: number
  readonly to: number
}

parentPort?.on('message', ({ model, pieces, seed, from, to }: Share) => {
  const order = orderOf(model, pieces)
  const runner = createRunner(model, order)
  const tally = emptyTally(model)
  runFutures({ model, order, runner }, tally, { seed, from, to })
  parentPort?.postMessage(tally)
})
