// Photographs through the port: who may send and look, from where, in pieces, and what the answers let browsers keep.
import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { noPictureOf } from '../../../app/_text/index.ts'
import { hostsOf, proxiesOf } from '../../../server/http/address.ts'
import { makeApi } from '../../../server/http/api.ts'
import type { LabAtPort } from '../../../server/http/lab-at-port.ts'
import { makeHttp } from '../../../server/http/server.ts'
import { makeSockets } from '../../../server/http/sockets.ts'
import { type Shelf, ShelfTrouble } from '../../../server/photos/contract.ts'
import { folderShelf } from '../../../server/photos/folder.ts'
import { photoStore } from '../../../server/photos/uploads.ts'
import { aDoor } from '../../kit/door.ts'

const labId = 'demo-01hzzzzzzzzzzzzzzzzzzzzzzz'
const folder = mkdtempSync(join(tmpdir(), 'talus-photos-http-'))
const noise = { type: 'gaussian', mean: 128, sigma: 60 } as const
/** True while the shelf is out of reach. */
let isAway = false
function shelf(): Shelf {
  const kept = folderShelf(folder)
  const put: Shelf['put'] = async (...args) => {
    if (isAway) throw new ShelfTrouble('away')
    await kept.put(...args)
  }
  return { ...kept, put, isWell: () => !isAway }
}

const cookies = new Map<string, string>()
let url: string
let photo: Buffer
let hash: string
let end: () => void

beforeAll(async () => {
  const { door, clock } = await aDoor({ isDemo: true })
  const nothing = async () => null
  const readings = { archive: nothing, history: nothing, log: nothing }
  const api = makeApi({ door, readings, clock, build: 'b1', fetchCalendar: async () => ({ text: '' }) })
  const lab: LabAtPort = {
    labId: () => labId,
    isHost: hostsOf([]),
    open: () => ({
      ...{ door, api, outlets: () => null, calendar: () => null },
      mayLook: async ({ role }, pieceId) => role !== 'wall' && pieceId === 'skull',
      photos: photoStore({ folder, clock, shelf: shelf() }),
    }),
    elsewhere: () => null,
    connect: () => {},
    use: () => () => {},
  }
  const server = makeHttp({
    build: 'b1',
    isDev: false,
    prefix: '',
    isProxy: proxiesOf('loopback'),
    labFor: async () => lab,
    isOwnName: hostsOf([]),
    errand: nothing,
    isReady: () => true,
    arePhotosWell: () => !isAway,
    pages: { serve: async (_, response) => void response.end(), upgrade: () => false, close: async () => {} },
    sockets: makeSockets(),
    clock,
    log: () => {},
  })
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  end = () => server.close().closeAllConnections()
  for (const personId of ['bea', 'ruth', 'wall']) {
    const body = JSON.stringify({ personId })
    const headers = { 'content-type': 'application/json', 'x-talus': '1' }
    const answer = await fetch(`${url}/api/demo`, { method: 'POST', headers, body })
    cookies.set(personId, (answer.headers.get('set-cookie') ?? '').split(';')[0] ?? '')
  }
  photo = await sharp({ create: { width: 400, height: 200, channels: 3, background: '#888', noise } })
    .withExif({ IFD3: { GPSLatitude: '51/1 30/1 0/1', GPSLatitudeRef: 'N' } })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer()
  hash = createHash('sha256').update(photo).digest('hex')
})
afterAll(() => {
  end()
  rmSync(folder, { recursive: true, force: true })
})

const as = (personId: string) => ({ cookie: cookies.get(personId) ?? '' })

function put(who: string, from: number, to: number, more: Record<string, string> = { 'x-talus': '1' }, bytes = photo) {
  const name = createHash('sha256').update(bytes).digest('hex')
  const body = new Uint8Array(bytes.subarray(from, to))
  const path = `${url}/api/uploads/${name}?size=${bytes.length}&offset=${from}`
  return fetch(path, { method: 'PUT', headers: { ...as(who), ...more }, body })
}
const look = (who: string, query = '', more: Record<string, string> = {}) =>
  fetch(`${url}/api/photos/${hash}?of=skull${query}`, { headers: { ...as(who), ...more } })

test('strangers, readers, the wall and other pages send nothing', async () => {
  expect((await put('nobody', 0, photo.length)).status).toBe(401)
  expect((await put('ruth', 0, photo.length)).status).toBe(403)
  expect((await put('wall', 0, photo.length)).status).toBe(403)
  expect((await put('bea', 0, photo.length, {})).status).toBe(403)
  expect((await put('bea', 0, photo.length, { 'x-talus': '1', origin: 'http://evil.example' })).status).toBe(403)
  expect((await look('bea')).status).toBe(404)
})

