// Each fault as it happens to a real server: killed, a full disk, a disk that takes nothing, data cut off, lines cut by a
// proxy, ends that are gone, readers that do not read, crowds that say nothing. Each answers what it saw and what was wrong.
import { execFileSync } from 'node:child_process'
import { copyFileSync, existsSync, mkdirSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs'
import { connect, createServer, type Socket } from 'node:net'
import { join } from 'node:path'
import WebSocket from 'ws'
import { verifyLog } from '../../server/sealing.ts'
import { openLibsql } from '../../server/store/libsql.ts'
import { signedIn } from '../kit/live-client.ts'
import { memoryMB } from '../kit/process.ts'
import { freshFolder, runStart } from '../kit/server.ts'
import { storeWorker } from '../kit/store-worker.ts'
import { type FaultLab, goOver, openLab, settled, start, tells, wait } from './lab.ts'

export interface Seen {
  readonly figures: Readonly<Record<string, number | string>>
  readonly problems: readonly string[]
}

const PAGE = 4096
const FILES = ['talus.db', 'talus.db-wal']

/** Everybody leaves, the server ends, and what was told kept is looked for in its log. */
async function end(lab: FaultLab, problems: string[]): Promise<Record<string, number>> {
  for (const editor of lab.editors) editor.close()
  await lab.server.stop()
  const { lost, doubled, broken } = await goOver(lab)
  problems.push(
    ...lost.map((id) => `lost ${id}`),
    ...doubled.map((id) => `twice ${id}`),
    ...broken,
    ...lab.told.refused,
  )
  return { kept: lab.told.kept.size, lost: lost.length, doubled: doubled.length }
}

/** kill -9 at a random moment while `people` edit, `rounds` times over the same data. */
export async function kills(rounds: number, people: number, seed: number): Promise<Seen> {
  const lab = await openLab(people, seed)
  const problems: string[] = []
  for (let round = 0; round < rounds; round++) {
    for (const editor of lab.editors) editor.open(lab.server.url)
    const until = Date.now() + 300 + lab.random.below(1200)
    const before = lab.told.kept.size
    while (Date.now() < until) {
      lab.editors[lab.random.below(people)]?.edit()
      await wait(1 + lab.random.below(8))
    }
    // Killed over something: at least one edit of this round was told kept.
    for (let n = 0; n < 500 && lab.told.kept.size === before; n++) await wait(20)
    lab.editors[lab.random.below(people)]?.edit()
    await lab.server.kill()
    for (const editor of lab.editors) editor.close()
    lab.server = await start(lab.data)
  }
  for (const editor of lab.editors) editor.open(lab.server.url)
  if (!(await settled(lab))) problems.push('edits are without an answer')
  const figures = await end(lab, problems)
  const { code } = await lab.server.ended
  if (code !== 0) problems.push(`the server ended with ${code}`)
  return { figures: { rounds, ...figures }, problems }
}

/** A file system of a few megabytes of memory; null where this account may not mount one. */
function smallDisk(megabytes: number): { readonly folder: string; readonly remove: () => void } | null {
  const folder = freshFolder('talus-disk')
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', folder], { stdio: 'ignore' })
  } catch {
    return null
  }
  return { folder, remove: () => execFileSync('umount', ['-l', folder], { stdio: 'ignore' }) }
}

