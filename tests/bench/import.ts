// Fifty thousand rows of a spreadsheet brought into a lab while others edit its board: how long the whole takes, and how
// long an edit of somebody else takes to be seen meanwhile, beside the same clients when nothing comes in.
import * as decoding from 'lib0/decoding'
import * as encoding from 'lib0/encoding'
import WebSocket from 'ws'
import { makeId } from '#lib/base'
import { TALUS_FRAME } from '#lib/words'
import { makePace } from '../../app/rack/import/pace.ts'
import { makePlanner } from '../../app/rack/import/planner.ts'
import { Histogram } from './histogram.ts'
import type { LoadOrder, LoadReport } from './load.ts'
import { option, startLoad, startOurs, wait } from './rig.ts'

const CLIENTS = 20
const EVERY_MS = 500
const QUIET_MS = 6_000
/** A part that is not kept in so long a time is lost. */
const KEPT_MS = 60_000

/** `npm run -s bench -- import [--rows 50000] [--seed 1]` */
export async function run(args: readonly string[]): Promise<number> {
  const rows = Number(option(args, 'rows', '50000'))
  const seed = Number(option(args, 'seed', '1'))
  const server = await startOurs()
  const load = await startLoad()
  try {
    const order: LoadOrder = {
      ...{
        server: 'ours',
        port: server.port,
        clients: CLIENTS,
        from: 0,
        of: CLIENTS,
        everyMs: EVERY_MS,
        window: 1,
        seed,
      },
    }
    await load.tell('open', order)
    await load.tell('start')
    await wait(QUIET_MS)
    const quiet = seenOf((await load.tell('report')) as LoadReport)

    const began = performance.now()
    const planner = makePlanner()
    const sheet = planner.read({ bytes: sheetOf(rows), separator: '' })
    if (!sheet.ok) throw new Error(`Line ${sheet.line}: ${sheet.why}`)
    const { plan } = planner.plan({ columns: sheet.found, order: '' })
    if (plan?.jackets !== rows) throw new Error(`${plan?.jackets ?? 0} of ${rows} rows were planned`)
    const planS = seconds(began)

    await load.tell('start')
    const sent = performance.now()
    const desk = await openDesk(server.port)
    const pace = makePace(performance.now())
    for (let at = 0; at < plan.parts; at++) {
      const body = planner.part({ at, isUndo: false }) ?? {}
      const letters = JSON.stringify(body).length
      await wait(pace.waitMs(letters, performance.now()))
      pace.take(letters, performance.now())
      await desk.keep(body)
    }
    const keptS = seconds(sent)
    desk.close()
    const busy = seenOf((await load.tell('report')) as LoadReport)
    const figures = {
      ...{ rows, seconds: Number((planS + keptS).toFixed(2)), planS, keptS },
      ...{ boardSeenP50Ms: busy.at(0.5), boardSeenP95Ms: busy.at(0.95), boardSeenP99Ms: busy.at(0.99) },
      ...{ quietSeenP50Ms: quiet.at(0.5), quietSeenP95Ms: quiet.at(0.95), seed },
    }
    console.error(
      `${rows} rows: planned in ${planS} s, kept in ${keptS} s; edits of ${CLIENTS} others seen after ${figures.boardSeenP50Ms} / ${figures.boardSeenP95Ms} ms (p50 / p95), ${figures.quietSeenP50Ms} / ${figures.quietSeenP95Ms} before`,
    )
    console.log(JSON.stringify(figures))
    return 0
  } finally {
    await load.stop()
    await server.stop()
  }
}

const seconds = (since: number): number => Number(((performance.now() - since) / 1000).toFixed(2))

function seenOf({ seen, lost }: LoadReport): Histogram {
  if (lost > 0) throw new Error(`${lost} edits were lost`)
  const all = new Histogram()
  all.addPairs(seen)
  return all
}

/** A backlog of the usual columns, each row a jacket of its own. */
function sheetOf(rows: number): Uint8Array {
  const lines = Array.from({ length: rows }, (_row, i) => {
    const day = `${String((i % 28) + 1).padStart(2, '0')}.${String((i % 12) + 1).padStart(2, '0')}.20${String(10 + (i % 15))}`
    return `F-${i};Gully ${i % 90};lower marl;${day};${(i % 400) + 10};${(i % 9) + 1} ribs, north end;row ${i % 40}`
  })
  const head = 'Field number;Locality;Horizon;Date;Weight (kg);Contents;Shelf'
  return new TextEncoder().encode([head, ...lines].join('\n'))
}

/** Somebody who sends one act after the other, each when the one before is kept. */
async function openDesk(port: number) {
  const socket = new WebSocket(`ws://127.0.0.1:${port}/sync/board?session=import&person=p1&epoch=`)
  await new Promise<void>((done, fail) => {
    socket.once('open', () => done())
    socket.once('error', fail)
  })
  return {
    keep(body: object): Promise<void> {
      const id = makeId(Date.now(), () => Math.floor(Math.random() * 32))
      const encoder = encoding.createEncoder()
      encoding.writeVarUint(encoder, TALUS_FRAME)
      encoding.writeVarString(encoder, JSON.stringify({ type: 'ops', ops: [{ ...body, id }] }))
      return new Promise((done, fail) => {
        const timer = setTimeout(() => fail(new Error('A part was not kept')), KEPT_MS)
        const end = () => fail(new Error('The connection was ended'))
        socket.once('close', end)
        const hear = (data: Buffer) => {
          const decoder = decoding.createDecoder(data)
          if (decoding.readVarUint(decoder) !== TALUS_FRAME) return
          const message = JSON.parse(decoding.readVarString(decoder)) as { type: string; items?: { id: string }[] }
          if (!message.items?.some((item) => item.id === id)) return
          clearTimeout(timer)
          socket.off('message', hear)
          socket.off('close', end)
          if (message.type === 'kept') done()
          else fail(new Error(`A part was refused: ${JSON.stringify(message)}`))
        }
        socket.on('message', hear)
        socket.send(encoding.toUint8Array(encoder))
      })
    },
    close: () => socket.terminate(),
  }
}
