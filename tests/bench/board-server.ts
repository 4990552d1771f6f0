// The board's server for the benches, a process of its own: the real labs, gate, rooms and store on a real socket, with
// nobody at the door (a session is any name in the address). Prints its port. Limits are off where a bench floods.
import { createServer } from 'node:http'
import { pathToFileURL } from 'node:url'
import { WebSocketServer } from 'ws'
import { PersonId } from '#lib/words'
import { labOps } from '../../server/lab-ops.ts'
import { openLabs } from '../../server/labs.ts'
import { type Store, StoreTrouble } from '../../server/store/contract.ts'
import { openLibsql } from '../../server/store/libsql.ts'
import { openPostgres } from '../../server/store/postgres.ts'
import { wsSocket } from '../../server/sync/ws-socket.ts'
import { systemChance, systemClock } from '../../server/system-world.ts'
import { benchChanges } from './lab.ts'

const [folder = '', worker = '', url = '', port = '0', isFlood = ''] = process.argv.slice(2)
const store = url ? await openWhenFree() : await openLibsql({ folder, worker: pathToFileURL(worker) })
const founding = { opId: 'found', kind: 'found', op: {}, personId: null, at: new Date().toISOString(), subjects: [] }
// Started again on what is there already, it serves that.
if ((await store.head('bench')) === 0) await store.append('bench', 0, [{ ...founding, changes: benchChanges() }])
const unlimited = { perSecond: 1e9, atOnce: 1e9 }
const all = { frames: unlimited, bytes: unlimited, ops: unlimited }
const labs = openLabs({
  store,
  clock: systemClock,
  chance: systemChance,
  log: (level, what, facts) => console.error(level, what, facts ?? ''),
  ops: labOps,
  limits: isFlood ? { ...all, person: { ...all, syncs: unlimited }, connectionsPerSession: 1e9 } : {},
})
const lab = await labs.lab('bench')
const sockets = new WebSocketServer({ noServer: true, maxPayload: 1024 * 1024, perMessageDeflate: false })
const server = createServer()
server.on('upgrade', (request, socket, head) => {
  const url = new URL(request.url ?? '/', 'http://localhost')
  sockets.handleUpgrade(request, socket, head, (ws) => {
    const [session, person] = [url.searchParams.get('session') ?? '', url.searchParams.get('person') ?? '']
    const personId = person ? PersonId.parse(person) : null
    const epoch = url.searchParams.get('epoch') ?? ''
    lab.connect(wsSocket(ws, systemClock), { id: session, personId }, url.pathname.slice('/sync/'.length), { epoch })
  })
})
server.listen(Number(port), '127.0.0.1', () => {
  const address = server.address()
  if (address && typeof address === 'object') console.log(address.port)
})
process.on('SIGTERM', async () => {
  await labs.close()
  await store.close()
  process.exit(0)
})

/** The database takes a moment to notice that a killed process is gone. */
async function openWhenFree(tries = 50): Promise<Store> {
  try {
    return await openPostgres({ url })
  } catch (error) {
    if (tries === 0 || !(error instanceof StoreTrouble) || error.code !== 'in-use') throw error
    await new Promise((resolve) => setTimeout(resolve, 100))
    return openWhenFree(tries - 1)
  }
}
