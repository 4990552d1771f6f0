// Breaks the code on purpose, one guarantee at a time, in a copy, and lets random histories look for it. A break that
// nobody notices means that the histories prove nothing about that guarantee.
import { spawn } from 'node:child_process'
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { mutations } from './mutations.ts'

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))))

/** The text of a file with a mutation in it; throws when the place is not there, or not once. */
export function mutated(text: string, from: string, to: string, file: string): string {
  if (text.split(from).length !== 2)
    throw new Error(`${file} has not once: ${from}. Bring tests/sim/mutations.ts in step.`)
  return text.replace(from, () => to)
}

/** Tries all whose name has `only` in it; returns the exit code. */
export async function runMutations(runs: number, only: string): Promise<number> {
  const tried = mutations.filter(({ name }) => name.includes(only))
  const unseen: string[] = []
  for (const { name, patches } of tried) {
    const copy = mkdtempSync(join(tmpdir(), 'talus-broken-'))
    try {
      for (const folder of ['app', 'lib', 'server', 'tests', 'demo', 'package.json', 'tsconfig.json'])
        cpSync(join(root, folder), join(copy, folder), { recursive: true })
      symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'))
      for (const { file, from, to } of patches) {
        const path = join(copy, file)
        writeFileSync(path, mutated(readFileSync(path, 'utf8'), from, to, file))
      }
      const { code, last } = await histories(copy, runs)
      console.error(`${code === 0 ? 'NOT NOTICED' : 'noticed'}: ${name} ${last}`)
      if (code === 0) unseen.push(name)
    } finally {
      rmSync(copy, { recursive: true, force: true })
    }
  }
  console.log(JSON.stringify({ mutations: tried.length, noticed: tried.length - unseen.length, unseen }))
  return unseen.length > 0 ? 1 : 0
}

function histories(folder: string, runs: number): Promise<{ code: number | null; last: string }> {
  const script = `
    import { register } from 'tsx/esm/api'
    register()
    const { playMany } = await import('./tests/sim/cli.ts')
    const { line, failed } = await playMany(1, ${runs}, undefined, true)
    console.log(JSON.stringify({ ...line, faults: undefined }))
    process.exit(failed.length > 0 ? 1 : 0)`
  return new Promise((resolve) => {
    const child = spawn(process.execPath, ['--input-type=module', '-e', script], { cwd: folder })
    let [said, wrong] = ['', '']
    child.stdout.on('data', (part) => {
      said += part
    })
    child.stderr.on('data', (part) => {
      wrong += part
    })
    child.on('close', (code) => resolve({ code, last: said.trim().split('\n').at(-1) || wrong.trim().slice(0, 400) }))
  })
}
