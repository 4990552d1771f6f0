// Makes a clone ready to run: installs what the lock file names when something is missing, and builds pages and server
// when the sources differ from every build at hand. Each build has a folder named by the hash of its sources (and of
// the path it is made for, which Next writes into the pages) and
// appears there whole by a rename, so that a start and a test run at the same moment never share a half-written one.
import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { isAlive, withLock } from './lock.mjs'

/** The clone's folder. */
export const root = dirname(dirname(fileURLToPath(import.meta.url)))

const builds = join(root, '.build')
const sources = ['app', 'lib', 'server', 'demo', 'package.json', 'package-lock.json', 'tsconfig.json', 'next.config.ts']
const BUILDS_KEPT = 3

/** @typedef {(line: string) => void} Say where progress is told */

/**
 * Installs the packages of the lock file, development ones too (the build needs them), unless all are there.
 * @param {Say} say
 */
export async function install(say) {
  if (isInstalled()) return
  mkdirSync(builds, { recursive: true })
  await withLock(
    join(builds, 'lock'),
    () => say('Waiting for another start of this clone to finish installing …'),
    async () => {
      if (isInstalled()) return
      say('Installing packages, once (about half a minute) …')
      const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm'
      await run(npm, ['ci', '--include=dev', '--no-audit', '--no-fund', '--loglevel=error'], {}, 'npm ci')
    },
  )
}

/**
 * Builds pages and server unless a build of the present sources is at hand.
 * @param {Say} say
 * @returns {Promise<string>} the build's folder
 */
export async function build(say) {
  const found = join(builds, hashOfSources())
  if (existsSync(found)) return found
  mkdirSync(builds, { recursive: true })
  return withLock(
    join(builds, 'lock'),
    () => say('Waiting for another start of this clone to finish building …'),
    async () => {
      const hash = hashOfSources()
      const done = join(builds, hash)
      if (existsSync(done)) return done
      say('Building, since the sources changed (some seconds) …')
      const making = join(builds, 'making')
      rmSync(making, { recursive: true, force: true })
      await buildPages('.build/making/pages')
      await bundleServer(join(making, 'server'), false)
      // Sources edited during the build: what was built runs, under a name that no later start will look for.
      const isSteady = hashOfSources() === hash
      const to = isSteady
        ? done
        : join(builds, createHash('sha256').update(`${hash} ${Date.now()}`).digest('hex').slice(0, 16))
      renameSync(making, to)
      removeOld(to)
      return to
    },
  )
}

/**
 * Bundles the server and its workers, source maps beside them; packages stay in node_modules.
 * @param {string} to
 * @param {boolean} watch builds again at each change, for development
 * @param {() => void} [onBuilt]
 */
export async function bundleServer(to, watch, onBuilt) {
  const esbuild = await import('esbuild')
  const told = { name: 'told', setup: (build) => build.onEnd(({ errors }) => errors.length === 0 && onBuilt?.()) }
  const settings = {
    absWorkingDir: root,
    entryPoints: Object.fromEntries(serverEntries().map((path) => [entryName(path), path])),
    outdir: to,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    splitting: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    target: 'node20',
    sourcemap: 'linked',
    logLevel: 'warning',
    plugins: [told],
  }
  if (watch) {
    const context = await esbuild.context(settings)
    await context.watch()
    return
  }
  await esbuild.build(settings)
  await esbuild.stop()
}