test('a renamed script and a size out of reach are refused with the reason', async () => {
  const script = Buffer.from('#!/bin/sh\necho nothing of a picture is in here\n'.repeat(20))
  const refused = await put('bea', 0, script.length, { 'x-talus': '1' }, script)
  expect([refused.status, await refused.json()]).toEqual([415, { state: 'refused', why: 'not-an-image' }])
  const huge = await fetch(`${url}/api/uploads/${hash}?size=2000000000`, { headers: as('bea') })
  expect([huge.status, await huge.json()]).toEqual([413, { state: 'refused', why: 'too-big' }])
  expect((await fetch(`${url}/api/uploads/${hash}?size=all`, { headers: as('bea') })).status).toBe(400)
})

test('bytes that are not what they were announced as are refused with that reason, nothing of them stays, and the true ones come after', async () => {
  const other = await sharp({ create: { width: 300, height: 150, channels: 3, background: '#444', noise } })
    .jpeg()
    .toBuffer()
  const path = `${url}/api/uploads/${hash}?size=${other.length}`
  const send = () =>
    fetch(`${path}&offset=0`, { method: 'PUT', headers: { ...as('bea'), 'x-talus': '1' }, body: new Uint8Array(other) })
  for (let n = 0; n < 2; n++) {
    const refused = await send()
    expect([refused.status, await refused.json()]).toEqual([422, { state: 'refused', why: 'wrong-hash' }])
    const ask = await fetch(path, { headers: as('bea') })
    expect([ask.status, await ask.json()]).toEqual([202, { state: 'coming', offset: 0 }])
  }
  const looked = await look('bea')
  expect([looked.status, noPictureOf(looked.status)]).toEqual([404, 'not there'])
  const own = createHash('sha256').update(other).digest('hex')
  expect((await fetch(`${url}/api/photos/${own}?of=skull`, { headers: as('bea') })).status).toBe(404)
  expect((await put('bea', 0, other.length, undefined, other)).status).toBe(200)
  expect((await look('bea')).status).toBe(404)
})

test('what was sent in two pieces is there upright, without position, for those who read and nobody else', async () => {
  const half = Math.floor(photo.length / 2)
  expect(await (await put('bea', 0, half)).json()).toEqual({ state: 'coming', offset: half })
  expect((await put('bea', half + 1, photo.length)).status).toBe(409)
  const ask = await fetch(`${url}/api/uploads/${hash}?size=${photo.length}`, { headers: as('bea') })
  expect([ask.status, await ask.json()]).toEqual([202, { state: 'coming', offset: half }])
  const kept = await put('bea', half, photo.length)
  expect([kept.status, await kept.json()]).toMatchObject([
    200,
    { state: 'kept', photo: { widthPx: 200, heightPx: 400 } },
  ])

  const seen = await look('ruth')
  expect(Object.fromEntries(seen.headers)).toMatchObject({
    'content-type': 'image/jpeg',
    'cache-control': 'private, no-cache',
    'content-security-policy': expect.stringContaining(`default-src 'none'`),
  })
  const bytes = Buffer.from(await seen.arrayBuffer())
  const { width, height, exif } = await sharp(bytes).metadata()
  expect([width, height, exif]).toEqual([200, 400, undefined])
  expect((await look('ruth', '&side=320')).status).toBe(200)
  expect((await look('ruth', '&side=321')).status).toBe(400)
  expect((await look('wall')).status).toBe(404)
  const elsewhere = await fetch(`${url}/api/photos/${hash}?of=jaw`, { headers: as('ruth') })
  expect(elsewhere.status).toBe(404)
  const etag = seen.headers.get('etag') ?? ''
  expect((await look('ruth', '', { 'if-none-match': etag })).status).toBe(304)
  expect((await look('nobody', '', { 'if-none-match': etag })).status).toBe(401)
})

test('while the shelf is out of reach an upload is told not now, edits go on, and readiness says which', async () => {
  const another = await sharp({ create: { width: 300, height: 200, channels: 3, background: '#777', noise } })
    .jpeg()
    .toBuffer()
  isAway = true
  const sent = await put('bea', 0, another.length, { 'x-talus': '1' }, another)
  expect([sent.status, await sent.json()]).toEqual([503, { refused: 'not-now' }])
  const ready = await fetch(`${url}/ready`)
  expect([ready.status, await ready.json()]).toEqual([200, { ready: true, photographs: false }])
  isAway = false
  const name = createHash('sha256').update(another).digest('hex')
  // It came whole: asked after, it is kept without being sent again.
  const asked = await fetch(`${url}/api/uploads/${name}?size=${another.length}`, { headers: as('bea') })
  expect([asked.status, await asked.json()]).toMatchObject([200, { state: 'kept' }])
})
