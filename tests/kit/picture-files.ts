// Picture files for tests: true ones, ones that lie about themselves, and how they are sent.
import { createHash } from 'node:crypto'
import { deflateSync } from 'node:zlib'
import sharp from 'sharp'
import type { Upload } from '../../server/photos/contract.ts'

export const uploadOf = (bytes: Uint8Array, more: Partial<Upload> = {}): Upload => ({
  hash: createHash('sha256').update(bytes).digest('hex'),
  size: bytes.length,
  personId: 'bea',
  ...more,
})

/** Sends in parts of `step` bytes; the network is lost after `until`. */
export async function* sent(bytes: Uint8Array, until = bytes.length, step = 1000): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < until; at += step) yield bytes.subarray(at, Math.min(at + step, until))
  if (until < bytes.length) throw new Error('the network is lost')
}

/** Noise, so that the file is long for its pixels; lying on its side, with the place and the camera in it. */
export async function aPhoto(form: 'jpeg' | 'png' | 'webp' = 'jpeg'): Promise<Buffer> {
  const noise = sharp({
    create: {
      width: 60,
      height: 40,
      channels: 3,
      background: '#888',
      noise: { type: 'gaussian', mean: 128, sigma: 60 },
    },
  })
  return noise
    .withExif({
      IFD0: { Make: 'Invented camera', ImageDescription: 'kept to itself' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '48/1 12/1 0/1', GPSLongitudeRef: 'E', GPSLongitude: '11/1 30/1 0/1' },
    })
    .withMetadata({ orientation: 6 })
    .toFormat(form)
    .toBuffer()
}

export const collect = async (stream: AsyncIterable<Uint8Array>) => {
  const parts: Uint8Array[] = []
  for await (const part of stream) parts.push(part)
  return Buffer.concat(parts)
}

/** A PNG that says how large it is and holds next to nothing. */
export function pngSaying(width: number, height: number): Buffer {
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type, 'latin1'), data])
    const length = Buffer.alloc(4)
    length.writeUInt32BE(data.length)
    const sum = Buffer.alloc(4)
    sum.writeUInt32BE(crc32(body))
    return Buffer.concat([length, body, sum])
  }
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width, 0)
  head.writeUInt32BE(height, 4)
  head.set([8, 2, 0, 0, 0], 8)
  const start = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])
  return Buffer.concat([
    start,
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(Buffer.alloc(100_000))),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function crc32(bytes: Uint8Array): number {
  let rest = 0xffffffff
  for (const byte of bytes) {
    rest ^= byte
    for (let bit = 0; bit < 8; bit++) rest = (rest >>> 1) ^ (rest & 1 ? 0xedb88320 : 0)
  }
  return (rest ^ 0xffffffff) >>> 0
}
