// How fast the parts of an import may leave: a connection that sends more than the server allows is ended
// (server/sync/limits.ts), and others' edits share the line. So a little at once, then slower than the allowance.

/** Letters that may leave at once, and in a second from then on. */
const AT_ONCE = 2 * 1024 * 1024
const PER_SECOND = 200 * 1024

export interface Pace {
  /** Milliseconds until so many letters may leave. */
  readonly waitMs: (letters: number, now: number) => number
  /** They leave. */
  readonly take: (letters: number, now: number) => void
}

/** A pace with all of its allowance; `now` in ms, of one clock. */
export function makePace(start: number): Pace {
  let left = AT_ONCE
  let at = start
  const leftAt = (now: number) => Math.min(AT_ONCE, left + (Math.max(0, now - at) / 1000) * PER_SECOND)
  return {
    waitMs: (letters, now) => Math.max(0, ((Math.min(letters, AT_ONCE) - leftAt(now)) / PER_SECOND) * 1000),
    take(letters, now) {
      left = leftAt(now) - letters
      at = now
    },
  }
}