/** Bundled file name of a source that a process or a worker starts with: `server/store/worker.ts` is `store-worker`. */
const entryName = (path) =>
  path
    .replace(/^server\//, '')
    .replace(/\.ts$/, '')
    .replaceAll('/', '-')

function serverEntries() {
  const own = ['server/main.ts', 'server/errands.ts']
  const workers = filesUnder(join(root, 'server'))
    .map((path) => path.slice(root.length + 1).replaceAll('\\', '/'))
    .filter((path) => /(^|[/-])worker\.ts$/.test(path))
  return [...own, ...workers].filter((path) => existsSync(join(root, path)))
}

/** Gives Next a tsconfig of its own to write into; see next.config.ts. */
export function writeNextTypes() {
  mkdirSync(builds, { recursive: true })
  writeFileSync(join(builds, 'tsconfig.json'), '{ "extends": "../tsconfig.json" }\n')
}

/** @param {string} to relative to the clone, as Next wants it */
async function buildPages(to) {
  writeNextTypes()
  const types = join(root, 'next-env.d.ts')
  const before = existsSync(types) ? readFileSync(types) : null
  const next = join(root, 'node_modules/next/dist/bin/next')
  await run(process.execPath, [next, 'build'], { NODE_ENV: 'production', TALUS_PAGES: to }, 'The build of the pages')
  // Next points this file into the folder that is about to be renamed; the type check does not need it.
  if (before) writeFileSync(types, before)
  else rmSync(types, { force: true })
  rmSync(join(root, to, 'cache'), { recursive: true, force: true })
}

/** Runs a command in the clone, quietly; shows what it said when it fails. */
function run(command, args, env, name) {
  return new Promise((done, fail) => {
    const child = spawn(command, args, {
      cwd: root,
      env: { ...process.env, NEXT_TELEMETRY_DISABLED: '1', ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
      shell: process.platform === 'win32' && command.endsWith('.cmd'),
    })
    let said = ''
    child.stdout.on('data', (data) => (said += data))
    child.stderr.on('data', (data) => (said += data))
    child.on('error', (error) => fail(new Error(`${name} could not start: ${error.message}`)))
    child.on('exit', (code) => (code === 0 ? done() : fail(new Error(`${name} failed:\n${said.trim()}`))))
  })
}

/** True when node_modules holds every package that the lock file wants here, in the wanted version. */
function isInstalled() {
  try {
    const wanted = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages
    const had = JSON.parse(readFileSync(join(root, 'node_modules/.package-lock.json'), 'utf8')).packages
    // Optional packages are those of other machines.
    return Object.entries(wanted).every(
      ([path, { version, optional }]) => path === '' || optional || had[path]?.version === version,
    )
  } catch {
    return false
  }
}

function hashOfSources() {
  const hash = createHash('sha256').update(`${process.env.TALUS_PREFIX ?? ''}\0`)
  for (const source of sources) {
    const path = join(root, source)
    if (!existsSync(path)) continue
    const files = statSync(path).isDirectory() ? filesUnder(path) : [path]
    for (const file of files)
      hash
        .update(`${file.slice(root.length)}\0`)
        .update(readFileSync(file))
        .update('\0')
  }
  return hash.digest('hex').slice(0, 16)
}

/** All files under a folder, in one order on every machine. */
function filesUnder(folder) {
  const found = []
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name)
    if (entry.isDirectory()) found.push(...filesUnder(path))
    else if (entry.isFile()) found.push(path)
  }
  return found.sort()
}

/** Notes in the build's folder that this process runs from it, so that no later build removes it. */
export function markUsed(folder) {
  const mark = join(folder, `used-${process.pid}`)
  writeFileSync(mark, '')
  process.once('exit', () => rmSync(mark, { force: true }))
}

function removeOld(present) {
  const old = readdirSync(builds)
    .filter((name) => /^[0-9a-f]{16}$/.test(name))
    .map((name) => ({ path: join(builds, name), at: statSync(join(builds, name)).mtimeMs }))
    .filter(({ path }) => path !== present)
    .sort((a, b) => b.at - a.at)
    .slice(BUILDS_KEPT - 1)
  for (const { path } of old) {
    const isUsed = readdirSync(path).some((name) => name.startsWith('used-') && isAlive(Number(name.slice(5))))
    if (!isUsed) rmSync(path, { recursive: true, force: true })
  }
}

/** The address to import a bundled entry by. */
export const bundled = (folder, name) => pathToFileURL(join(folder, 'server', `${name}.mjs`)).href
