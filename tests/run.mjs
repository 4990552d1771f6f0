// `npm test`, and the commands that measure. Plain JavaScript, since on a fresh clone nothing is installed yet. The whole
// run checks form and types, unit tests, the build, and the real thing in a real browser; it counts all of them and its
// last line says `N passed, N failed`. What cannot run is a failure that names its cure, never a silent skip.
import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join, relative } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build, install, root } from '../server/prepare.mjs'
import { findChromium } from './chromium.mjs'
import { countOf, isBad, saidOf } from './report.mjs'

const out = join(root, 'tests/.out')
/** Files that fail and are worth a second run; where more fail, something is broken. */
const FEW = 3
// Bench, solve and figure keep standard output for what they print themselves.
const say = (line) => console.error(line)
const bin = (name) => join(root, 'node_modules/.bin', name)

const commands = {
  all: testAll,
  unit: (filters) => testSome(() => vitest('unit tests', 'tests/vitest.config.ts', filters)),
  e2e: (filters) => testSome(() => inBrowser(filters)),
  bench: ([name = '', ...args]) => runFile(`tests/bench/${name}.ts`, args),
  solve: (args) => runFile('tests/solve/cli.ts', args),
  history: (args) => runFile('tests/sim/cli.ts', args),
  hostile: (args) => runBuilt('tests/hostile/cli.ts', args),
  faults: (args) => runBuilt('tests/faults/cli.ts', args),
  figure: (args) => runFile('tests/figure/cli.ts', args),
  picture: async () => {
    await install(say)
    process.env.TALUS_CHROMIUM = await findChromium(say)
    await runFile('tests/picture.ts', [])
  },
}

const [command = 'all', ...args] = process.argv.slice(2)
const run = Object.hasOwn(commands, command) ? commands[command] : null
if (run) await run(args)
else {
  say(`npm test expects nothing, unit FILTER or e2e FILTER; got ${command}.`)
  process.exitCode = 1
}

async function testAll() {
  await testSome(async () => [
    await check('form', bin('biome'), ['check', '.']),
    await check('types', bin('tsc'), ['--noEmit']),
    await vitest('unit tests', 'tests/vitest.config.ts', []),
    await inBrowser([]),
  ])
}

/** Runs parts of the tests and ends with the count. */
async function testSome(parts) {
  const began = Date.now()
  let counts
  try {
    await install(say)
    rmSync(out, { recursive: true, force: true })
    mkdirSync(out, { recursive: true })
    counts = [await parts()].flat()
  } catch (error) {
    console.error(error.message)
    counts = [{ passed: 0, failed: 1 }]
  }
  const passed = counts.reduce((sum, count) => sum + count.passed, 0)
  const failed = counts.reduce((sum, count) => sum + count.failed, 0)
  // Once more at the end, since of a long run often the last page alone is kept.
  for (const line of counts.flatMap((count) => count.lines ?? [])) console.log(line)
  console.log(`${((Date.now() - began) / 1000).toFixed(0)} s`)
  console.log(`${passed} passed, ${failed} failed`)
  process.exitCode = failed > 0 || passed === 0 ? 1 : 0
}

/** A check without tests of its own counts as one. */
async function check(name, tool, toolArgs) {
  const isGood = (await start(tool, toolArgs)) === 0
  console.log(`${isGood ? 'good' : 'BAD'}: ${name}`)
  const lines = isGood ? [] : [`FAILED ${name}: npm run check says what`]
  return { passed: isGood ? 1 : 0, failed: isGood ? 0 : 1, lines }
}

async function inBrowser(filters) {
  const chromium = await findChromium(say)
  await build(say)
  return vitest('browser tests', 'tests/e2e/vitest.config.ts', filters, { TALUS_CHROMIUM: chromium })
}

/**
 * Runs vitest and counts. Where a few files fail, each runs once more with nothing beside it, and the second run counts:
 * chance has one seed, so what passes then failed for want of the machine. It is said, and never passed over in silence.
 */
async function vitest(name, config, filters, env = {}) {
  const first = await runVitest(name, config, filters, env)
  const again = first.files.filter(isBad).map(({ name: file }) => file)
  const isFew = again.length > 0 && again.length <= FEW
  if (isFew) say(`${name}: once more, alone: ${again.map((file) => relative(root, file)).join(', ')}`)
  const second = isFew ? await runVitest(`${name} alone`, config, [...again, '--no-file-parallelism'], env) : null
  const files = second ? [...first.files.filter((file) => !isBad(file)), ...second.files] : first.files
  const { passed, failed } = countOf(files, (second ?? first).code)
  console.log(`${failed === 0 ? 'good' : 'BAD'}: ${name}, ${passed} passed, ${failed} failed`)
  const atFirst = second ? saidOf('FAILED AT FIRST', first.files) : []
  return { passed, failed, lines: [...atFirst, ...saidOf('FAILED', files)] }
}

async function runVitest(name, config, filters, env) {
  const report = join(out, `${name.replaceAll(' ', '-')}.json`)
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`]
  const code = await start(bin('vitest'), ['run', '--config', config, ...reporters, ...filters], env)
  return { code, files: existsSync(report) ? JSON.parse(readFileSync(report, 'utf8')).testResults : [] }
}

/** The same, of a file that starts the built server. */
async function runBuilt(path, fileArgs) {
  await install(say)
  await build(say)
  await runFile(path, fileArgs)
}

/** Runs a TypeScript file's `run(args)` in this process. */
async function runFile(path, fileArgs) {
  try {
    await install(say)
    const file = join(root, path)
    if (!existsSync(file)) throw new Error(`There is no ${path}.`)
    const { register } = await import('tsx/esm/api')
    register()
    const { run: runIt } = await import(pathToFileURL(file).href)
    const code = await runIt(fileArgs)
    if (typeof code === 'number') process.exitCode = code
  } catch (error) {
    console.error(error.stack ?? error)
    process.exitCode = 1
  }
}

function start(tool, toolArgs, env = {}) {
  return new Promise((done) => {
    const child = spawn(tool, toolArgs, {
      cwd: root,
      env: { ...process.env, NEXT_TELEMETRY_DISABLED: '1', ...env },
      stdio: 'inherit',
      shell: process.platform === 'win32',
    })
    child.on('error', (error) => {
      say(`${tool} could not start: ${error.message}`)
      done(1)
    })
    child.on('exit', (code) => done(code ?? 1))
  })
}
