// A value that says when it changes: the one seam between the core, which knows no framework, and the hooks.
// Listeners are told after the value is in place, so that whoever reads inside a listener reads the new one.

export type Stop = () => void

export class Cell<T> {
  #value: T
  readonly #listeners = new Set<() => void>()

  constructor(value: T) {
    this.#value = value
  }

  /** The present value; the same object until it changes. */
  readonly get = (): T => this.#value

  /** Puts a value in place and tells the listeners; an identical value tells nobody. */
  set(value: T): void {
    if (Object.is(value, this.#value)) return
    this.#value = value
    for (const listener of [...this.#listeners]) listener()
  }

  /** Calls `listener` after each change until stopped. */
  readonly subscribe = (listener: () => void): Stop => {
    this.#listeners.add(listener)
    return () => {
      this.#listeners.delete(listener)
    }
  }
}
