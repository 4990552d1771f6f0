/**
 * `npm run -s bench -- board [--records 150,1000,5000] [--archived 0,100000] [--rounds 5] [--presses 10] [--slow 4]
 * [--seed 20]`
 *
 * What the board costs in a browser with a slowed CPU, against the built server: opening the Floor for the first time
 * on a device until it is painted and takes presses, and an edit from the press to the paint that shows it. Openings
 * of all labs are interleaved in turning order; their medians are told. `paint` is the work of the page's main thread until the edit
 * is painted, which must fit between two frames; `clock` is the same by the clock, with the waiting for the display's
 * next frame. A bare page with one button is pressed beside it, to tell what of both is the browser's own.
 */
import { loadavg } from 'node:os'
import { pathToFileURL } from 'node:url'
import { type Browser, type CDPSession, chromium, type Page } from 'playwright'
import { openLibsql } from '../../server/store/libsql.ts'
import { pretend } from '../kit/browser.ts'
import { freshFolder, type RunningServer, startServer } from '../kit/server.ts'
import { storeWorker } from '../kit/store-worker.ts'
import { type BenchLab, benchLab, SHIFT, TODAY } from './board-lab.ts'
import { countBytes, heapMB, pressAndPaint, scriptKB, slowDown, usableMs, watchForUse } from './board-page.ts'
import { managersPresses, type Presser, volunteersPresses } from './board-presses.ts'
import { type Cost, costsOf } from './board-trace.ts'
import { option, wait } from './rig.ts'

interface Lab extends BenchLab {
  readonly n: number
  readonly archived: number
  readonly server: RunningServer
}

type Press = Cost & { readonly kind: string }

interface Opening {
  readonly openMs: number
  readonly transferredKB: number
  readonly heapMB: number
  readonly firstLoadKB: number
}

/** The plan and the manager's own button: the board is painted, and it is known who presses. */
const USABLE = '.floor-plan svg[role=group] g[role=button]'
const WARM_PRESSES = 4
const BARE_PRESSES = 20

export async function run(args: readonly string[]): Promise<number> {
  const list = (name: string, otherwise: string) => option(args, name, otherwise).split(',').map(Number)
  const [sizes, archives] = [list('records', '150,1000,5000'), list('archived', '0,100000')]
  const whole = (name: string, otherwise: string) => Number(option(args, name, otherwise))
  const [rounds, presses, slow, seed] = [
    whole('rounds', '5'),
    whole('presses', '10'),
    whole('slow', '4'),
    whole('seed', '20'),
  ]
  say(`CPU slowed ${slow} times, ${rounds} openings and ${presses} presses of each kind, seed ${seed}, load ${load()}`)
  const { findChromium } = await import(pathToFileURL('tests/chromium.mjs').href)
  const { build } = await import(pathToFileURL('server/prepare.mjs').href)
  await build(say)
  const browser = await chromium.launch({
    executablePath: await findChromium(say),
    args: process.getuid?.() === 0 ? ['--no-sandbox'] : [],
  })
  const labs: Lab[] = []
  try {
    for (const n of sizes) labs.push(await startLab(n, 0, seed))
    const [middle = 1000] = sizes.includes(1000) ? [1000] : sizes
    for (const archived of archives) if (archived > 0) labs.push(await startLab(middle, archived, seed))
    const opened = new Map<Lab, Opening[]>(labs.map((lab) => [lab, []]))
    for (let round = 0; round < rounds; round++) {
      // Another lab goes first each time: what an opening leaves behind must not always meet the same one.
      const first = round % labs.length
      for (const lab of [...labs.slice(first), ...labs.slice(0, first)])
        opened.get(lab)?.push(await openOnce(browser, lab, slow))
    }
    const bare = await pressBare(browser, slow)
    const openingOf = (lab: Lab) => medians(opened.get(lab) ?? [])
    const records = []
    for (const lab of labs.filter(({ archived }) => archived === 0)) {
      const made = await pressAll(browser, lab, slow, presses)
      const { openMs, heapMB, transferredKB } = openingOf(lab)
      tell(lab, opened.get(lab) ?? [], made)
      const [work, clock] = [made.map(({ workMs }) => workMs), made.map(({ clockMs }) => clockMs)]
      const paint = { paintP50Ms: at(work, 0.5), paintP95Ms: at(work, 0.95), clockP95Ms: at(clock, 0.95) }
      records.push({ n: lab.n, openMs, ...paint, heapMB, transferredKB })
    }
    const firstLoadKB = Math.max(...labs.map((lab) => openingOf(lab).firstLoadKB))
    const beside = archives.flatMap((n) => {
      const lab = labs.find((one) => one.n === middle && one.archived === n)
      if (!lab) return []
      if (n > 0) tell(lab, opened.get(lab) ?? [], [])
      return [{ n, openMs: openingOf(lab).openMs, transferredKB: openingOf(lab).transferredKB }]
    })
    const own = {
      barePaintP95Ms: at(
        bare.map(({ workMs }) => workMs),
        0.95,
      ),
      bareClockP95Ms: at(
        bare.map(({ clockMs }) => clockMs),
        0.95,
      ),
    }
    say(`first-load JS ${firstLoadKB} kB gzip; a bare page's press ${JSON.stringify(own)}; load ${load()}`)
    const result = { cpuSlowdown: slow, firstLoadKB, ...own, presses, rounds, seed }
    console.log(JSON.stringify({ ...result, records, archived: beside }))
    return 0
  } finally {
    await browser.close()
    for (const { server } of labs) await server.stop()
  }
}

