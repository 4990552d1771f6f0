// The few house rules that are a test, because the eye tires: which way imports go, what lib keeps away from, where Yjs
// is known, that no test is skipped, and that every rule that always holds has a test of its own. Each failure says
// where, and how to cure it.
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join, normalize, relative } from 'node:path'
import { describe, expect, test } from 'vitest'
import { root } from './kit/server.ts'

interface Source {
  readonly path: string
  readonly text: string
  /** Without comments and without what stands in quotes, line by line as before. */
  readonly code: string
  readonly imports: readonly { readonly from: string; readonly line: number }[]
}

/** What each folder of lib may import of lib, by face. */
const below: Readonly<Record<string, readonly string[]>> = {
  base: [],
  words: ['base'],
  limits: ['base', 'words'],
  rules: ['base', 'words', 'limits'],
  ops: ['base', 'words', 'limits', 'rules'],
  import: ['words', 'limits'],
  export: ['base', 'words', 'limits', 'rules'],
  joins: ['base', 'words', 'rules'],
  lineup: ['base', 'words', 'limits', 'rules'],
  forecast: ['base', 'words', 'limits', 'rules'],
  season: ['base', 'words', 'limits', 'rules', 'forecast'],
  views: ['base', 'words', 'limits', 'rules', 'lineup', 'forecast', 'season'],
  doc: ['base', 'words'],
}
/** Packages that lib may use: pure and few. */
const libPackages: Readonly<Record<string, readonly string[]>> = {
  doc: ['yjs'],
  words: ['zod'],
  import: ['csv-parse'],
  '*': ['zod'],
}
const yjsPackages = ['yjs', 'lib0', 'y-websocket', 'y-protocols', 'y-indexeddb']

const sources = ['app', 'lib', 'server', 'demo', 'tests'].flatMap((folder) => read(folder))
const inFolder = (folder: string) => sources.filter(({ path }) => path.startsWith(`${folder}/`))

