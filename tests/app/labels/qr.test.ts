// The codes of labels, read by jsqr, which shares nothing with what writes them.
import fc from 'fast-check'
import jsQR from 'jsqr'
import { expect, test } from 'vitest'
import { qrPath } from '../../../app/labels/qr.ts'

const PX = 4

/** The path painted as a scanner would see it. */
function seen({ size, path }: ReturnType<typeof qrPath>, dust: readonly (readonly [number, number])[] = []) {
  const side = size * PX
  const pixels = new Uint8ClampedArray(side * side * 4).fill(255)
  const paint = (x: number, y: number, shade: number) => {
    for (let dy = 0; dy < PX; dy++)
      for (let dx = 0; dx < PX; dx++)
        pixels.fill(shade, ((y * PX + dy) * side + x * PX + dx) * 4, ((y * PX + dy) * side + x * PX + dx) * 4 + 3)
  }
  for (const [, x = '', y = ''] of path.matchAll(/M(\d+) (\d+)h1v1h-1z/g)) paint(Number(x), Number(y), 0)
  for (const [x, y] of dust) paint(x % size, y % size, 255)
  return jsQR(pixels, side, side)?.data ?? null
}

test('every address of a piece is read back, also with a speck of plaster on the code', () => {
  const id = fc.stringMatching(/^[0-9a-z][0-9a-z-]{0,39}$/)
  const origin = fc.constantFrom(
    'https://talus.example',
    'http://192.168.1.20:3000',
    'https://prep-lab.museum.example:8443',
  )
  fc.assert(
    fc.property(origin, id, fc.boolean(), (at, piece, isDusty) => {
      const text = `${at}/p/${piece}`
      const code = qrPath(text)
      const middle = Math.floor(code.size / 2)
      // Away from the three corners, by which a scanner finds the code at all.
      const speck = [0, 1, 2, 3].map((n) => [middle + (n % 2), middle + Math.floor(n / 2)] as const)
      expect(seen(code, isDusty ? speck : [])).toBe(text)
    }),
    { numRuns: 150, seed: 8 },
  )
})

test('there are four clear modules round it', () => {
  const { size, path } = qrPath('https://talus.example/p/x')
  const at = [...path.matchAll(/M(\d+) (\d+)/g)].flatMap(([, x, y]) => [Number(x), Number(y)])
  expect([Math.min(...at), Math.max(...at)]).toEqual([4, size - 5])
})
