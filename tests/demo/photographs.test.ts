// The demo lab's photographs: of pieces it has, each a picture with something on it, and records that their schemas take.
import { describe, expect, it } from 'vitest'
import { noRecords, STROKE_SPAN, withChanges } from '#lib/words'
import { demoPhotographs, demoRecords, paint } from '../../demo/index.ts'

const today = '2026-03-12'
const lab = demoRecords({ seed: 20, today })
const photos = demoPhotographs(lab, 'Europe/Lisbon', today)
const kept = (n: number) => ({
  ...{ hash: n.toString(16).padStart(64, '0'), form: 'jpeg' as const },
  ...{ widthPx: 960, heightPx: 720, bytes: 50_000 },
})

describe('photographs of the demo lab', () => {
  it('are of pieces on its board, taken before today, with strokes on their own file', () => {
    const before = withChanges(noRecords(), lab)
    const after = withChanges(
      before,
      photos.flatMap(({ records }, n) => records(kept(n))),
    )
    expect(after.photo.size).toBe(6)
    for (const photo of after.photo.values()) {
      expect(before.specimen.has(photo.pieceId) || before.jacket.has(photo.pieceId)).toBe(true)
      expect(photo.at < `${today}T00:00`).toBe(true)
      expect(photo.caption).not.toBe('')
    }
    expect(after.stroke.size).toBeGreaterThan(5)
    for (const { photoHash, pieceId, points } of after.stroke.values()) {
      expect([...after.photo.values()].some((one) => one.hash === photoHash && one.pieceId === pieceId)).toBe(true)
      for (const part of points.flat()) expect(part > 0 && part < STROKE_SPAN).toBe(true)
    }
  })

  it('are painted the same each time: cloth, a thing on it, a scale bar in black and white', () => {
    for (const { sketch } of photos) {
      const { rgb, widthPx, heightPx } = paint(sketch)
      expect(rgb.length).toBe(widthPx * heightPx * 3)
      const light = (x: number, y: number) => rgb[3 * (Math.round(y) * widthPx + Math.round(x))] ?? 0
      expect(light(2, 2)).toBeLessThan(90)
      const bar = Array.from({ length: Math.round(widthPx / 4) }, (_, n) => light(0.07 * widthPx + n, 0.672 * widthPx))
      expect(Math.min(...bar)).toBeLessThan(60)
      expect(Math.max(...bar)).toBeGreaterThan(190)
      expect(Buffer.compare(paint(sketch).rgb, rgb)).toBe(0)
    }
  })
})
