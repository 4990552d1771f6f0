// One at a time between processes: a lock file that names its holder, for installing and building. A holder that died
// is noticed and its lock taken over, so that a killed start never blocks the next one.
import { readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { setTimeout as wait } from 'node:timers/promises'

const POLL_MS = 200
const NAMELESS_MS = 5000

/** @param {number} pid */
export function isAlive(pid) {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    // Not ours to signal is alive all the same.
    return error.code === 'EPERM'
  }
}

/**
 * Runs `work` while holding the lock file; waits for another holder to finish.
 * @template T
 * @param {string} file
 * @param {() => void} onWait called once when somebody else holds it
 * @param {() => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function withLock(file, onWait, work) {
  let told = false
  while (!take(file)) {
    if (!told) onWait()
    told = true
    await wait(POLL_MS)
  }
  const release = () => rmSync(file, { force: true })
  process.once('exit', release)
  try {
    return await work()
  } finally {
    process.off('exit', release)
    release()
  }
}

/** @param {string} file */
function take(file) {
  try {
    writeFileSync(file, String(process.pid), { flag: 'wx' })
    return true
  } catch (error) {
    if (error.code !== 'EEXIST') throw error
  }
  const holder = holderOf(file)
  if (holder === null ? !isStale(file) : isAlive(holder)) return false
  // Two that wait may both see the dead holder: renaming lets only one of them clear it away, and a fresh lock that was
  // caught by mistake is put back.
  const aside = `${file}.${process.pid}`
  try {
    renameSync(file, aside)
  } catch {
    return false
  }
  if (holderOf(aside) !== holder) renameSync(aside, file)
  else rmSync(aside, { force: true })
  return false
}

/** A lock without a name in it is being written, or its writer died at that instant. */
function isStale(file) {
  try {
    return Date.now() - statSync(file).mtimeMs > NAMELESS_MS
  } catch {
    return false
  }
}

/** @param {string} file */
function holderOf(file) {
  try {
    const pid = Number(readFileSync(file, 'utf8'))
    return Number.isInteger(pid) && pid > 0 ? pid : null
  } catch {
    return null
  }
}
