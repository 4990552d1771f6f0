// Published project files are read as they are; a file that is not one is refused with the line and never crashes.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { parsePsplib } from '#lib/season'
import { root } from '../../kit/server.ts'

const folder = join(root, 'tests/data/psplib')
const textOf = (name: string) => readFileSync(join(folder, name), 'utf8')

test('S every PSPLIB file in tests/data is read, with the sizes its set is named for', () => {
  const sizes = { j30: 32, j60: 62, j120: 122, j30mm: 32 }
  for (const [set, activities] of Object.entries(sizes)) {
    for (const file of readdirSync(join(folder, set))) {
      const read = parsePsplib(textOf(`${set}/${file}`))
      expect(read.isGood && [read.value.activities, read.value.stock.length]).toEqual([
        activities,
        set === 'j30mm' ? 2 : 0,
      ])
    }
  }
})

test('S the numbers of j301_1 are those that stand in the file', () => {
  const read = parsePsplib(textOf('j30/j301_1.sm'))
  if (!read.isGood) throw new Error(read.fault.message)
  const { followers, duration, use, capacity } = read.value
  expect([...capacity]).toEqual([12, 13, 4, 12])
  expect([...followers.next.slice(0, 6)]).toEqual([1, 2, 3, 5, 10, 14])
  expect([duration[1], use[4], duration[7], use[29]]).toEqual([8, 4, 9, 1])
})

/** The file with the line of one job, in one section, put otherwise. */
function changed(section: string, job: number, line: string): { readonly text: string; readonly line: number } {
  const lines = textOf('j30/j301_1.sm').split('\n')
  const from = lines.findIndex((one) => one.startsWith(section))
  const at = lines.findIndex((one, n) => n > from && one.trim().split(/\s+/)[0] === String(job))
  lines[at] = line
  return { text: lines.join('\n'), line: at + 1 }
}

test.each([
  ['PRECEDENCE', 12, '12 1 1 99', 'a successor from 1 to 32'],
  ['PRECEDENCE', 12, '12 1 2 14', '2 successors, got 1'],
  ['PRECEDENCE', 12, '13 1 1 14', 'the successors of job 12'],
  ['REQUESTS', 3, '3 1 4 ten 0 0 0', 'an amount, a whole number, got "ten"'],
  ['REQUESTS', 3, '3 1 4 10 0', 'a mode, a duration and 4 amounts'],
  ['REQUESTS', 3, '3 1 4 10 0 0', 'mode 2 of job 2'],
])('S a wrong line is named: %s of job %i as %s', (section, job, put, message) => {
  const { text, line } = changed(section, job, put)
  const read = parsePsplib(text)
  expect(read.isGood ? null : read.fault.line).toBe(line)
  expect(read.isGood ? null : read.fault.message).toContain(message)
})

test.each([
  ['REQUESTS', 3, '3 1 4 99 0 0 0', 'needs more'],
  ['PRECEDENCE', 32, '32 1 1 1', 'wait for themselves'],
])('S what no schedule can keep is refused: %s of job %i as %s', (section, job, put, message) => {
  const read = parsePsplib(changed(section, job, put).text)
  expect(read.isGood ? null : read.fault.message).toContain(message)
})

test('S damaged files are refused or read, never a crash', () => {
  const text = textOf('j30/j301_1.sm')
  fc.assert(
    fc.property(fc.nat(text.length), fc.nat(60), fc.string({ maxLength: 12 }), (start, cut, put) => {
      const read = parsePsplib(text.slice(0, start) + put + text.slice(start + cut))
      return read.isGood || (read.fault.line >= 0 && read.fault.message.startsWith('expected'))
    }),
    { numRuns: 1000, seed: 4 },
  )
})
