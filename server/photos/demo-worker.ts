// The thread that paints the demo lab's photographs while the rest of that lab is drawn up beside it.
import { parentPort, workerData } from 'node:worker_threads'
import sharp from 'sharp'
import { paint, type Sketch } from '../../demo/index.ts'

/** Longest side as it is kept, pixels. */
const SIDE_PX = 960

sharp.concurrency(1)
for (const sketch of workerData as readonly Sketch[]) {
  const { rgb, widthPx, heightPx } = paint(sketch)
  const raw = { width: widthPx, height: heightPx, channels: 3 as const }
  const bytes = await sharp(rgb, { raw }).resize({ width: SIDE_PX }).jpeg({ quality: 82 }).toBuffer()
  parentPort?.postMessage(new Uint8Array(bytes))
}
