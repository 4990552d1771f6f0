// A clock that stands still until a test moves it. Moving it runs what was due, in order, and lets all that follows from
// each (promises, messages) happen before the next.
import type { Clock } from '../../server/world.ts'

export interface FakeClock extends Clock {
  /** Milliseconds that passed since it was made, whatever the hands show. */
  readonly elapsed: () => number
  /** Lets time pass, step by step. */
  readonly pass: (ms: number) => Promise<void>
  /** Time passes while nothing runs, as on a machine that sleeps; what fell due meanwhile runs once, late. */
  readonly leap: (ms: number) => Promise<void>
  /** Sets the hands without anything happening, as an administrator or a satellite does. */
  readonly jump: (ms: number) => void
  /** Lets everything that needs no time happen. */
  readonly settle: () => Promise<void>
}

// More rounds than any chain of promises in the server is long.
const ROUNDS = 40

export function fakeClock(start = Date.parse('2026-03-12T08:00:00Z')): FakeClock {
  let now = start
  let elapsed = 0
  let n = 0
  // Waits are measured by time that passes, not by the hands.
  const due = new Map<number, { at: number; run: () => void }>()
  const settle = async () => {
    for (let round = 0; round < ROUNDS; round++) await Promise.resolve()
  }
  const next = (until: number): number | null => {
    let best: number | null = null
    for (const [id, { at }] of due) {
      const bestAt = best === null ? until : (due.get(best)?.at ?? until)
      if (at < bestAt || (best === null && at <= until)) best = id
    }
    return best
  }
  const pass = async (ms: number) => {
    const until = elapsed + ms
    await settle()
    for (let id = next(until); id !== null; id = next(until)) {
      const { at, run } = due.get(id) ?? { at: until, run: () => {} }
      due.delete(id)
      now += Math.max(0, at - elapsed)
      elapsed = Math.max(elapsed, at)
      run()
      await settle()
    }
    now += until - elapsed
    elapsed = until
  }
  return {
    now: () => now,
    elapsed: () => elapsed,
    after: (ms, run) => {
      n++
      const id = n
      due.set(id, { at: elapsed + Math.max(0, ms), run })
      return () => due.delete(id)
    },
    jump: (ms) => {
      now += ms
    },
    settle,
    pass,
    leap: async (ms) => {
      now += ms
      elapsed += ms
      await pass(0)
    },
  }
}
