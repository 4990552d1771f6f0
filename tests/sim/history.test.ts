// The histories of `npm run -s check:history`, a few of them at each run; the same dice each time, `SEED=n` for others.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { opSchemas } from '#lib/ops'
import { root } from '../kit/server.ts'
import { playMany } from './cli.ts'
import { mutated } from './mutate.ts'
import { mutations } from './mutations.ts'

const RUNS = 200

describe('histories over a simulated clock, network and disk', () => {
  it(`R1 R2 R3 R4 R5 R6 R7 R8 hold in ${RUNS} histories; nothing is lost, doubled, diverged or leaked`, {
    timeout: 300_000,
  }, async () => {
    const { line, failed, kinds } = await playMany(Number(process.env.SEED ?? 1), RUNS)
    const { seconds: _, ...counts } = line
    expect(
      failed.map(({ seed }) => seed),
      JSON.stringify(counts),
    ).toEqual([])
    expect(counts).toMatchObject({ lost: 0, doubled: 0, diverged: 0, broken: 0, leaked: 0 })
    // A history in which nothing happens, or nothing goes wrong on the way, would prove nothing.
    expect(line.edits).toBeGreaterThan(RUNS * 10)
    const faults = [
      'cuts',
      'partitions',
      'halfOpen',
      'doubledFrames',
      'doubledOps',
      'sleeps',
      'kills',
      'powerCuts',
    ] as const
    for (const fault of [
      ...faults,
      'full',
      'io',
      'answersLost',
      'clockJumps',
      'clockSkews',
      'secondServers',
      'reloads',
      'torn',
      'lostUnsynced',
      'tornFrames',
    ])
      expect(line.faults[fault] ?? 0, fault).toBeGreaterThan(RUNS / 10)
    // Every kind of act takes part: a new one must come with its way of being drawn (tests/lib/ops/random-ops.ts).
    expect(Object.keys(opSchemas).filter((kind) => !kinds.made.has(kind))).toEqual([])
  })

  it.each(mutations)('a break can still be made: $name', ({ patches }) => {
    for (const { file, from, to } of patches)
      expect(mutated(readFileSync(join(root, file), 'utf8'), from, to, file)).not.toBe('')
  })
})
