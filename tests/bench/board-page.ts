// What a page tells about itself to the bench: how long until the board is there, how long from a press to the paint
// that shows it, what was sent to it, and how much memory it holds. Runs under the slowed CPU that the caller sets.
import { gzipSync } from 'node:zlib'
import type { CDPSession, Locator, Page } from 'playwright'

/** Slows the page's CPU so many times; 1 is full speed. */
export async function slowDown(page: Page, times: number): Promise<CDPSession> {
  const devtools = await page.context().newCDPSession(page)
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: times })
  return devtools
}

/** Milliseconds from the start of the navigation until the board's records were shown for the first time. */
export async function openedMs(page: Page): Promise<number> {
  const mark = await page.waitForFunction(() => performance.getEntriesByName('talus:open')[0]?.startTime ?? null)
  const ms = await mark.jsonValue()
  if (ms === null) throw new Error('Believed: the mark was waited for')
  return ms
}

/** Milliseconds from pressing a control until the frame is painted in which the page shows the change. */
export async function paintedMs(page: Page, control: Locator): Promise<number> {
  await control.evaluate((element) => {
    const result = new Promise<number>((resolve) => {
      element.addEventListener(
        'click',
        (event) => {
          const watcher = new MutationObserver(() => {
            watcher.disconnect()
            // The frame's callbacks run before its paint; a message posted there is handled after it.
            requestAnimationFrame(() => {
              const { port1, port2 } = new MessageChannel()
              port1.onmessage = () => resolve(performance.now() - event.timeStamp)
              port2.postMessage(null)
            })
          })
          watcher.observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true })
        },
        { once: true, capture: true },
      )
    })
    Object.assign(window, { talusPainted: result })
  })
  await control.click()
  return page.evaluate(() => (window as unknown as { talusPainted: Promise<number> }).talusPainted)
}

/** Script that the page has loaded, gzip, kB; polyfills for browsers without modules are not among them. */
export async function scriptKB(page: Page): Promise<number> {
  const urls = await page.evaluate(() =>
    performance
      .getEntriesByType('resource')
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
