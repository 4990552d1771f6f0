// Several processes on one database: one has the lab, the others stand by, hand on what they are asked, and try again and
// again to have it. The database's lock decides (store/postgres/line.ts); nothing here does.
//
//   enter → open ──(lost)──┐
//         → elsewhere ─────┴→ try each second ─┬─ still elsewhere: where is it now?
//                                              └─ ours: open
import { OwnedElsewhere } from './store/contract.ts'
import type { Clock, Log } from './world.ts'

/** The process that has the lab. */
interface Elsewhere {
  /** Null when it says no address, or nobody has the lab just now. */
  readonly address: string | null
  /** It answered the last time it was asked whether it is ready. */
  readonly isReady: boolean
}

export interface StandBy {
  /** Opens the lab, or begins to stand by; throws what is wrong with the settings or the store. */
  readonly enter: () => Promise<void>
  /** The lab was lost to another process, and closed. */
  readonly wait: () => void
  /** Null while the lab is here. */
  readonly elsewhere: () => Elsewhere | null
  readonly stop: () => void
}

const AGAIN_MS = 1_000
const ANSWER_MS = 2_000

/** `open` opens the lab here, or throws an OwnedElsewhere. */
export function standBy(open: () => Promise<void>, { clock, log }: { clock: Clock; log: Log }): StandBy {
  let elsewhere: Elsewhere | null = null
  let isStopped = false
  let cancel: () => void = () => {}

  async function isReadyAt(address: string | null): Promise<boolean> {
    if (address === null) return false
    return fetch(new URL('/ready', address), { signal: AbortSignal.timeout(ANSWER_MS) }).then(
      ({ ok }) => ok,
      () => false,
    )
  }

  function wait(): void {
    if (isStopped) return
    elsewhere ??= { address: null, isReady: false }
    cancel = clock.after(AGAIN_MS, () => {
      again().catch((error) => {
        // The database cannot be reached, mostly: the next try will tell.
        log('warn', 'standing by: the lab could not be opened yet', { error: String(error) })
        elsewhere = { address: null, isReady: false }
        wait()
      })
    })
  }

  async function again(): Promise<void> {
    try {
      await open()
      elsewhere = null
      log('info', 'the lab is open here now; this process stood by')
    } catch (error) {
      if (!(error instanceof OwnedElsewhere)) throw error
      elsewhere = { address: error.address, isReady: await isReadyAt(error.address) }
      wait()
    }
  }

  return {
    async enter() {
      try {
        await open()
      } catch (error) {
        if (!(error instanceof OwnedElsewhere)) throw error
        elsewhere = { address: error.address, isReady: await isReadyAt(error.address) }
        wait()
      }
    },
    wait,
    elsewhere: () => elsewhere,
    stop() {
      isStopped = true
      cancel()
    },
  }
}
