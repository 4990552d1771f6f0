// What a page tells about itself to the bench: how long until the board is there, how long from a press to the paint
// that shows it, what was sent to it, and how much memory it holds. Runs under the slowed CPU that the caller sets.
import { gzipSync } from 'node:zlib'
import type { CDPSession, Locator, Page } from 'playwright'
import { PAINTED, PRESSED } from './board-trace.ts'

/** Slows the page's CPU so many times; 1 is full speed. */
export async function slowDown(page: Page, times: number): Promise<CDPSession> {
  const devtools = await page.context().newCDPSession(page)
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: times })
  return devtools
}

/**
 * From here on the page notes the moment at which the screen was painted with the board on it: `selector` is there.
 * Call it before the navigation; read the moment with `usableMs`.
 */
export async function watchForUse(page: Page, selector: string): Promise<void> {
  await page.addInitScript((wanted) => {
    const watcher = new MutationObserver(() => {
      if (!document.querySelector(wanted)) return
      watcher.disconnect()
      // The frame's callbacks run before its paint; a message posted there is handled after it.
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel()
        port1.onmessage = () => performance.mark('bench:usable')
        port2.postMessage(null)
      })
    })
    watcher.observe(document, { subtree: true, childList: true })
  }, selector)
}

/** Milliseconds from the start of the navigation until the screen was painted with the board on it. */
export async function usableMs(page: Page): Promise<number> {
  const mark = await page.waitForFunction(
    () => performance.getEntriesByName('bench:usable')[0]?.startTime ?? null,
    null,
    {
      polling: 100,
    },
  )
  const ms = await mark.jsonValue()
  if (ms === null) throw new Error('Believed: the mark was waited for')
  return ms
}

/** Counts the bytes that reach a page from here on: documents, scripts, fonts as compressed, and socket frames. */
export async function countBytes(devtools: CDPSession): Promise<() => number> {
  let bytes = 0
  devtools.on('Network.loadingFinished', ({ encodedDataLength }) => {
    bytes += encodedDataLength
  })
  devtools.on('Network.webSocketFrameReceived', ({ response }) => {
    // Opcode 2 is a binary frame, given in base64.
    bytes += response.opcode === 2 ? (response.payloadData.length * 3) / 4 : response.payloadData.length
  })
  await devtools.send('Network.enable')
  return () => bytes
}

/** A press that shows nothing for so long shows nothing at all. */
const PAINT_MAX_MS = 10_000

/**
 * Presses a control, by mouse or with a key that it takes, and waits until the frame is painted in which the page shows
 * a change. Both moments are marked in the page's timeline, for board-trace.ts.
 */
export async function pressAndPaint(page: Page, control: Locator, key?: string): Promise<void> {
  // To the middle: the edges may lie under what stands fixed there.
  await control.evaluate((element) => element.scrollIntoView({ block: 'center' }))
  // The pointer's own way there, and the checks a test's click would make in the page, are no part of the press.
  const box = await control.boundingBox()
  if (!box) throw new Error('Got a control that is not drawn; expected one to press')
  if (key === undefined) await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
  else await control.focus()
  await control.evaluate(
    (element, [type, pressed, painted]) => {
      const result = new Promise<void>((resolve) => {
        element.addEventListener(
          type,
          () => {
            performance.mark(pressed)
            const watcher = new MutationObserver(() => {
              watcher.disconnect()
              // The frame's callbacks run before its paint; a message posted there is handled after it.
              requestAnimationFrame(() => {
                const { port1, port2 } = new MessageChannel()
                port1.onmessage = () => {
                  performance.mark(painted)
                  resolve()
                }
                port2.postMessage(null)
              })
            })
            watcher.observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true })
          },
          { once: true, capture: true },
        )
      })
      Object.assign(window, { benchPainted: result })
    },
    [key === undefined ? 'click' : 'keydown', PRESSED, PAINTED] as const,
  )
  if (key === undefined) {
    await page.mouse.down()
    await page.mouse.up()
  } else await page.keyboard.press(key)
  const isPainted = await page.evaluate(
    (most) =>
      Promise.race([
        (window as unknown as { benchPainted: Promise<void> }).benchPainted.then(() => true),
        new Promise<boolean>((resolve) => setTimeout(() => resolve(false), most)),
      ]),
    PAINT_MAX_MS,
  )
  if (!isPainted) throw new Error(`Got a press on ${control} that paints nothing; expected its change`)
}

/** Script that the page asked for until it was of use, gzip, kB; polyfills for old browsers are not among it. */
export async function scriptKB(page: Page): Promise<number> {
  const urls = await page.evaluate(() =>
    performance
      .getEntriesByType('resource')
      .filter(({ startTime }) => startTime <= (performance.getEntriesByName('bench:usable')[0]?.startTime ?? 0))
      .map(({ name }) => name)
      .filter((name) => /\/_next\/static\/.*\.js$/.test(name)),
  )
  let bytes = 0
  for (const url of new Set(urls)) {
    const response = await page.request.get(url)
    bytes += gzipSync(await response.body(), { level: 9 }).length
  }
  return bytes / 1000
}

/** Memory that the page's scripts hold after a collection, MB. */
export async function heapMB(devtools: CDPSession): Promise<number> {
  await devtools.send('HeapProfiler.enable')
  await devtools.send('HeapProfiler.collectGarbage')
  const { usedSize } = await devtools.send('Runtime.getHeapUsage')
  return usedSize / 1e6
}