async function startLab(n: number, archived: number, seed: number): Promise<Lab> {
  const lab = benchLab({ board: n, archived, seed })
  const data = freshFolder('talus-bench')
  const store = await openLibsql({ folder: data, worker: await storeWorker() })
  const entry = { kind: 'found', op: { kind: 'found' }, personId: null, at: `${TODAY}T08:00:00.000Z`, subjects: [] }
  for (let from = 0, seq = 0; from < lab.changes.length; from += 2000) {
    const changes = lab.changes.slice(from, from + 2000)
    const appended = await store.append('demo-bench', seq, [{ ...entry, opId: `found-${from}`, changes }])
    if (!appended.ok) throw new Error('Believed: a new lab has no history')
    seq = appended.seq
  }
  await store.close()
  const server = await startServer({ data, args: ['--zone', 'UTC', '--as-if', `${TODAY}T09:40`] })
  say(`a lab with ${n} board records and ${archived} archived, ${SHIFT} of ${TODAY}`)
  return { ...lab, n, archived, server }
}

/** The Floor, opened by the manager on a device that has never seen it. */
async function openOnce(browser: Browser, lab: Lab, slow: number): Promise<Opening> {
  return withPage(browser, lab, lab.managerId, slow, async (page, devtools) => {
    const bytes = await countBytes(devtools)
    await watchForUse(page, USABLE)
    await page.goto(lab.server.url, { waitUntil: 'commit' })
    const openMs = await usableMs(page)
    const transferredKB = bytes() / 1000
    await wait(300)
    return { openMs, transferredKB, heapMB: await heapMB(devtools), firstLoadKB: await scriptKB(page) }
  })
}

async function pressAll(browser: Browser, lab: Lab, slow: number, presses: number): Promise<readonly Press[]> {
  const made: Press[] = []
  const pressWith = async (personId: string, pressers: readonly Presser[]) =>
    withPage(browser, lab, personId, slow, async (page) => {
      for (const { open, press } of pressers) {
        await open(page, lab.server.url)
        await wait(500)
        for (let i = 0; i < WARM_PRESSES; i++) await press(page)
        const done: string[] = []
        const costs = await costsOf(page, async () => {
          for (let i = 0; i < presses; i++) done.push(await press(page))
        })
        made.push(...costs.map((cost, index) => ({ ...cost, kind: done[index] ?? '' })))
      }
    })
  await pressWith(lab.managerId, managersPresses)
  await pressWith(lab.freeId, volunteersPresses)
  return made
}

/** What a press costs the browser when the page does nothing but change one word. */
async function pressBare(browser: Browser, slow: number): Promise<readonly Cost[]> {
  const page = await browser.newPage()
  await slowDown(page, slow)
  await page.setContent('<button onclick="this.textContent = +this.textContent + 1">0</button>')
  const costs = await costsOf(page, async () => {
    for (let i = 0; i < BARE_PRESSES; i++) {
      await pressAndPaint(page, page.locator('button'))
      await wait(50)
    }
  })
  await page.close()
  return costs
}

async function withPage<T>(
  browser: Browser,
  lab: Lab,
  personId: string,
  slow: number,
  use: (page: Page, devtools: CDPSession) => Promise<T>,
): Promise<T> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } })
  try {
    await pretend(context, lab.server.url, personId)
    const page = await context.newPage()
    return await use(page, await slowDown(page, slow))
  } finally {
    await context.close()
  }
}

function tell(lab: Lab, openings: readonly Opening[], made: readonly Press[]): void {
  const opens = openings.map(({ openMs }) => openMs)
  const { transferredKB, heapMB } = medians(openings)
  say(
    `${lab.n} records, ${lab.archived} archived: usable after ${at(opens, 0.5)} ms (${at(opens, 0)} to ${at(opens, 1)}), ` +
      `${transferredKB} kB, heap ${heapMB} MB; load ${load()}`,
  )
  for (const kind of new Set(made.map((press) => press.kind))) {
    const presses = made.filter((press) => press.kind === kind)
    const [work, clock] = [presses.map(({ workMs }) => workMs), presses.map(({ clockMs }) => clockMs)]
    say(
      `  ${kind}: paint p50 ${at(work, 0.5)}, p95 ${at(work, 0.95)} ms; clock p50 ${at(clock, 0.5)}, p95 ${at(clock, 0.95)} ms`,
    )
  }
}

function medians(list: readonly Opening[]): Opening {
  const of = (key: keyof Opening) =>
    at(
      list.map((one) => one[key]),
      0.5,
    )
  return {
    openMs: of('openMs'),
    transferredKB: of('transferredKB'),
    heapMB: of('heapMB'),
    firstLoadKB: of('firstLoadKB'),
  }
}

/** The value that such a share of the list does not exceed, to a tenth. */
function at(list: readonly number[], share: number): number {
  const sorted = list.toSorted((a, b) => a - b)
  const found = sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0
  return Math.round(found * 10) / 10
}

const load = (): string => loadavg()[0]?.toFixed(1) ?? ''
const say = (line: string) => console.error(line)
