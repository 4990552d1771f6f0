// Who looks at what. Each part of a screen that wants to be seen adds where it is; the one added last speaks for this
// tab. The server adds the name, so a state here holds none. Changes are gathered for a moment, since typing moves
// through fields faster than anybody reads.
import { Cell, type Stop } from './cell.ts'
import type { Clock, Here, Line, Other } from './ports.ts'

const GATHER_MS = 150

export class Presence {
  readonly others = new Cell<readonly Other[]>([])
  readonly #clock: Clock
  #places: readonly Here[] = []
  #line: Line | null = null
  #stopWait: Stop | null = null

  constructor(clock: Clock) {
    this.#clock = clock
  }

  /** Says where this tab is until stopped. */
  add(here: Here): Stop {
    this.#places = [...this.#places, here]
    this.#sayLater()
    return () => {
      this.#places = this.#places.filter((place) => place !== here)
      this.#sayLater()
    }
  }

  /** The board's line, or null while there is none: then nobody else is known. */
  connect(line: Line | null): void {
    this.#line = line
    if (line) line.here(this.#places.at(-1) ?? null)
    else this.others.set([])
  }

  hear(others: readonly Other[]): void {
    this.others.set(others)
  }

  close(): void {
    this.#stopWait?.()
    this.#stopWait = null
    this.#line = null
  }

  #sayLater(): void {
    if (this.#stopWait) return
    this.#stopWait = this.#clock.after(GATHER_MS, () => {
      this.#stopWait = null
      this.#line?.here(this.#places.at(-1) ?? null)
    })
  }
}
