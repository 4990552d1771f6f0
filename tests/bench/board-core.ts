// What one edit costs the client's core, without a browser: judged, laid over the draft and shown; and what another's
// edit costs when it comes in. The browser bench (board-page.ts) adds React and paint; this tells which part is whose.
import { performance } from 'node:perf_hooks'
import { seededRandom } from '#lib/base'
import type { OpBody } from '#lib/ops'
import { kindNames, noRecords, type Records, withChanges } from '#lib/words'
import { demoRecords } from '../../demo/index.ts'
import { aWorld } from '../app/board/kit/world.ts'

export type CoreCost = {
  readonly records: number
  /** Milliseconds, median and 95th percentile, on this machine at full speed. */
  readonly actP50Ms: number
  readonly actP95Ms: number
  readonly theirsP50Ms: number
  readonly theirsP95Ms: number
  readonly openMs: number
}

const at = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0

/** Measures at one scale of the demo; `waiting` ops lie in the outbox meanwhile, as in an hour offline. */
export async function coreCost({
  scale,
  seed = 1,
  waiting = 0,
}: {
  scale: number
  seed?: number
  waiting?: number
}): Promise<CoreCost> {
  const records: Records = withChanges(noRecords(), demoRecords({ seed, today: '2026-03-11', scale }))
  const manager = [...records.person.values()].find((person) => person.role === 'manager')
  const other = [...records.person.values()].find((person) => person.role === 'preparator')
  if (!manager || !other) throw new Error('Believed: the demo has a manager and a preparator')
  const world = await aWorld({ records })
  const device = world.device(manager.id)
  const started = performance.now()
  const tab = world.tab(device)
  await world.clock.pass(300)
  const openMs = performance.now() - started
  const theirs = world.tab(world.device(other.id))
  await world.clock.pass(300)
  const dice = seededRandom(seed)
  const pieces = [...records.jacket.keys()]
  const shelve = (): OpBody =>
    ({
      kind: 'shelve',
      pieceId: pieces[dice.below(pieces.length)] ?? '',
      shelf: `r${dice.below(1e6)}`,
      placeId: null,
    }) as OpBody
  if (waiting > 0) {
    world.cut(device)
    for (let n = 0; n < waiting; n++) tab.act(shelve())
  }
  const acts: number[] = []
  const coming: number[] = []
  for (let n = 0; n < 200; n++) {
    const start = performance.now()
    const done = tab.act(shelve())
    acts.push(performance.now() - start)
    if (!done.ok && n === 0) throw new Error(`Believed: a manager may shelve: ${JSON.stringify(done.findings)}`)
    if (waiting > 0) continue
    await world.clock.pass(40)
    theirs.act(shelve())
    // Everything between the other's act and both screens: gate, frames, flush.
    const from = performance.now()
    await world.clock.pass(40)
    coming.push(performance.now() - from)
  }
  tab.stop()
  theirs.stop()
  await world.close()
  const sort = (list: number[]) => list.sort((a, b) => a - b)
  sort(acts)
  sort(coming)
  return {
    records: kindNames.reduce((sum, kind) => sum + records[kind].size, 0),
    actP50Ms: at(acts, 0.5),
    actP95Ms: at(acts, 0.95),
    theirsP50Ms: at(coming, 0.5),
    theirsP95Ms: at(coming, 0.95),
    openMs,
  }
}
