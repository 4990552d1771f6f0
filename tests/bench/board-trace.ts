// What presses cost a page, from the browser's own record: how long its main thread worked from a press until the
// paint that shows it (handlers, React, style, layout, paint), and how long that took by the clock. The clock also
// counts waiting for the display's next frame, up to 16.7 ms at 60 a second, and for other programs of the machine.
import type { Page } from 'playwright'

/** Names under which paintedMs marks the two moments in the page's own timeline. */
export const PRESSED = 'bench:pressed'
export const PAINTED = 'bench:painted'

export interface Cost {
  /** Time of the main thread's processor, at its slowed speed. */
  readonly workMs: number
  readonly clockMs: number
}

interface TraceEvent {
  readonly name: string
  readonly ph: string
  readonly pid: number
  readonly tid: number
  /** Microseconds: since some beginning, how long, and how long on the processor. */
  readonly ts: number
  readonly dur?: number
  readonly tdur?: number
}

/** Runs `presses` under the browser's record and answers what each cost, in order. */
export async function costsOf(page: Page, presses: () => Promise<void>): Promise<readonly Cost[]> {
  const browser = page.context().browser()
  if (!browser) throw new Error('Believed: a page of a launched browser')
  await browser.startTracing(page, { categories: ['-*', 'toplevel', 'blink.user_timing'] })
  await presses()
  const trace = await browser.stopTracing()
  // The browser's own format, of which only these fields are read.
  const { traceEvents } = JSON.parse(trace.toString()) as { readonly traceEvents: readonly TraceEvent[] }
  const marks = (name: string) => traceEvents.filter((event) => event.name === name).toSorted((a, b) => a.ts - b.ts)
  const tasks = traceEvents.filter((event) => event.ph === 'X' && event.name === 'ThreadControllerImpl::RunTask')
  const painted = marks(PAINTED)
  return marks(PRESSED).map((pressed, index) => {
    const end = painted[index]
    if (!end || end.ts < pressed.ts) throw new Error('Got a press without its paint; expected both')
    const worked = tasks.filter(
      (task) =>
        task.pid === pressed.pid &&
        task.tid === pressed.tid &&
        task.ts + (task.dur ?? 0) >= pressed.ts &&
        task.ts <= end.ts,
    )
    return {
      workMs: worked.reduce((sum, task) => sum + (task.tdur ?? 0), 0) / 1000,
      clockMs: (end.ts - pressed.ts) / 1000,
    }
  })
}