/** The disk fills up while people edit, and has room again later. */
export async function fullDisk(people: number, seed: number): Promise<Seen> {
  const disk = smallDisk(64)
  if (!disk) return { figures: { notRun: 'no file system may be mounted here' }, problems: [] }
  const problems: string[] = []
  try {
    const lab = await openLab(people, seed, join(disk.folder, 'lab'))
    for (const editor of lab.editors) editor.open(lab.server.url)
    for (const editor of lab.editors) editor.edit()
    if (!(await settled(lab))) problems.push('edits are without an answer before anything was wrong')
    const filler = join(disk.folder, 'filler')
    for (let size = 1024 * 1024; size >= PAGE; )
      try {
        writeFileSync(filler, Buffer.alloc(size), { flag: 'a' })
      } catch {
        size = Math.floor(size / 4)
      }
    const before = lab.told.kept.size
    for (let n = 0; n < 400 && !lab.told.states.includes('read-only'); n++) {
      for (const editor of lab.editors) if (editor.waiting < 20) editor.edit('x'.repeat(4000))
      await wait(25)
    }
    const full = await tells(lab.server)
    if (!lab.told.states.includes('read-only')) problems.push('nobody was told that nothing is kept')
    if (full.health !== 200 || full.ready !== 503) problems.push(`full, health ${full.health} and ready ${full.ready}`)
    const waiting = lab.editors.reduce((sum, editor) => sum + editor.waiting, 0)
    rmSync(filler)
    if (!(await settled(lab, 30_000))) problems.push('edits are without an answer after there was room again')
    const well = await tells(lab.server)
    if (well.ready !== 200) problems.push(`room again, ready ${well.ready}`)
    if (lab.told.states.at(-1) !== 'well') problems.push('nobody was told that all is well again')
    return { figures: { keptBefore: before, waitedWhileFull: waiting, ...(await end(lab, problems)) }, problems }
  } finally {
    disk.remove()
  }
}

/** A start on a disk that takes nothing says so in one line. */
export async function readOnlyDisk(seed: number): Promise<Seen> {
  const disk = smallDisk(64)
  if (!disk) return { figures: { notRun: 'no file system may be mounted here' }, problems: [] }
  try {
    const lab = await openLab(1, seed, join(disk.folder, 'lab'))
    await lab.server.stop()
    execFileSync('mount', ['-o', 'remount,ro', disk.folder])
    const { code, stderr } = await runStart(['--data', lab.data, '--port', '0'])
    const isTold = code === 1 && stderr.includes('cannot be written') && !stderr.includes('    at ')
    return {
      figures: { said: stderr.trim().slice(0, 160) },
      problems: isTold ? [] : [`read-only disk: ${code} ${stderr}`],
    }
  } finally {
    disk.remove()
  }
}

/** The data cut off at every byte of the last page, of the data file and of its log of writes that a kill leaves behind. */
export async function truncated(people: number, seed: number, step = 1): Promise<Seen> {
  const lab = await openLab(people, seed)
  for (const editor of lab.editors) editor.open(lab.server.url)
  for (const editor of lab.editors) editor.edit()
  const problems: string[] = []
  if (!(await settled(lab))) problems.push('edits are without an answer')
  await lab.server.kill()
  for (const editor of lab.editors) editor.close()
  // As the kill left it, with its log of writes; and after a good end, when all is in the data file.
  const killed = freshFolder('talus-killed')
  for (const name of FILES) copyFileSync(join(lab.data, name), join(killed, name))
  lab.server = await start(lab.data)
  await lab.server.stop()
  const worker = await storeWorker()
  const copy = freshFolder('talus-cut')
  const counts = { whole: 0, shorter: 0, refused: 0 }
  const look = async () => {
    const store = await openLibsql({ folder: copy, worker })
    try {
      const [labId = ''] = (await store.labs()).filter((name) => !name.includes('~'))
      const { entries, broken } = await verifyLog(store, labId)
      await store.snapshot(labId, 'board')
      return { entries, broken }
    } finally {
      await store.close()
    }
  }
  const fresh = (from: string) => {
    rmSync(copy, { recursive: true, force: true })
    mkdirSync(copy)
    for (const name of FILES) if (existsSync(join(from, name))) copyFileSync(join(from, name), join(copy, name))
  }
  for (const [from, name] of [
    [killed, 'talus.db-wal'],
    [lab.data, 'talus.db'],
  ] as const) {
    fresh(from)
    const { entries: all } = await look()
    const { size } = statSync(join(from, name))
    for (let cut = 1; cut <= Math.min(PAGE, size); cut += step) {
      fresh(from)
      truncateSync(join(copy, name), size - cut)
      try {
        const { entries, broken } = await look()
        if (broken.length > 0) problems.push(`${name} less ${cut}: opened with a broken log`)
        else if (entries === all) counts.whole++
        else counts.shorter++
      } catch (error) {
        if (String(error).includes('damaged or cut off')) counts.refused++
        else problems.push(`${name} less ${cut}: ${error}`)
      }
    }
  }
  // And what a person is told at a start.
  fresh(lab.data)
  truncateSync(join(copy, 'talus.db'), statSync(join(copy, 'talus.db')).size - PAGE - 100)
  const { code, stderr } = await runStart(['--data', copy, '--port', '0'])
  if (code === 0 || !stderr.includes('damaged or cut off') || stderr.includes('    at '))
    problems.push(`a start on cut data: ${code} ${stderr.slice(0, 200)}`)
  return { figures: { cuts: counts.whole + counts.shorter + counts.refused, ...counts }, problems }
}

