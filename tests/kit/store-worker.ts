// The store's thread, bundled as the server's build does it, once per test process: Node does not read TypeScript.
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { build } from 'esbuild'

/** The clone's folder. */
export const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))))
let bundled: Promise<URL> | null = null

/** Address of the bundled thread. */
export function storeWorker(): Promise<URL> {
  bundled ??= bundle('server/store/worker.ts', 'store-worker')
  return bundled
}

/** Bundles one entry of ours for Node; it finds its packages in this clone. */
export async function bundle(entry: string, name: string): Promise<URL> {
  // Inside the clone, so that packages are found from there.
  const folder = mkdtempSync(join(root, 'node_modules', '.talus-test-'))
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }))
  const outfile = join(folder, `${name}.mjs`)
  await build({
    absWorkingDir: root,
    entryPoints: [entry],
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    target: 'node20',
    sourcemap: 'inline',
    logLevel: 'error',
  })
  return pathToFileURL(outfile)
}

/** A data folder that is taken away when the process ends. */
export function dataFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'talus-store-'))
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }))
  return folder
}
