// Slows down guessing without ever shutting anybody out for good. `waits` grows the pause after each failure of one
// key; `buckets` lets a key act in bursts and then at a steady pace. Both are bounded: the oldest keys are forgotten.

import type { Clock } from '../world.ts'

const KEYS_MAX = 20_000

export type Waits = {
  /** Milliseconds until this key may try; 0 now. Counts a try as failed until `succeeded` is called. */
  readonly attempt: (key: string) => number
  readonly succeeded: (key: string) => void
}

/** Free tries first, then a pause that doubles with each failure up to `maxMs`; forgotten after a day of quiet. */
export function waits(clock: Clock, { free, firstMs, maxMs }: { free: number; firstMs: number; maxMs: number }): Waits {
  const forgetMs = 24 * 3_600_000
  const known = new Map<string, { failures: number; at: number }>()
  const pauseOf = (failures: number) => (failures < free ? 0 : Math.min(maxMs, firstMs * 2 ** (failures - free)))
  return {
    attempt(key) {
      const now = clock.now()
      const past = known.get(key)
      const failures = past && now - past.at < forgetMs ? past.failures : 0
      const left = past ? past.at + pauseOf(failures) - now : 0
      if (left > 0) return left
      // Counted before the answer is known: many tries sent at once must not all be free.
      remember(known, key, { failures: failures + 1, at: now })
      return 0
    },
    succeeded: (key) => void known.delete(key),
  }
}

export type Buckets = {
  /** Milliseconds until this key may act; 0 when it just did. */
  readonly take: (key: string) => number
}

/** `burst` acts at once, refilled at `perMinute`. */
export function buckets(clock: Clock, { burst, perMinute }: { burst: number; perMinute: number }): Buckets {
  const known = new Map<string, { left: number; at: number }>()
  return {
    take(key) {
      const now = clock.now()
      const past = known.get(key) ?? { left: burst, at: now }
      const left = Math.min(burst, past.left + ((now - past.at) / 60_000) * perMinute)
      const isFree = left >= 1
      remember(known, key, { left: isFree ? left - 1 : left, at: now })
      return isFree ? 0 : Math.ceil(((1 - left) / perMinute) * 60_000)
    },
  }
}

function remember<T>(known: Map<string, T>, key: string, value: T): void {
  known.delete(key)
  known.set(key, value)
  if (known.size > KEYS_MAX) for (const oldest of known.keys()) return void known.delete(oldest)
}
