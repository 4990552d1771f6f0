// `npm run dev`: the server as in production, but Next serves the sources with hot reload, and each change of server or
// lib code restarts it. The bundle is watched here; the server is a child, so that a restart starts from nothing.
import { spawn } from 'node:child_process'
import { join } from 'node:path'
import { bundled, bundleServer, root, writeNextTypes } from './prepare.mjs'

/** @param {readonly string[]} args */
export async function develop(args) {
  const folder = join(root, '.build/dev')
  writeNextTypes()
  let child = null
  let isEnding = false

  const start = () => {
    const entry = bundled(folder, 'main')
    const given = JSON.stringify({ args, root, build: 'dev', isDev: true })
    child = spawn(
      process.execPath,
      // Next forks workers for pages with a name in their address; they inherit these flags and must not start a server.
      ['--enable-source-maps', '-e', `process.execArgv = []; import('${entry}').then((m) => m.main(${given}))`],
      {
        stdio: 'inherit',
        env: { ...process.env, NODE_ENV: 'development', NEXT_TELEMETRY_DISABLED: '1' },
      },
    )
    child.on('exit', (code) => {
      if (isEnding || code) process.exit(code ?? 0)
      start()
    })
  }

  const end = (signal) => {
    isEnding = true
    child?.kill(signal)
  }
  process.on('SIGINT', () => end('SIGINT'))
  process.on('SIGTERM', () => end('SIGTERM'))

  await bundleServer(join(folder, 'server'), true, () => {
    if (!child) return start()
    console.error('Server code changed: starting again.')
    child.kill('SIGTERM')
  })
}
