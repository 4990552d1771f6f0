// The tabs of one browser: what one says the others hear a moment later, and one lead that passes on.
import type { TabMessage, Tabs } from '../../../../app/_board/core/ports.ts'
import type { FakeClock } from '../../../kit/fake-clock.ts'

type Tab = { readonly name: string; hear: (message: TabMessage) => void; lead: ((is: boolean) => void) | null }

export class TabBus {
  readonly #clock: FakeClock
  readonly #tabs: Tab[] = []
  readonly #leader = new Map<string, Tab>()

  constructor(clock: FakeClock) {
    this.#clock = clock
  }

  join(name: string): Tabs {
    const tab: Tab = { name, hear: () => {}, lead: null }
    return {
      send: (message) => {
        const text = JSON.stringify(message)
        for (const other of [...this.#tabs]) {
          if (other === tab || other.name !== name) continue
          this.#clock.after(1, () => {
            if (this.#tabs.includes(other)) other.hear(JSON.parse(text) as TabMessage)
          })
        }
      },
      listen: (hear) => {
        tab.hear = hear
        this.#tabs.push(tab)
        return () => {
          const at = this.#tabs.indexOf(tab)
          if (at >= 0) this.#tabs.splice(at, 1)
        }
      },
      lead: (changed) => {
        tab.lead = changed
        this.#clock.after(1, () => this.#elect(name))
        return () => {
          tab.lead = null
          this.#clock.after(1, () => this.#elect(name))
        }
      },
    }
  }

  /** The tab that came into view takes the lead. */
  take(name: string, index: number): void {
    const mine = this.#tabs.filter((tab) => tab.name === name && tab.lead)
    const next = mine[index % Math.max(1, mine.length)]
    if (!next || this.#leader.get(name) === next) return
    this.#leader.get(name)?.lead?.(false)
    this.#leader.set(name, next)
    next.lead?.(true)
  }

  #elect(name: string): void {
    const now = this.#leader.get(name)
    if (now?.lead && this.#tabs.includes(now)) return
    const next = this.#tabs.find((tab) => tab.name === name && tab.lead)
    if (!next) {
      this.#leader.delete(name)
      return
    }
    this.#leader.set(name, next)
    next.lead?.(true)
  }
}
