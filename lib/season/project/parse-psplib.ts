/**
 * PSPLIB's `.sm` (one mode) and `.mm` (several modes) files, Kolisch & Sprecher 1997, "PSPLIB – a project scheduling
 * problem library": sections under titles in capitals, activities numbered from 1 with a first and a last of no duration.
 */
import type { Project } from './project.ts'
import {
  checkHorizon,
  type Parsed,
  parsed,
  quoted,
  SIZES,
  toCount,
  toIndex,
  toNetwork,
  wordsOf,
  wrong,
} from './text.ts'

/** Reads a `.sm` or `.mm` file. */
export function parsePsplib(text: string): Parsed<Project> {
  return parsed(text, read)
}

interface Mode {
  readonly duration: number
  readonly amounts: readonly number[]
}

function read(text: string): Project {
  const lines = text.split(/\r?\n/)
  const count = headCount(lines, /^jobs\b/, 'jobs', SIZES.activities)
  if (count === 0) wrong(0, 'expected at least one job, got 0')
  const resources = headCount(lines, /^\s*- renewable/, 'renewable resources', SIZES.resources)
  const stocks = headCount(lines, /^\s*- nonrenewable/, 'nonrenewable resources', SIZES.resources)
  const doubly = headCount(lines, /^\s*- doubly constrained/, 'doubly constrained resources', SIZES.resources)
  if (doubly > 0) wrong(0, 'expected no doubly constrained resources: these are not read')
  const width = resources + stocks
  const arcs = readArcs(lines, count)
  const modes = readModes(lines, count, width)
  const at = section(lines, /^RESOURCEAVAILABILITIES/) + 1
  const there = wordsOf(lines[at] ?? '')
  const amounts = Array.from({ length: width }, (_, r) => toCount(there[r], at + 1, 'an availability'))
  const first = section(lines, /^REQUESTS\/DURATIONS/)
  const all = modes.flat()
  modes.forEach((its, a) => {
    for (let r = 0; r < resources; r++) {
      const most = amounts[r] ?? 0
      if (its.every((mode) => (mode.amounts[r] ?? 0) > most)) {
        wrong(
          first + 1,
          `expected job ${a + 1} to need at most ${most} of R ${r + 1}, but each of its modes needs more`,
        )
      }
    }
  })
  checkHorizon(
    modes.map((its) => Math.max(...its.map((mode) => mode.duration))),
    first + 1,
  )
  const modeFrom = new Int32Array(count + 1)
  modes.forEach((its, a) => {
    modeFrom[a + 1] = (modeFrom[a] ?? 0) + its.length
  })
  return {
    kind: 'project',
    activities: count,
    followers: toNetwork(count, arcs, section(lines, /^PRECEDENCE RELATIONS/) + 1),
    modeFrom,
    duration: Int32Array.from(all, (mode) => mode.duration),
    capacity: Int32Array.from(amounts.slice(0, resources)),
    use: Int32Array.from(all.flatMap((mode) => mode.amounts.slice(0, resources))),
    stock: Int32Array.from(amounts.slice(resources)),
    spend: Int32Array.from(all.flatMap((mode) => mode.amounts.slice(resources))),
  }
}

function headCount(lines: readonly string[], label: RegExp, what: string, most: number): number {
  const at = lines.findIndex((line) => label.test(line))
  if (at < 0) wrong(0, `expected a line with the number of ${what}`)
  return toCount(wordsOf(lines[at]?.split(':')[1] ?? '')[0], at + 1, `the number of ${what}`, most)
}

/** The line of the column titles under a section's title. */
function section(lines: readonly string[], title: RegExp): number {
  const at = lines.findIndex((line) => title.test(line))
  return at < 0 ? wrong(0, `expected a section ${String(title).slice(2, -1).replace('\\', '')}`) : at + 1
}

function readArcs(lines: readonly string[], count: number): readonly (readonly [number, number])[] {
  const first = section(lines, /^PRECEDENCE RELATIONS/) + 1
  return Array.from({ length: count }, (_, a) => {
    const line = first + a
    const [job, , successors, ...named] = wordsOf(lines[line] ?? '')
    if (job !== String(a + 1)) wrong(line + 1, `expected the successors of job ${a + 1}, got ${quoted(job)}`)
    const many = toCount(successors, line + 1, 'the number of successors', count)
    if (named.length !== many) wrong(line + 1, `expected ${many} successors, got ${named.length}`)
    return named.map((word) => [a, toIndex(word, line + 1, 'a successor', count)] as const)
  }).flat()
}

function readModes(lines: readonly string[], count: number, width: number): readonly (readonly Mode[])[] {
  const modes: Mode[][] = Array.from({ length: count }, () => [])
  let job = -1
  let line = section(lines, /^REQUESTS\/DURATIONS/) + 2
  let total = 0
  for (; line <= lines.length && !/^\*/.test(lines[line - 1] ?? '*'); line++) {
    const words = wordsOf(lines[line - 1] ?? '')
    if (words.length === 0 || /^-+$/.test(words[0] ?? '')) continue
    // The first mode of a job carries the job's number before its own.
    const isFirst = words.length === width + 3
    if (isFirst) {
      job++
      if (words[0] !== String(job + 1)) wrong(line, `expected job ${job + 1}, got ${quoted(words[0])}`)
    } else if (words.length !== width + 2) {
      wrong(line, `expected a mode, a duration and ${width} amounts, got ${words.length} numbers`)
    }
    const its = modes[job]
    if (its === undefined) return wrong(line, `expected a mode of one of ${count} jobs`)
    if (++total > SIZES.modes) wrong(line, `expected at most ${SIZES.modes} modes`)
    const [mode, duration, ...amounts] = words.slice(isFirst ? 1 : 0)
    if (mode !== String(its.length + 1))
      wrong(line, `expected mode ${its.length + 1} of job ${job + 1}, got ${quoted(mode)}`)
    its.push({
      duration: toCount(duration, line, 'a duration', SIZES.horizon),
      amounts: amounts.map((word) => toCount(word, line, 'an amount')),
    })
  }
  const without = modes.findIndex((its) => its.length === 0)
  if (without >= 0) wrong(line, `expected modes of all ${count} jobs, got none of job ${without + 1}`)
  return modes
}
