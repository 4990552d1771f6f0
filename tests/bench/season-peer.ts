/**
 * The peer of the season bench: Debian's minizinc with gecode on the plain model of the same project (starts, precedence,
 * one cumulative a resource). Debian's `globals.mzn` does not load, so `cumulative.mzn` is included alone.
 */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Project, parsePsplib } from '#lib/season'

export function hasMinizinc(): boolean {
  return spawnSync('minizinc', ['--version']).status === 0
}

/** The best length found in so many seconds, or null. */
export function solveByMinizinc(file: string, seconds: number): number | null {
  const read = parsePsplib(readFileSync(file, 'utf8'))
  if (!read.isGood) return null
  const folder = mkdtempSync(join(tmpdir(), 'talus-season-'))
  try {
    const path = join(folder, 'project.mzn')
    writeFileSync(path, modelOf(read.value))
    const ran = spawnSync('minizinc', ['--solver', 'gecode', '-a', '--time-limit', String(seconds * 1000), path], {
      encoding: 'utf8',
      timeout: (seconds + 20) * 1000,
    })
    const lengths = [...(ran.stdout ?? '').matchAll(/length (\d+)/g)].map((found) => Number(found[1]))
    return lengths.length > 0 ? Math.min(...lengths) : null
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

function modelOf({ activities, followers, duration, capacity, use }: Project): string {
  const horizon = duration.reduce((sum, lasts) => sum + lasts, 0)
  const lines = [
    'include "cumulative.mzn";',
    `array[1..${activities}] of var 0..${horizon}: s;`,
    `var 0..${horizon}: length;`,
  ]
  for (let a = 0; a < activities; a++) {
    lines.push(`constraint s[${a + 1}] + ${duration[a]} <= length;`)
    for (let i = followers.from[a] ?? 0; i < (followers.from[a + 1] ?? 0); i++) {
      lines.push(`constraint s[${a + 1}] + ${duration[a]} <= s[${(followers.next[i] ?? 0) + 1}];`)
    }
  }
  for (let r = 0; r < capacity.length; r++) {
    const needs = Array.from(duration, (_, a) => use[a * capacity.length + r] ?? 0)
    lines.push(`constraint cumulative(s, [${duration.join(',')}], [${needs.join(',')}], ${capacity[r]});`)
  }
  lines.push('solve :: int_search(s, smallest, indomain_min) minimize length;', 'output ["length \\(length)\\n"];')
  return lines.join('\n')
}
