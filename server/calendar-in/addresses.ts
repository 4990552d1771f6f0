// Which addresses of the network are everybody's. Somebody's calendar is fetched from the lab's own server, which stands
// inside walls that they do not: nothing private, of this machine or of the link may be reached by naming it.
import { BlockList, isIP } from 'node:net'

// IANA special-purpose registries, from memory; whatever is not known to be public is refused.
const notPublic = new BlockList()
for (const [net, bits] of [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  ['192.0.2.0', 24],
  ['192.88.99.0', 24],
  ['192.168.0.0', 16],
  ['198.18.0.0', 15],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
  ['224.0.0.0', 3],
] as const)
  notPublic.addSubnet(net, bits, 'ipv4')
// Of what is public in version 6, what carries version 4 inside or is for papers.
for (const [net, bits] of [
  ['2001::', 23],
  ['2001:db8::', 32],
  ['2002::', 16],
  ['3fff::', 20],
] as const)
  notPublic.addSubnet(net, bits, 'ipv6')

const global6 = new BlockList()
global6.addSubnet('2000::', 3, 'ipv6')

/** True for an address that anybody on the network could reach; a name is none. */
export function isPublicAddress(address: string): boolean {
  const version = isIP(address)
  if (version === 4) return !notPublic.check(address, 'ipv4')
  // Mapped, link-local, unique local and loopback lie outside of what is given out to the network.
  return version === 6 && global6.check(address, 'ipv6') && !notPublic.check(address, 'ipv6')
}
