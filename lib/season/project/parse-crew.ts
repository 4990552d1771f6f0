/**
 * Projects with a crew: the MiniZinc data (`.dzn`) of Young, Feydy & Schutt 2017 (nActs, dur, nSkills, sreq, nResources,
 * mastery, pred, succ) and iMOPSE's `.def` (Myszkowski et al. 2015), where a task wants one person with a skill at a
 * level or above, so that each pair of skill and level that is asked for counts as a skill of its own.
 */
import type { CrewProject } from './project.ts'
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

/** Reads a `.dzn` file. */
export function parseCrewData(text: string): Parsed<CrewProject> {
  return parsed(text, readData)
}

/** Reads a `.def` file. */
export function parseCrewTasks(text: string): Parsed<CrewProject> {
  return parsed(text, readTasks)
}

function readData(text: string): CrewProject {
  const plain = text.replace(/%[^\n]*/g, '')
  const items = new Map<string, { readonly body: string; readonly line: number }>()
  for (const found of plain.matchAll(/([A-Za-z_]\w*)\s*=\s*([^;]*);/g)) {
    items.set(found[1] ?? '', { body: found[2] ?? '', line: plain.slice(0, found.index).split('\n').length })
  }
  const item = (name: string) => items.get(name) ?? wrong(0, `expected ${name} = …;`)
  const one = (name: string, most: number): number => {
    const { body, line } = item(name)
    return toCount(body.trim(), line, name, most)
  }
  const table = (name: string, length: number): readonly string[] => {
    const { body, line } = item(name)
    const words = body
      .replace(/[[\]|]/g, ' ')
      .split(',')
      .map((word) => word.trim())
      .filter((word) => word !== '')
    return words.length === length ? words : wrong(line, `expected ${length} entries in ${name}, got ${words.length}`)
  }
  const activities = one('nActs', SIZES.activities)
  const skills = one('nSkills', SIZES.resources)
  const people = one('nResources', SIZES.resources)
  if (activities < 1) wrong(item('nActs').line, 'expected at least one activity')
  const numbers = (name: string, length: number): number[] =>
    table(name, length).map((word) => toCount(word, item(name).line, `an entry of ${name}`))
  const has = table('mastery', people * skills).map((word) => {
    if (word !== 'true' && word !== 'false') wrong(item('mastery').line, `expected true or false, got ${quoted(word)}`)
    return word === 'true' ? 1 : 0
  })
  const arcs = one('nPrecs', SIZES.modes)
  const ends = (name: string) => table(name, arcs).map((word) => toIndex(word, item(name).line, name, activities))
  const after = ends('succ')
  return toCrew(
    {
      activities,
      skills,
      people,
      duration: numbers('dur', activities),
      need: numbers('sreq', activities * skills),
      has,
      arcs: ends('pred').map((a, i) => [a, after[i] ?? 0] as const),
    },
    item('sreq').line,
  )
}

function readTasks(text: string): CrewProject {
  const lines = text.split(/\r?\n/)
  const rows = (title: RegExp) => {
    const at = lines.findIndex((line) => title.test(line))
    if (at < 0) wrong(0, `expected a table that begins with ${String(title).slice(2, -1)}`)
    const end = lines.findIndex((line, n) => n > at && /^=/.test(line))
    const last = end < 0 ? lines.length : end
    return lines
      .slice(at + 1, last)
      .map((line, n) => ({ line: at + n + 2, words: wordsOf(line) }))
      .filter(({ words }) => words.length > 0)
  }
  const workers = rows(/^ResourceID/)
  const tasks = rows(/^TaskID/)
  if (tasks.length === 0 || tasks.length > SIZES.activities) wrong(0, `expected 1 to ${SIZES.activities} tasks`)
  if (workers.length > SIZES.resources) wrong(0, `expected at most ${SIZES.resources} resources`)
  const levels = workers.map(({ words, line }) => new Map(pairs(words.slice(2), line)))
  const kinds = new Map<string, { readonly name: string; readonly level: number }>()
  const arcs: (readonly [number, number])[] = []
  const asked = tasks.map(({ words, line }, a) => {
    if (words[0] !== String(a + 1)) wrong(line, `expected task ${a + 1}, got ${quoted(words[0])}`)
    const [pair] = pairs(words.slice(2, 4), line)
    if (pair === undefined) return wrong(line, 'expected a skill and its level')
    for (const word of words.slice(4)) arcs.push([toIndex(word, line, 'a predecessor', tasks.length), a])
    const [name, level] = pair
    kinds.set(`${name} ${level}`, { name, level })
    return { key: `${name} ${level}`, duration: toCount(words[1], line, 'a duration', SIZES.horizon) }
  })
  const all = [...kinds]
  return toCrew(
    {
      activities: tasks.length,
      skills: all.length,
      people: workers.length,
      duration: asked.map(({ duration }) => duration),
      need: asked.flatMap(({ key }) => all.map(([one]) => (one === key ? 1 : 0))),
      has: levels.flatMap((its) => all.map(([, { name, level }]) => ((its.get(name) ?? -1) >= level ? 1 : 0))),
      arcs,
    },
    tasks[0]?.line ?? 0,
  )
}

/** Words such as `Q3: 1` as pairs. */
function pairs(words: readonly string[], line: number): readonly (readonly [string, number])[] {
  return words.flatMap((word, i) => {
    if (i % 2 === 1) return []
    if (!/^\w+:$/.test(word)) wrong(line, `expected a skill such as Q1:, got ${quoted(word)}`)
    return [[word.slice(0, -1), toCount(words[i + 1], line, 'a level')] as const]
  })
}

interface Raw {
  readonly activities: number
  readonly skills: number
  readonly people: number
  readonly duration: readonly number[]
  readonly need: readonly number[]
  readonly has: readonly number[]
  readonly arcs: readonly (readonly [number, number])[]
}

function toCrew({ arcs, ...raw }: Raw, line: number): CrewProject {
  checkHorizon(raw.duration, line)
  return {
    kind: 'crew',
    ...raw,
    followers: toNetwork(raw.activities, arcs, line),
    duration: Int32Array.from(raw.duration),
    need: Int32Array.from(raw.need),
    has: Int32Array.from(raw.has),
  }
}
