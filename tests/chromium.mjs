// Finds the browser for the browser tests: the shell of Chromium, which draws pages and no window around them and so takes
// less than half the processor, installed from Debian when root; else the machine's own, else playwright's, else installs
// one (Debian's package when root, playwright's download otherwise), else says which one command would help.
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import { installByApt } from './apt.mjs'

const shells = ['chromium-headless-shell', 'headless_shell']
const names = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome']
const macs = ['Chromium', 'Google Chrome'].map((name) => `/Applications/${name}.app/Contents/MacOS/${name}`)

/** The path of a Chromium; throws with the cure when there is none to be had. */
export async function findChromium(say) {
  const given = process.env.TALUS_CHROMIUM
  if (given) {
    if (existsSync(given)) return given
    throw new Error(`TALUS_CHROMIUM names ${given}, which is not there.`)
  }
  const shell = present(shells)
  if (shell) return shell
  installByApt('chromium-headless-shell', 'the shell of Chromium', say)
  const found = present(shells) ?? present(names, macs) ?? (await playwrights())
  if (found) return found
  installByApt('chromium', 'Chromium', say)
  const installed = present(names)
  if (installed) return installed
  say('Fetching a Chromium for playwright, once …')
  spawnSync(process.execPath, ['node_modules/playwright/cli.js', 'install', 'chromium'], { stdio: 'ignore' })
  const fetched = await playwrights()
  if (fetched) return fetched
  throw new Error(
    'The browser tests need Chromium and none could be installed. Run this, then npm test again:\n' +
      '  sudo apt-get install -y --no-install-recommends chromium',
  )
}

function present(names, paths = []) {
  const folders = (process.env.PATH ?? '').split(delimiter)
  const ofThem = names.flatMap((name) => folders.map((folder) => join(folder, name)))
  return [...ofThem, ...paths].find((path) => existsSync(path)) ?? null
}

async function playwrights() {
  const { chromium } = await import('playwright')
  const path = chromium.executablePath()
  return path && existsSync(path) ? path : null
}