/** A proxy that passes bytes on until it is told otherwise. */
async function proxyTo(port: number) {
  const pairs = new Set<readonly [Socket, Socket]>()
  const server = createServer((near) => {
    const far = connect(port, '127.0.0.1')
    const pair = [near, far] as const
    pairs.add(pair)
    const end = () => {
      near.destroy()
      far.destroy()
      pairs.delete(pair)
    }
    for (const one of pair) one.on('error', end).on('close', end)
    near.pipe(far)
    far.pipe(near)
  })
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  const address = server.address()
  return {
    url: `http://127.0.0.1:${address && typeof address === 'object' ? address.port : 0}`,
    count: () => pairs.size,
    cutAll: () => {
      for (const [near, far] of pairs) for (const one of [near, far]) one.destroy()
    },
    /** Both ends stay open and nothing passes any more, as when a cable is pulled. */
    freeze: () => {
      for (const [near, far] of pairs) {
        near.unpipe(far)
        far.unpipe(near)
        far.resume()
      }
    },
    close: () => {
      for (const [near, far] of pairs) for (const one of [near, far]) one.destroy()
      server.close()
    },
  }
}

/** A proxy cuts every line again and again while people edit. */
export async function cuts(times: number, people: number, seed: number): Promise<Seen> {
  const lab = await openLab(people, seed)
  const problems: string[] = []
  const proxy = await proxyTo(Number(new URL(lab.server.url).port))
  for (const editor of lab.editors) editor.open(proxy.url, lab.server.url)
  for (let n = 0; n < times; n++) {
    const until = Date.now() + 200 + lab.random.below(600)
    while (Date.now() < until) {
      lab.editors[lab.random.below(people)]?.edit()
      await wait(1 + lab.random.below(10))
    }
    proxy.cutAll()
  }
  if (!(await settled(lab))) problems.push('edits are without an answer')
  proxy.close()
  return { figures: { cuts: times, ...(await end(lab, problems)) }, problems }
}

/** Ends that are gone without a word are given up by the server, and a reader that does not read is dropped. */
export async function halfOpen(seed: number): Promise<Seen> {
  const lab = await openLab(6, seed)
  const problems: string[] = []
  const proxy = await proxyTo(Number(new URL(lab.server.url).port))
  const [gone, ...others] = lab.editors
  gone?.open(proxy.url, lab.server.url)
  for (const editor of others) editor.open(lab.server.url)
  for (const editor of others) editor.edit()
  await settled(lab)
  const began = Date.now()
  gone?.close()
  await wait(100)
  const visitor = await signedIn(lab.server.url, 'wall')
  const slow = new WebSocket(`${proxy.url.replace('http', 'ws')}/sync/board`, {
    headers: { cookie: visitor.cookie(), origin: lab.server.url, host: new URL(lab.server.url).host },
  })
  slow.on('error', () => {})
  await new Promise((done) => slow.once('open', done))
  proxy.freeze()
  while (proxy.count() > 0 && Date.now() - began < 120_000) {
    for (const editor of others) editor.edit()
    await wait(250)
  }
  const goneMs = Date.now() - began
  if (proxy.count() > 0) problems.push('a line whose end is gone was held for two minutes')
  if (!(await settled(lab))) problems.push('edits are without an answer')
  slow.terminate()
  proxy.close()
  return { figures: { givenUpAfterS: Math.round(goneMs / 1000), ...(await end(lab, problems)) }, problems }
}

