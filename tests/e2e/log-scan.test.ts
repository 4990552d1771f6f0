// What the built server writes to its log while people work and much goes wrong: nothing private, no PIN, no secret that
// lets anybody in. Everything that went in or came out and is nobody's business but its owner's is looked for in it.
import { createHash } from 'node:crypto'
import * as encoding from 'lib0/encoding'
import { expect, test } from 'vitest'
import WebSocket from 'ws'
import { makeId } from '#lib/base'
import type { OpBody } from '#lib/ops'
import { TALUS_FRAME } from '#lib/words'
import { type Caller, caller, openBoard, peopleOf, signedIn } from '../kit/live-client.ts'
import { type RunningServer, startServer, within } from '../kit/server.ts'

const PIN = '70318294'
const OTHER_PIN = '69203817'
const STRANGE = 'plant-in-a-strange-place'

let made = 0
const plant = (what: string) => `plant-${what}-${(made++).toString(36)}`
const freshId = () => makeId(Date.now(), () => Math.floor(Math.random() * 32))

/** Opens a socket, sends bytes, and waits until the server has ended it or half a second is over. */
async function say(url: string, { cookie }: Caller, place: string, frames: readonly (Uint8Array | string)[]) {
  const headers = { cookie: cookie(), origin: url }
  const socket = new WebSocket(`${url.replace('http', 'ws')}/sync/${place}`, { headers })
  socket.on('error', () => {})
  const closed = new Promise<void>((done) => socket.once('close', () => done()))
  await Promise.race([closed, new Promise((open) => socket.once('open', open))])
  for (const frame of frames) socket.send(frame)
  await Promise.race([closed, new Promise((next) => setTimeout(next, 500))])
  socket.terminate()
}

const messageFrame = (text: string): Uint8Array => {
  const encoder = encoding.createEncoder()
  encoding.writeVarUint(encoder, TALUS_FRAME)
  encoding.writeVarString(encoder, text)
  return encoding.toUint8Array(encoder)
}

/** A manager's private words, kept and refused. */
async function writePrivately({ url }: RunningServer, manager: Caller, about: string): Promise<string[]> {
  const board = await openBoard(url, manager)
  const [note, phone, email, emergency, what, action] = ['note', 'phone', 'email', 'who', 'what', 'action'].map(plant)
  const incident = { id: freshId(), kind: 'near miss', date: '2026-03-12', what, done: action }
  const nowhere = { personId: about, placeId: null, pieceId: null, corrects: null }
  const acts = [
    { kind: 'writePrivateNote', note: { id: freshId(), aboutPersonId: about, aboutPieceId: null, text: note } },
    { kind: 'setContact', contact: { id: about, phone, email, emergency } },
    { kind: 'reportIncident', incident: { ...incident, ...nowhere } },
  ]
  for (const act of acts) expect(await board.act(act as unknown as OpBody)).toBeNull()
  // The same words where they cannot be: in fields of another form, about nobody.
  const wrong = [
    { kind: 'writePrivateNote', note: { id: note, aboutPersonId: phone, text: { note } } },
    { kind: 'setContact', contact: { id: 'nobody', phone, email, emergency } },
    { kind: note, [phone ?? '']: email },
  ]
  for (const act of wrong) expect(await board.act(act as unknown as OpBody)).not.toBeNull()
  board.close()
  const deep = `{"type":"ops","ops":[{"id":"${note}","kind":${'['.repeat(3000)}"${phone}"`
  await say(url, manager, 'board', [messageFrame(deep)])
  await say(url, manager, 'board', [
    messageFrame(JSON.stringify({ type: 'ask', ask: 'a', what: note, body: { phone } })),
  ])
  await say(url, manager, 'board', [`${note}`])
  await say(url, manager, 'text/nothing-of-that-name', [Buffer.from(`\u0000\u0002${email}`)])
  return [note, phone, email, emergency, what, action].map(String)
}

