// Where a request comes from and which origin it believes to talk to. What proxies say in X-Forwarded-* is believed
// only when it comes from a proxy that the settings name: anybody else could write it too.
import type { IncomingMessage } from 'node:http'
import { BlockList, isIP } from 'node:net'

/** Tells whether an address is a known proxy. */
export type IsProxy = (address: string) => boolean

/** Reads the setting: addresses or networks (10.0.0.0/8), comma separated; `loopback` for this machine's own. Throws on nonsense. */
export function proxiesOf(list: string): IsProxy {
  const known = new BlockList()
  for (const part of list.split(',').map((text) => text.trim())) {
    if (part === '') continue
    if (part === 'loopback') {
      known.addSubnet('127.0.0.0', 8)
      known.addAddress('::1', 'ipv6')
      continue
    }
    const [address = '', bits] = part.split('/')
    const family = isIP(address)
    if (family === 0) throw new Error(`TALUS_PROXY: expected addresses, networks or loopback, got ${part}`)
    if (bits === undefined) known.addAddress(address, `ipv${family as 4 | 6}`)
    else known.addSubnet(address, Number(bits), `ipv${family as 4 | 6}`)
  }
  return (address) => {
    const family = isIP(address)
    return family !== 0 && known.check(address, `ipv${family as 4 | 6}`)
  }
}

/** Tells whether a name is one that this machine is called by. */
export type IsHost = (name: string) => boolean

/**
 * Addresses, localhost, and the names given are the machine's own. A page from elsewhere can point a name of its own at
 * us and then read our answers as its own; it can do so with no address and with no name that is not its.
 */
export function hostsOf(names: readonly string[]): IsHost {
  const known = new Set(['localhost', ...names.map((name) => name.trim().toLowerCase())])
  return (name) => known.has(name) || name.endsWith('.localhost') || isIP(name.replace(/^\[(.*)\]$/, '$1')) !== 0
}

/** True when a request names a host that is us; a proxy of ours vouches for what it passes on. */
export function isForUs(request: IncomingMessage, { origin }: Whence, isProxy: IsProxy, isHost: IsHost): boolean {
  if (origin === null) return false
  if (isHost(new URL(origin).hostname.replace(/\.$/, ''))) return true
  // Another process of ours hands on whatever it is asked.
  return !isHandedOn(request) && isProxy(plain(request.socket.remoteAddress ?? ''))
}

/** Where a request comes from, and whom it means. */
export interface Whence {
  /** The client's address, as far as it can be known; IPv6 by its /64, since one machine has a whole one. */
  readonly address: string
  /** `https://talus.example`, null when the request names no sensible host. */
  readonly origin: string | null
  readonly isSecure: boolean
}

/** Reads that off a request. */
export function whenceOf(request: IncomingMessage, isProxy: IsProxy): Whence {
  const peer = plain(request.socket.remoteAddress ?? '')
  const isBehind = isProxy(peer)
  const isSecure = isBehind && lastOf(request.headers['x-forwarded-proto']) === 'https'
  const host = (isBehind ? lastOf(request.headers['x-forwarded-host']) : null) ?? request.headers.host ?? ''
  const isHost = /^(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(:\d{1,5})?$/i.test(host)
  return {
    address: network(clientOf(request, isProxy)),
    origin: isHost ? `${isSecure ? 'https' : 'http'}://${host.toLowerCase()}` : null,
    isSecure,
  }
}

/** The client's address as it stands, for whom a request is handed on to. */
export function clientOf(request: IncomingMessage, isProxy: IsProxy): string {
  const peer = plain(request.socket.remoteAddress ?? '')
  const forwarded = isProxy(peer) ? lastOf(request.headers['x-forwarded-for']) : null
  return forwarded && isIP(forwarded) ? forwarded : peer
}

/** Header of a request that another process of ours handed on; see forward.ts. */
export const HANDED_ON = 'x-talus-handed-on'

export const isHandedOn = (request: IncomingMessage): boolean => request.headers[HANDED_ON] !== undefined

/** True when a browser says that a page of ours made this request. */
export const isOwnOrigin = (request: IncomingMessage, { origin }: Whence): boolean =>
  origin !== null && request.headers.origin?.toLowerCase() === origin

/** The entry the nearest proxy wrote; earlier ones are the client's own claims. */
function lastOf(header: string | string[] | undefined): string | null {
  const text = Array.isArray(header) ? header.join(',') : (header ?? '')
  return text.split(',').at(-1)?.trim() || null
}

const plain = (address: string) => address.replace(/^::ffff:(?=\d+\.)/, '')

function network(address: string): string {
  if (isIP(address) !== 6) return address
  const [head = '', tail] = address.split('::')
  const front = head.split(':').filter((part) => part !== '')
  const back = tail === undefined ? [] : tail.split(':').filter((part) => part !== '')
  const all = [...front, ...Array<string>(Math.max(0, 8 - front.length - back.length)).fill('0'), ...back]
  return `${all.slice(0, 4).join(':')}::/64`
}
