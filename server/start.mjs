// Starts Talus from a fresh clone with nothing but Node: installs, builds when stale, then becomes the server, in this
// same process. Plain JavaScript that an old Node can still read far enough to say what is wrong.
const [major, minor] = process.versions.node.split('.').map(Number)
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(`Talus needs Node 20.19 or newer; this is ${process.versions.node}.`)
  process.exit(1)
}

const args = process.argv.slice(2)
const commands = ['backup', 'restore', 'log', 'export', 'import', 'move', 'found', 'labs', 'invite', 'build']
const command = commands.includes(args[0]) ? args.shift() : 'serve'
const { helpText, prefixOf } = await import('./options.mjs')

if (args.includes('--help') || args.includes('-h')) {
  process.stdout.write(helpText())
} else {
  try {
    await start()
  } catch (error) {
    console.error(error.message)
    process.exit(1)
  }
}

/**
 * npm hands a signal to the shell it started us with, and some shells end without handing it on (dash), so the server
 * would live on unseen. `exec` in the script would do, but not on every system: instead, a shell that is gone counts as
 * the signal.
 */
function endWithNpm() {
  if (!process.env.npm_lifecycle_event || process.platform === 'win32') return
  const shell = process.ppid
  const watch = setInterval(() => {
    if (process.ppid === shell) return
    clearInterval(watch)
    process.kill(process.pid, 'SIGTERM')
  }, 250)
  watch.unref()
}

async function start() {
  // For whatever of ours reads it from here on: the build, Next's own settings, development.
  process.env.TALUS_PREFIX = prefixOf(args, process.env)
  const { bundled, build, install, markUsed, root } = await import('./prepare.mjs')
  const say = (line) => console.error(line)
  await install(say)
  process.setSourceMapsEnabled(true)
  endWithNpm()
  if (args.includes('--dev')) {
    const { develop } = await import('./dev.mjs')
    await develop(args)
    return
  }
  const folder = await build(say)
  if (command === 'build') return
  markUsed(folder)
  process.env.NODE_ENV = 'production'
  process.env.NEXT_TELEMETRY_DISABLED = '1'
  process.env.TALUS_PAGES = `${folder.slice(root.length + 1)}/pages`
  if (command === 'serve') {
    const { main } = await import(bundled(folder, 'main'))
    await main({ args, root, build: folder.slice(-16), isDev: false })
  } else {
    const { runErrand } = await import(bundled(folder, 'errands'))
    await runErrand(command, args, { root, build: folder.slice(-16) })
  }
}
