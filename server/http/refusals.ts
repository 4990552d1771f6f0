// Who was turned away, for whoever watches the log: each kind of refusal is told at once, and what follows of it within a
// minute is counted and told in one line, so that guessing is seen and cannot fill the log. No address, no name, no secret.
import type { Clock, Log } from '../world.ts'

const GATHER_MS = 60_000
/** Statuses that say that somebody may not come in, or not so often. */
const turnedAway = new Set([401, 403, 404, 410, 421, 429])

/** Notes one answer; `path` is fit for the log, `why` is the code that was answered. */
export type NoteRefusal = (path: string, status: number, why: string) => void

export function refusalsIn({ clock, log }: { readonly clock: Clock; readonly log: Log }): NoteRefusal {
  const counted = new Map<string, number>()
  return (path, status, why) => {
    if (!turnedAway.has(status)) return
    const key = `${path} ${status} ${why}`
    const more = counted.get(key)
    if (more !== undefined) {
      counted.set(key, more + 1)
      return
    }
    counted.set(key, 0)
    log('warn', 'somebody was turned away', { path, status, why })
    clock.after(GATHER_MS, () => {
      const times = counted.get(key) ?? 0
      counted.delete(key)
      if (times > 0) log('warn', 'others were turned away in the same minute', { path, status, why, times })
    })
  }
}
