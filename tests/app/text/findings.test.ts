// Every code that anybody can be refused with has a sentence, and every sentence keeps the tone: plain, no alarm,
// no thanks, never a promise that something is safe.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { kinds, noRecords } from '#lib/words'
import { actSentences } from '../../../app/_text/findings/acts.ts'
import { ruleSentences } from '../../../app/_text/findings/rules.ts'
import { sessionSentences } from '../../../app/_text/findings/session.ts'
import { hasSentence, sayFinding, sayFindings } from '../../../app/_text/index.ts'

const root = join(import.meta.dirname, '../../..')

function sources(folder: string): readonly string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => readFileSync(join(root, folder, name), 'utf8'))
}

const statesOf = {
  step: ['waiting', 'begun', 'done', 'dropped'],
  due: kinds.due.shape.state.options,
  jacket: kinds.jacket.shape.state.options,
  work: kinds.work.shape.state.options,
} as const

/** Codes as the source writes them: after a rule's id, by `unknown`, or chosen just before. */
function codesIn(source: string): readonly string[] {
  const codes: string[] = []
  for (const [, code = ''] of source.matchAll(/'(?:R[1-8]|O)',\s*'([a-z][^']*)'/g)) codes.push(code)
  for (const [, what = ''] of source.matchAll(/unknown\('([a-z]+)'/gi)) codes.push(`unknown-${what}`)
  for (const [, what = ''] of source.matchAll(/'(?:R[1-8]|O)',\s*`(\w+)-\$\{[\w.]+state\}`/g)) {
    const states = Object.hasOwn(statesOf, what) ? statesOf[what as keyof typeof statesOf] : ['no such kind of state']
    codes.push(...states.map((state) => `${what}-${state}`))
  }
  for (const [, choice = ''] of source.matchAll(/'(?:R[1-8]|O)',\s*([^'`][^,]*),/g)) codes.push(...literals(choice))
  for (const [, choice = ''] of source.matchAll(/const code =([^\n]+(?:\n\s+[?:][^\n]+)*)/g)) {
    codes.push(...literals(choice))
  }
  return codes
}

const literals = (text: string): readonly string[] =>
  [...text.matchAll(/[?:] '([a-z0-9-]+)'/g)].map(([, code = '']) => code)

describe('sentences for findings', () => {
  const codes = new Set(['lib', 'server', 'app/_board'].flatMap(sources).flatMap(codesIn))

  it('reads the codes from the source', () => {
    for (const known of [
      'seat-taken',
      'mentor-full',
      'lab-closed',
      'needs-level-3',
      'unknown-work',
      'due-met',
      'not-open',
    ]) {
      expect(codes).toContain(known)
    }
  })

  it('every code has a sentence', () => {
    expect([...codes].filter((code) => !hasSentence(code))).toEqual([])
  })

  const all = { ...ruleSentences, ...actSentences, ...sessionSentences }
  it.each(Object.keys(all))('%s is plain and ends in a full stop, with nothing known', (code) => {
    const said = sayFinding({ rule: 'O', code, ids: {}, numbers: {} }, noRecords())
    expect(said).toMatch(/^[\p{Lu}“\d].*\.$/u)
    expect(said).not.toMatch(/undefined|NaN|null|!|\bplease\b|\bsafe\b|\bsorry\b|\$\{|Invalid/i)
  })

  it('no code stands in two tables', () => {
    const count = [ruleSentences, actSentences, sessionSentences].reduce((sum, one) => sum + Object.keys(one).length, 0)
    expect(Object.keys(all)).toHaveLength(count)
  })

  it('a code nobody foresaw still says something, and the same sentence is said once', () => {
    const odd = { rule: 'O', code: 'constructor', ids: {}, numbers: {} } as const
    expect(sayFindings([odd, odd], noRecords())).toBe('This cannot be done as things stand (constructor).')
  })
})
