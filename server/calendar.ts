// The lab's day: which it is in the lab's own zone, and a call when another begins.
import { addDays, instantOf, localAt } from '#lib/base'
import type { When } from '#lib/ops'
import type { Clock } from './world.ts'

/** The clock may be set, and a laptop may sleep: the date is looked at this often. */
const LOOK_MS = 60_000
const MINUTE_MS = 60_000

export class Calendar {
  readonly #clock: Clock
  readonly #zone: () => string
  readonly #onDay: (date: string) => void
  #today: string
  #cancel: () => void = () => {}
  // Asked with every edit, and Intl is slow; no zone changes within a minute.
  #minute: { readonly zone: string; readonly n: number; readonly local: ReturnType<typeof localAt> } | null = null

  constructor(clock: Clock, zone: () => string, onDay: (date: string) => void) {
    this.#clock = clock
    this.#zone = zone
    this.#onDay = onDay
    this.#today = ''
  }

  /** Now, as the lab's clocks show it. */
  when(): When {
    const now = this.#clock.now()
    const [zone, n] = [this.#zone(), Math.floor(now / MINUTE_MS)]
    if (this.#minute?.zone !== zone || this.#minute.n !== n) this.#minute = { zone, n, local: localAt(zone, now) }
    return { at: new Date(now).toISOString(), ...this.#minute.local }
  }

  /** Looks whether another day has begun, and when to look again; also to be called when the zone was changed. */
  look(): void {
    this.#cancel()
    const { date } = this.when()
    if (date !== this.#today) {
      this.#today = date
      this.#onDay(date)
    }
    const untilMidnight = instantOf(this.#zone(), addDays(date, 1), 0) - this.#clock.now()
    this.#cancel = this.#clock.after(Math.max(1, Math.min(LOOK_MS, untilMidnight)), () => this.look())
  }

  stop(): void {
    this.#cancel()
  }
}
