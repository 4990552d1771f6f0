/**
 * Job-shop text: the numbers of jobs and machines, then a line a job with pairs of machine (from 0) and duration
 * (Fisher & Thompson 1963, Lawrence 1984 and others in the usual layout). Lines that begin with # are comments.
 */
import { at } from '#lib/base'
import type { JobShop } from './project.ts'
import { checkHorizon, type Parsed, parsed, SIZES, toCount, wordsOf, wrong } from './text.ts'

/** Reads a job shop. */
export function parseShop(text: string): Parsed<JobShop> {
  return parsed(text, read)
}

function read(text: string): JobShop {
  const lines = text
    .split(/\r?\n/)
    .map((line, n) => ({ words: wordsOf(line), line: n + 1 }))
    .filter(({ words }) => words.length > 0 && !words[0]?.startsWith('#'))
  const head = lines[0]
  if (head === undefined) return wrong(0, 'expected the numbers of jobs and machines, got nothing')
  if (head.words.length !== 2)
    wrong(head.line, `expected the numbers of jobs and machines, got ${head.words.length} words`)
  const jobs = toCount(head.words[0], head.line, 'the number of jobs', SIZES.activities)
  const machines = toCount(head.words[1], head.line, 'the number of machines', SIZES.resources)
  if (jobs < 1 || machines < 1) wrong(head.line, 'expected at least one job and one machine')
  if (lines.length !== jobs + 1) wrong(lines.at(-1)?.line ?? 0, `expected ${jobs} jobs, got ${lines.length - 1}`)
  const jobFrom = new Int32Array(jobs + 1)
  const machine: number[] = []
  const duration: number[] = []
  lines.slice(1).forEach(({ words, line }, j) => {
    if (words.length % 2 !== 0) wrong(line, 'expected pairs of machine and duration, got an odd number of words')
    for (let i = 0; i < words.length; i += 2) {
      machine.push(toCount(words[i], line, 'a machine', machines - 1))
      duration.push(toCount(words[i + 1], line, 'a duration'))
    }
    jobFrom[j + 1] = at(jobFrom, j) + words.length / 2
    if (machine.length > SIZES.modes) wrong(line, `expected at most ${SIZES.modes} operations`)
  })
  checkHorizon(duration, 1)
  return {
    kind: 'shop',
    jobs,
    machines,
    jobFrom,
    machine: Int32Array.from(machine),
    duration: Int32Array.from(duration),
  }
}
