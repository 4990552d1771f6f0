// The demo lab's photographs: painted in a thread of their own, kept as any other, and then records like any other.
import { createHash } from 'node:crypto'
import { Worker } from 'node:worker_threads'
import type { Change } from '#lib/words'
import type { DemoPhoto, Sketch } from '../../demo/index.ts'
import type { PhotoStore } from './contract.ts'

/** Paints and keeps them; answers their records. `worker` is the thread's script where it is not the built one. */
export async function keepDemoPhotos(
  photos: PhotoStore,
  wanted: readonly DemoPhoto[],
  worker: URL = new URL('./photos-demo-worker.mjs', import.meta.url),
): Promise<readonly Change[]> {
  const files = await paintedIn(
    worker,
    wanted.map(({ sketch }) => sketch),
  )
  const changes: Change[] = []
  for (const [n, { by, records }] of wanted.entries()) {
    const bytes = files[n] ?? new Uint8Array()
    const hash = createHash('sha256').update(bytes).digest('hex')
    const answer = await photos.take({ hash, size: bytes.length, personId: by }, 0, one(bytes))
    if (answer.state !== 'kept')
      throw new Error(`Believed: a picture of our own is kept, not ${JSON.stringify(answer)}`)
    const { form, widthPx, heightPx, size } = answer.photo
    changes.push(...records({ hash, form, widthPx, heightPx, bytes: size }))
  }
  return changes
}

function paintedIn(script: URL, sketches: readonly Sketch[]): Promise<readonly Uint8Array[]> {
  return new Promise((done, fail) => {
    const files: Uint8Array[] = []
    const thread = new Worker(script, { workerData: sketches, name: 'demo photographs' })
    thread.on('message', (bytes: Uint8Array) => files.push(bytes))
    thread.once('error', fail)
    thread.once('exit', () => (files.length === sketches.length ? done(files) : fail(new Error('The painter ended.'))))
  })
}

async function* one(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes
}
