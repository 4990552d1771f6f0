// Installs one of Debian's packages for the tests, where that is ours to do.
import { spawnSync } from 'node:child_process'

/** Tries it as root on a machine with apt-get, saying so; whether it worked is for the caller to see. */
export function installByApt(name, title, say) {
  if (process.getuid?.() !== 0 || spawnSync('apt-get', ['--version']).status !== 0) return
  say(`Installing ${title} with apt-get, once …`)
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
  spawnSync('apt-get', ['update', '-qq'], { stdio: 'ignore' })
  spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', name], { stdio: 'ignore', env })
}