/** Doors, links and PINs, rightly and wrongly used; answers every secret that was in play. */
async function goThroughDoors({ url }: RunningServer, manager: Caller, personId: string): Promise<string[]> {
  const strange = caller(url)
  const linkOf = async (path: string, body: unknown) => {
    const { link } = (await manager.post(path, body)).body as { link?: string }
    return link ?? ''
  }
  const links = [await linkOf('/api/invite', { personId }), await linkOf('/api/wall-link', {})]
  const tokens = links.map((link) => link.split('#')[1] ?? '')
  const joined = caller(url)
  expect((await joined.post('/api/join', { token: tokens[0], name: plant('name') })).status).toBeLessThan(500)
  // Used, of nobody, of another form.
  for (const token of [tokens[0], 'A'.repeat(43), `${tokens[1]}/..`]) {
    await strange.post('/api/invitation', { token })
    await strange.post('/api/join', { token })
  }
  expect((await joined.post('/api/pin', { pin: PIN })).status).toBe(200)
  const tablet = caller(url)
  await tablet.post('/api/demo', { personId })
  for (const pin of [OTHER_PIN, PIN]) await tablet.post('/api/switch', { personId, pin })
  for (let n = 0; n < 8; n++) await tablet.post('/api/switch', { personId, pin: OTHER_PIN })
  await tablet.post('/api/switch', { personId: STRANGE, pin: `${PIN}-${STRANGE}` })
  const { link } = (await manager.post('/api/calendar-address', { isWanted: true })).body as { link?: string }
  const secret = /calendar\/([\w-]+)\.ics/.exec(link ?? '')?.[1] ?? ''
  for (const one of [secret, `x${secret}`])
    await fetch(`${url}/api/calendar/${one}.ics`).then((answer) => answer.text())
  await manager.post('/api/calendar', { address: `https://127.0.0.1/${secret}` })
  for (const one of [secret, tokens[1]]) {
    await fetch(`${url}/join?token=${one}`).then((answer) => answer.text())
    await fetch(`${url}/sheet/${one}`).then((answer) => answer.text())
    await fetch(`${url}/api/none/${one}`, { method: 'POST', body: one ?? '' }).then((answer) => answer.text())
  }
  const cookies = [manager, joined, tablet].map((one) => one.cookie().split('=')[1] ?? '')
  expect([...tokens, secret, ...cookies].every((one) => one.length > 20)).toBe(true)
  return [...tokens, secret, ...cookies, PIN, OTHER_PIN]
}

/** Questions, files and uploads that hold somebody's words. */
async function askAround({ url }: RunningServer, manager: Caller): Promise<void> {
  const cookie = { cookie: manager.cookie() }
  for (const path of [
    `/api/archive?text=${STRANGE}&limit=x`,
    `/api/history?about=${STRANGE}&before=${STRANGE}`,
    `/api/log?of=${STRANGE}`,
    `/api/out/${STRANGE}`,
    `/api/photos/${createHash('sha256').update(STRANGE).digest('hex')}?of=${STRANGE}`,
    `/floor?${STRANGE}`,
    `/${STRANGE}`,
    `/%ff${STRANGE}`,
  ])
    await fetch(url + path, { headers: cookie }).then((answer) => answer.text())
  const upload = `${url}/api/uploads/${createHash('sha256').update('x').digest('hex')}?size=2000&offset=0`
  const headers = { ...cookie, 'x-talus': '1' }
  await fetch(upload, { method: 'PUT', headers, body: STRANGE.repeat(40) }).then((answer) => answer.text())
  for (const body of [`{"${STRANGE}":`, JSON.stringify({ [STRANGE]: STRANGE }), STRANGE.repeat(2000)])
    await fetch(`${url}/api/join`, {
      method: 'POST',
      headers: { ...headers, 'content-type': 'application/json' },
      body,
    })
      .then((answer) => answer.text())
      // What is too long is hung up on.
      .catch(() => {})
}

test.each(['json', 'plain'])(
  'nothing private and no secret stands in the log (%s)',
  { timeout: 120_000 },
  async (form) => {
    const server = await startServer({ env: { TALUS_LOG: form } })
    const people = await peopleOf(server.url)
    const idOf = (role: string) => people.find((one) => one.role === role)?.id ?? ''
    const manager = await signedIn(server.url, idOf('manager'))
    const secrets = [
      ...(await writePrivately(server, manager, idOf('volunteer'))),
      ...(await goThroughDoors(server, manager, idOf('preparator'))),
      STRANGE,
    ]
    await askAround(server, manager)
    await server.kill()
    const again = await startServer({ data: server.data, env: { TALUS_LOG: form, TALUS_METRICS: '0' } })
    await within(again.stop())
    const said = server.said() + again.said()
    // Or there was nothing to look through.
    expect(said).toContain('somebody was turned away')
    for (const secret of secrets) expect(said, `${secret} stands in the log`).not.toContain(secret)
  },
)
