// Which address and origin a request counts under, with and without proxies.
import type { IncomingMessage } from 'node:http'
import { describe, expect, test } from 'vitest'
import { hostsOf, isForUs, isOwnOrigin, proxiesOf, whenceOf } from '../../../server/http/address.ts'

const nobody = proxiesOf('')

function request(remoteAddress: string, headers: Record<string, string>): IncomingMessage {
  // The code under test reads these two fields only.
  return { socket: { remoteAddress }, headers } as unknown as IncomingMessage
}

describe('where a request comes from', () => {
  test('is the socket, whatever the headers claim, unless the socket is a known proxy', () => {
    const claimed = { host: 'lab:3000', 'x-forwarded-for': '9.9.9.9', 'x-forwarded-proto': 'https' }
    expect(whenceOf(request('10.0.0.5', claimed), nobody)).toEqual({
      address: '10.0.0.5',
      origin: 'http://lab:3000',
      isSecure: false,
    })
  })

  test('is what the nearest proxy wrote, when that proxy is known', () => {
    const isProxy = proxiesOf('loopback, 10.1.0.0/16')
    const headers = {
      host: 'inner:3000',
      'x-forwarded-for': '6.6.6.6, 9.9.9.9',
      'x-forwarded-proto': 'https',
      'x-forwarded-host': 'Talus.example',
    }
    const wanted = { address: '9.9.9.9', origin: 'https://talus.example', isSecure: true }
    for (const proxy of ['127.0.0.1', '::1', '10.1.2.3', '::ffff:10.1.2.3']) {
      expect(whenceOf(request(proxy, headers), isProxy)).toEqual(wanted)
    }
    expect(whenceOf(request('10.2.0.1', headers), isProxy).address).toBe('10.2.0.1')
  })

  test('counts an IPv6 machine by its network', () => {
    const first = whenceOf(request('2001:db8:1:2:3:4:5:6', { host: 'lab' }), nobody).address
    const second = whenceOf(request('2001:db8:1:2::9', { host: 'lab' }), nobody).address
    expect(first).toBe('2001:db8:1:2::/64')
    expect(second).toBe(first)
  })

  test('has no origin when the host is nonsense', () => {
    for (const host of ['', 'a b', 'lab:99999999', 'evil.example/path', 'x@lab']) {
      expect(whenceOf(request('::1', { host }), nobody).origin).toBeNull()
    }
  })

  test('is our own page only when the browser says exactly our origin', () => {
    const ours = (origin: string | undefined) => {
      const one = request('::1', { host: 'lab:3000', ...(origin ? { origin } : {}) })
      return isOwnOrigin(one, whenceOf(one, nobody))
    }
    expect(ours('http://lab:3000')).toBe(true)
    for (const origin of [undefined, 'null', 'https://lab:3000', 'http://lab', 'http://lab:3000.evil.example']) {
      expect(ours(origin)).toBe(false)
    }
  })

  test('refuses settings that are no addresses', () => {
    expect(() => proxiesOf('proxy.example')).toThrow(/TALUS_PROXY/)
  })
})

describe('whom a request means', () => {
  const isUs = (host: string, isProxy = nobody) => {
    const one = request('127.0.0.1', { host })
    return isForUs(one, whenceOf(one, isProxy), isProxy, hostsOf(['Bench.local', 'talus.example']))
  }

  test('is us by address, localhost and our names', () => {
    const ours = ['localhost', 'localhost:3000', 'a.localhost', '127.0.0.1:3000', '192.168.1.9', '[::1]:3000']
    for (const host of [...ours, 'bench.local:3000', 'TALUS.example', 'talus.example.'])
      expect(isUs(host), host).toBe(true)
  })

  test('is not us by a name that somebody else may have pointed here', () => {
    for (const host of [
      'evil.example',
      'talus.example.evil.example',
      '127.0.0.1.evil.example',
      'localhost.evil.example',
    ])
      expect(isUs(host), host).toBe(false)
    for (const host of ['', 'a b', 'x@localhost']) expect(isUs(host), host).toBe(false)
  })

  test('is us by whatever name a proxy of ours was asked for', () => {
    expect(isUs('elsewhere.example', proxiesOf('loopback'))).toBe(true)
  })
})
