// What the door writes, gathered: each sign-in waits for the disk, and edits stand in the same line behind it. While one
// write is under way all that come meanwhile wait for the next one together, so that whoever signs in a hundred times
// a second makes an edit wait for one write and not for a hundred.
import type { Door, DoorItem } from './contract.ts'

/** An item as it is from now on; null when it goes. */
export interface DoorChange {
  readonly space: string
  readonly key: string
  readonly item: Pick<DoorItem, 'value' | 'expiresAt'> | null
}

/**
 * A door over tables that write many changes at once, all or nothing, each item at most once. Whoever reads sees what was
 * asked to be written before.
 */
export function gatheredDoor(
  tables: Omit<Door, 'put' | 'remove'> & { readonly write: (changes: readonly DoorChange[]) => Promise<void> },
): Door {
  let waiting = new Map<string, DoorChange>()
  let next: Promise<void> | null = null
  let running: Promise<unknown> = Promise.resolve()
  let isRunning = false

  const writeWaiting = () => {
    const changes = [...waiting.values()]
    waiting = new Map()
    next = null
    isRunning = true
    const written = tables.write(changes)
    running = written.then(
      () => {},
      () => {},
    )
    void running.then(() => {
      isRunning = false
    })
    return written
  }
  const change = (one: DoorChange): Promise<void> => {
    const name = `${one.space}\n${one.key}`
    // The later of two stands, also in their order.
    waiting.delete(name)
    waiting.set(name, one)
    if (!isRunning && !next) return writeWaiting()
    next ??= running.then(writeWaiting)
    return next
  }
  const settled = async () => {
    while (isRunning || next) await (next ? next.catch(() => {}) : running)
  }
  const after =
    <A extends readonly unknown[], R>(read: (...args: A) => Promise<R>) =>
    async (...args: A): Promise<R> => {
      await settled()
      return read(...args)
    }

  return {
    put: (space, { key, value, expiresAt }) => change({ space, key, item: { value, expiresAt } }),
    remove: (space, key) => change({ space, key, item: null }),
    get: after(tables.get),
    take: after(tables.take),
    list: after(tables.list),
    sweep: after(tables.sweep),
  }
}