describe('imports go one way', () => {
  test('inside lib only downwards, by faces', () => {
    const wrong = inFolder('lib').flatMap((source) => {
      const own = source.path.split('/')[1] ?? ''
      return source.imports.flatMap(({ from, line }) => {
        const at = `${source.path}:${line}`
        if (from.startsWith('#lib/')) {
          const other = from.slice('#lib/'.length)
          if (other.includes('/')) return `${at}: import the face #lib/${other.split('/')[0]}, not ${from}`
          if (below[own]?.includes(other)) return []
          return `${at}: ${own} may not know ${other}. Move what both need further down (${below[own]?.join(', ')}).`
        }
        if (from.startsWith('.')) {
          const target = resolved(source.path, from)
          if (target.startsWith(`lib/${own}/`)) return []
          return `${at}: ${from} leaves lib/${own}. Import the face of the other folder: #lib/…`
        }
        const allowed = [...(libPackages[own] ?? []), ...(libPackages['*'] ?? [])]
        if (allowed.includes(packageOf(from))) return []
        return `${at}: lib is pure and may not use ${from}. Take what it gives as an argument.`
      })
    })
    expect(wrong).toEqual([])
  })

  test('app and server know lib by its faces, and not each other', () => {
    const mayKnow: Readonly<Record<string, readonly string[]>> = {
      app: ['app'],
      server: ['server', 'demo/index.ts'],
      demo: ['demo'],
    }
    const wrong = Object.entries(mayKnow).flatMap(([folder, allowed]) =>
      inFolder(folder).flatMap((source) =>
        source.imports.flatMap(({ from, line }) => {
          const at = `${source.path}:${line}`
          if (from.startsWith('#lib/') && from.slice('#lib/'.length).includes('/')) {
            return `${at}: ${from} reaches behind a face. Export what you need from #lib/${from.split('/')[1]}.`
          }
          if (!from.startsWith('.')) return []
          const target = resolved(source.path, from)
          if (allowed.some((one) => target === one || target.startsWith(`${one}/`))) return []
          if (target.startsWith('lib/'))
            return `${at}: import lib by its face, #lib/${target.split('/')[1]}, not ${from}.`
          return `${at}: ${folder} may not know ${target}. What both need belongs in lib.`
        }),
      ),
    )
    expect(wrong).toEqual([])
  })

  test('Yjs is known to lib/doc, app/_board and the server alone', () => {
    const wrong = sources
      .filter(({ path }) => !/^(lib\/doc|app\/_board|server|tests)\//.test(path))
      .flatMap(({ path, imports }) =>
        imports
          .filter(({ from }) => yjsPackages.includes(packageOf(from)))
          .map(({ from, line }) => `${path}:${line}: ${from}. Screens read records through the hooks of app/_board.`),
      )
    expect(wrong).toEqual([])
  })
})

describe('lib is pure', () => {
  const impure: readonly (readonly [RegExp, string])[] = [
    [/\bDate\.now\(|\bnew Date\(\s*\)|\bperformance\./, 'the clock: take the time as an argument'],
    [/\bMath\.random\b|\bcrypto\b/, 'chance: take a Random or bytes as an argument'],
    [/\bprocess\.|\bimport\.meta\b/, 'the environment: take the setting as an argument'],
    [
      /\bsetTimeout\b|\bsetInterval\b|\bfetch\(|\blocalStorage\b|\bindexedDB\b|(?<!\.)\b(?:window|document)\./,
      'effects: they belong in server or app/_board',
    ],
    [/\bconsole\./, 'the console: answer a value and let the caller tell it'],
  ]
  test('it has no clock, chance, environment, effects or React', () => {
    const wrong = inFolder('lib').flatMap(({ path, code }) =>
      code.split('\n').flatMap((line, n) => {
        const found = impure.find(([pattern]) => pattern.test(line))
        return found ? [`${path}:${n + 1}: ${found[1]}. Found: ${line.trim()}`] : []
      }),
    )
    expect(wrong).toEqual([])
  })
})

describe('app', () => {
  test("fetches parts by later, which waits for the network; React's lazy takes the page down without one", () => {
    const wrong = inFolder('app').flatMap(({ path, code }) =>
      code
        .split('\n')
        .flatMap((line, i) => (/\blazy\(/.test(line) ? [`${path}:${i + 1}: use later (_shell/later.tsx)`] : [])),
    )
    expect(wrong).toEqual([])
  })
})

describe('tests', () => {
  test('are never skipped, singled out or left to do', () => {
    const wrong = inFolder('tests')
      .filter(({ path }) => path.endsWith('.test.ts') || path.endsWith('.test.tsx'))
      .flatMap(({ path, code }) =>
        code
          .split('\n')
          .flatMap((line, n) =>
            /\b(?:test|it|describe|suite)\.(?:skip|skipIf|runIf|only|todo)\b|\bx(?:it|test|describe)\(/.test(line)
              ? [`${path}:${n + 1}: run the test, or take it out and open an issue`]
              : [],
          ),
      )
    expect(wrong).toEqual([])
  })

  test.each(['R1', 'R2', 'R3', 'R4', 'R5', 'R6', 'R7', 'R8'])('name rule %s in a title', (rule) => {
    const titled = new RegExp(`\\b(?:test|it|describe)(?:\\.\\w+)*\\(\\s*['"\`]${rule}\\b`)
    const eached = new RegExp(`\\)\\(\\s*['"\`]${rule}\\b`)
    const found = inFolder('tests').some(({ text }) => titled.test(text) || eached.test(text))
    expect(
      found,
      `No test title starts with ${rule}. Write one in tests/ that shows the rule hold, and its edge.`,
    ).toBe(true)
  })
})

describe('types', () => {
  test('say what they mean: no any', () => {
    const wrong = sources.flatMap(({ path, code }) =>
      code
        .split('\n')
        .flatMap((line, n) =>
          /[:<|&(,]\s*any\b(?!\s*[:(=])|\bas any\b|\bany\[\]/.test(line)
            ? [`${path}:${n + 1}: take unknown and parse it, or name the type. Found: ${line.trim()}`]
            : [],
        ),
    )
    expect(wrong).toEqual([])
  })
})

function read(folder: string): Source[] {
  const full = join(root, folder)
  if (!existsSync(full)) return []
  return readdirSync(full, { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`
    if (entry.isDirectory()) return entry.name.startsWith('.') ? [] : read(path)
    return /\.(?:ts|tsx|mjs|js)$/.test(entry.name) ? [toSource(path)] : []
  })
}

function toSource(path: string): Source {
  const text = readFileSync(join(root, path), 'utf8')
  const commentless = text.replace(/\/\*[\s\S]*?\*\/|(?<![:'"`])\/\/[^\n]*/g, blank)
  const imports = [...commentless.matchAll(/(?:(?<!['"])\bfrom\s*|\bimport\s*\(?\s*)(['"])([^'"\n]+)\1/g)].map(
    (found) => ({
      from: found[2] ?? '',
      line: commentless.slice(0, found.index).split('\n').length,
    }),
  )
  return { path, text, imports, code: commentless.replace(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"/g, blank) }
}

/** The same length and lines, without the words. */
function blank(text: string): string {
  return text.replace(/[^\n]/g, ' ')
}

function resolved(path: string, from: string): string {
  return relative(root, normalize(join(root, dirname(path), from))).replaceAll('\\', '/')
}

function packageOf(from: string): string {
  const parts = from.split('/')
  return from.startsWith('@') ? parts.slice(0, 2).join('/') : (parts[0] ?? '')
}
