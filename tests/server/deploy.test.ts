// What stands in server/deploy speaks of settings, files and ports that there are.
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { options } from '../../server/options.mjs'
import { readSettings } from '../../server/settings.ts'
import { root } from '../kit/server.ts'

const folder = join(root, 'server/deploy')
const files = readdirSync(folder).map((name) => ({ name, text: readFileSync(join(folder, name), 'utf8') }))
/** Of the deployment itself, not of Talus. */
const own = ['TALUS_NAME', 'TALUS_TLS']

it('names no setting that Talus does not know', () => {
  const known = options.flatMap(({ env }) => env ?? [])
  const named = new Set(files.flatMap(({ text }) => text.match(/TALUS_[A-Z]+/g) ?? []))
  expect([...named].filter((name) => !known.includes(name) && !own.includes(name))).toEqual([])
  // So that the list above is known to find.
  expect(named.has('TALUS_STORE')).toBe(true)
})

it('the compose file gives its processes settings that Talus takes', () => {
  const compose = files.find(({ name }) => name === 'compose.yaml')?.text ?? ''
  const env = Object.fromEntries(
    [...compose.matchAll(/^ +(TALUS_\w+): (\S+)$/gm)].map(([, name, value]) => [name, value]),
  )
  const { store, address, isProxy } = readSettings([], { ...env, TALUS_HOSTS: 'talus.example' }, root)
  expect(store).toMatchObject({ kind: 'postgres' })
  expect(address).toMatch(/^http:\/\/(one|two):3000$/)
  expect(isProxy('172.30.7.3')).toBe(true)
})

it('names no file of the clone that is not there', () => {
  const paths = files.flatMap(
    ({ text }) => text.match(/server\/[\w./-]+\.(mjs|yaml|conf|service)|server\/deploy\/Dockerfile/g) ?? [],
  )
  expect(paths.length).toBeGreaterThan(3)
  expect(paths.filter((path) => !existsSync(join(root, path)))).toEqual([])
})

it('has the commands that it calls', () => {
  const commands = files.flatMap(({ text }) => [...text.matchAll(/server\/start\.mjs (\w+)/g)].map(([, name]) => name))
  const start = readFileSync(join(root, 'server/start.mjs'), 'utf8')
  expect(commands).toContain('build')
  for (const name of commands) expect(start).toContain(`'${name}'`)
})
