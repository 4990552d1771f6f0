// Everybody comes again at once: the server is killed with all of them connected and started on the same data; how long
// until the last one has the whole board again, from the moment of the kill.
import { benchDatabase, openClients, option, startOurs } from './rig.ts'

/** Nobody edits; everything is about coming back. */
const NEVER_MS = 1e9

/** `npm run -s bench -- storm [--clients 1000] [--store postgres] [--seed 1]` */
export async function run(args: readonly string[]): Promise<number> {
  const clients = Number(option(args, 'clients', '1000'))
  const { url, end } = await benchDatabase(args)
  const first = await startOurs({ url })
  const opening = performance.now()
  const loads = await openClients(first.port, clients, NEVER_MS, Number(option(args, 'seed', '1')))
  const openMs = Math.round(performance.now() - opening)
  try {
    const { folder, port } = first
    if (folder === null) throw new Error('Believed: our server has a folder')
    const began = performance.now()
    const past = () => Math.round(performance.now() - began)
    await first.kill()
    const second = await startOurs({ url, again: { folder, port } })
    const upMs = past()
    const cpu = second.cpuS()
    await Promise.all(loads.map((load) => load.tell('again')))
    const lastBackMs = past()
    const cpuS = Number((second.cpuS() - cpu).toFixed(2))
    console.log(JSON.stringify({ clients, openMs, upMs, lastBackMs, cpuS, memoryMB: second.memoryMB() }))
    // Clients first: a goodbye is no part of this.
    await Promise.all(loads.map((load) => load.stop()))
    await second.stop()
    return 0
  } finally {
    await end()
  }
}
