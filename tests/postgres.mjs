// Finds PostgreSQL's own programs for the tests that need a real server: the machine's, else Debian's package when root,
// else says which one command would help.
import { existsSync, readdirSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import { installByApt } from './apt.mjs'

const VERSION_MIN = 14
const versions = '/usr/lib/postgresql'

/** The folder of initdb, pg_ctl and postgres; throws with the cure when there is none to be had. */
export function findPostgres(say) {
  const found = present()
  if (found) return found
  installByApt('postgresql', 'PostgreSQL', say)
  const installed = present()
  if (installed) return installed
  throw new Error(
    'The tests of the store on PostgreSQL need its server and none could be installed. Run this, then npm test again:\n' +
      '  sudo apt-get install -y --no-install-recommends postgresql',
  )
}

function present() {
  const given = process.env.TALUS_POSTGRES_BIN
  if (given) {
    if (existsSync(join(given, 'initdb'))) return given
    throw new Error(`TALUS_POSTGRES_BIN names ${given}, which has no initdb.`)
  }
  const numbers = existsSync(versions) ? readdirSync(versions).map(Number) : []
  const debians = numbers
    .filter((n) => n >= VERSION_MIN)
    .sort((a, b) => b - a)
    .map((n) => join(versions, String(n), 'bin'))
  const folders = (process.env.PATH ?? '').split(delimiter).filter((folder) => folder !== '')
  return [...debians, ...folders].find((folder) => existsSync(join(folder, 'initdb'))) ?? null
}
