// The machine's own time and chance, for main and for the benches.
import { randomBytes } from 'node:crypto'
import type { Chance, Clock } from './world.ts'

// setTimeout fires at once when the wait is longer than this.
const LONGEST_WAIT_MS = 2 ** 31 - 1

/**
 * The machine's clock, or one that runs like it from another moment (for drills and tests of a morning).
 * Waits do not keep the process alive: sockets and workers do.
 */
export const clockFrom = (startMs: number | null): Clock => {
  const aheadMs = startMs === null ? 0 : startMs - Date.now()
  return { ...systemClock, now: () => Date.now() + aheadMs }
}

/** The machine's clock. */
export const systemClock: Clock = {
  now: () => Date.now(),
  after: (ms, run) => {
    const timer = setTimeout(run, Math.min(Math.max(0, ms), LONGEST_WAIT_MS))
    timer.unref()
    return () => clearTimeout(timer)
  },
}

/** The machine's source of unguessable bytes. */
export const systemChance: Chance = { bytes: (count) => randomBytes(count) }
