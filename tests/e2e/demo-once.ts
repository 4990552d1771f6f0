// The demo lab is drawn up once for all files, by a server that starts on an empty folder; each file's server then starts
// on a copy of what that one kept. Drawing it up is half of what a start costs.
import { rmSync } from 'node:fs'
import { startServer, within } from '../kit/server.ts'

/** Leaves the folder to copy in `TALUS_TEST_DEMO`; answers how it is taken away after the last file. */
export default async function demoOnce(): Promise<() => void> {
  const server = await startServer()
  await within(server.stop())
  process.env.TALUS_TEST_DEMO = server.data
  return () => rmSync(server.data, { recursive: true, force: true })
}