/** A reader that takes nothing while others write much: it is dropped, and the server does not hold the past for it. */
export async function slowReader(seed: number): Promise<Seen> {
  const lab = await openLab(10, seed)
  const problems: string[] = []
  const slow = new WebSocket(`${lab.server.url.replace('http', 'ws')}/sync/board`, {
    headers: { cookie: lab.editors[0]?.cookie ?? '', origin: lab.server.url },
  })
  slow.on('error', () => {})
  let isDropped = false
  slow.on('close', () => {
    isDropped = true
  })
  await new Promise((done) => slow.once('open', done))
  // Step 1 of nothing: from then on every update is owed to it.
  slow.send(Uint8Array.of(0, 0, 1, 0))
  await wait(500)
  const tcp = (slow as unknown as { readonly _socket: Socket })._socket
  tcp.pause()
  const memory = memoryMB(lab.server.pid)
  let most = memory
  for (const editor of lab.editors) editor.open(lab.server.url)
  const until = Date.now() + 60_000
  const lines = () => tcp.bytesRead
  const before = lines()
  for (let sent = 0; sent < 3000 && Date.now() < until; sent++) {
    lab.editors[sent % 10]?.edit('x'.repeat(7000))
    await wait(4)
    if (sent % 50 === 0) most = Math.max(most, memoryMB(lab.server.pid))
  }
  if (!(await settled(lab))) problems.push('edits are without an answer')
  tcp.resume()
  for (let n = 0; n < 100 && !isDropped; n++) await wait(50)
  if (!isDropped) problems.push(`a reader that took nothing was kept (${lines() - before} bytes later)`)
  return { figures: { memoryGrewMb: most - memory, ...(await end(lab, problems)) }, problems }
}

/** Many sockets that say nothing, beside people who edit. */
export async function idle(count: number, seed: number): Promise<Seen> {
  const lab = await openLab(10, seed)
  const problems: string[] = []
  for (const editor of lab.editors) editor.open(lab.server.url)
  const before = memoryMB(lab.server.pid)
  const sockets: WebSocket[] = []
  let refused = 0
  const OF_SESSION = 40
  for (let opened = 0; opened < count; opened += OF_SESSION) {
    const address = `10.1.${Math.floor(opened / 10_000)}.${1 + ((opened / OF_SESSION) % 250)}`
    const headers = { 'content-type': 'application/json', 'x-talus': '1', 'x-forwarded-for': address }
    const answer = await fetch(`${lab.server.url}/api/demo`, { method: 'POST', headers, body: '{"personId":"wall"}' })
    const cookie = answer.headers.get('set-cookie')?.split(';')[0] ?? ''
    await answer.arrayBuffer()
    await Promise.all(
      Array.from({ length: Math.min(OF_SESSION, count - opened) }, () => {
        const socket = new WebSocket(`${lab.server.url.replace('http', 'ws')}/sync/board`, {
          headers: { cookie, origin: lab.server.url, 'x-forwarded-for': address },
        })
        socket.on('error', () => {})
        sockets.push(socket)
        return new Promise<void>((done) => {
          socket.once('open', () => done())
          socket.once('close', () => {
            refused++
            done()
          })
        })
      }),
    )
  }
  const open = sockets.filter(({ readyState }) => readyState === WebSocket.OPEN).length
  const grew = memoryMB(lab.server.pid) - before
  const began = performance.now()
  for (const editor of lab.editors) editor.edit()
  if (!(await settled(lab))) problems.push('edits are without an answer')
  const keptMs = Math.round(performance.now() - began)
  if (open < count) problems.push(`${open} of ${count} are open, ${refused} were ended`)
  const { health, ready } = await tells(lab.server)
  if (health !== 200 || ready !== 200) problems.push(`health ${health}, ready ${ready}`)
  for (const socket of sockets) socket.terminate()
  return {
    figures: {
      open,
      memoryGrewMb: grew,
      kbEach: Math.round((grew * 1024) / count),
      tenEditsKeptMs: keptMs,
      ...(await end(lab, problems)),
    },
    problems,
  }
}
