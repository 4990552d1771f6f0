// Names, folders and schemas of the labs of one installation.
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import {
  hasLab,
  isLabName,
  keptIn,
  labsOf,
  makeInstallation,
  nameAmongOthers,
  nameFrom,
  schemaOf,
} from '../../server/installation.ts'
import { dataFile } from '../../server/store/sql/open.ts'
import { dataFolder } from '../kit/store-worker.ts'

const domains = ['talus.example', 'localhost']
const database = { kind: 'postgres', url: 'postgres://talus@db.example/talus' } as const
const file = { kind: 'libsql' } as const

describe('the name of a lab', () => {
  it.each([
    ['west.talus.example', 'west'],
    ['West.Talus.Example.', 'west'],
    ['west-wing-2.localhost', 'west-wing-2'],
    // Neither the installation's own name, nor one below a lab's, nor anybody else's.
    ['talus.example', null],
    ['localhost', null],
    ['a.west.talus.example', null],
    ['west.elsewhere.example', null],
    ['westtalus.example', null],
    ['west.talus.example.evil.example', null],
    ['127.0.0.1', null],
    ['', null],
    // What would lead out of the folder, or to a folder that is no lab.
    ['...talus.example', null],
    ['%2e%2e.talus.example', null],
    ['.founding-x.talus.example', null],
    ['xn--west.talus.example', null],
    [`${'a'.repeat(31)}.talus.example`, null],
  ])('%s stands for %s', (host, name) => {
    expect(nameFrom(host, domains)).toBe(name)
  })

  it('is never a way out of the folder, whatever a request says', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 40 }), (text) => {
        const name = nameFrom(`${text}.localhost`, domains)
        expect(name === null || (isLabName(name) && !/[/\\._%]/.test(name))).toBe(true)
      }),
      { numRuns: 2000 },
    )
  })
})

test('a folder becomes an installation only when it is empty, and holds labs by name alone', () => {
  const root = dataFolder()
  const other = join(root, 'other')
  mkdirSync(join(other, 'photos'), { recursive: true })
  expect(makeInstallation(other)).toBe(false)
  const labs = join(root, 'labs')
  expect([makeInstallation(labs), makeInstallation(labs)]).toEqual([true, true])
  for (const name of ['west', 'east', '.founding-1', 'Not a lab']) mkdirSync(join(labs, name))
  writeFileSync(dataFile(join(labs, 'west')), '')
  expect(labsOf(labs)).toEqual(['east', 'west'])
  expect(['west', 'east', 'north', '../other', '.founding-1'].map((name) => hasLab(labs, name, file))).toEqual([
    ...[true, false, false, false, false],
  ])
  expect(hasLab(labs, 'east', database)).toBe(true)
  expect([nameAmongOthers(join(labs, 'west')), nameAmongOthers(join(other, 'photos'))]).toEqual(['west', null])
})

test('each lab is kept by itself: in its folder while it has a file, else in a schema that no other has', () => {
  const labs = join(dataFolder(), 'labs')
  makeInstallation(labs)
  for (const name of ['west', 'east']) mkdirSync(join(labs, name))
  writeFileSync(dataFile(join(labs, 'west')), '')
  expect(keptIn(join(labs, 'west'), database)).toEqual(file)
  expect(keptIn(join(labs, 'east'), database)).toEqual(database)
  // A lab by itself is where the settings say, as ever.
  const alone = dataFolder()
  writeFileSync(dataFile(alone), '')
  expect([keptIn(alone, database), schemaOf(alone)]).toEqual([database, 'talus'])
  const names = ['a-b', 'ab', 'a-b-c', 'a1', 'a-1']
  const schemas = names.map((name) => schemaOf(join(labs, name)))
  expect(schemas[0]).toBe('talus_lab_a_b')
  expect(new Set(schemas).size).toBe(names.length)
})
