/** Published figures to test against (tests/data/check-values; the source stands beside each). */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect } from 'vitest'

type Topic = 'vibration' | 'noise' | 'silica-solvent' | 'lifting' | 'density' | 'solutions' | 'forecasting'

interface Band {
  readonly abs?: number
  readonly rel?: number
}

/** One check or table. Inputs and expected values differ by entry, so the test that reads one names their shape. */
export interface CheckValue<I = Record<string, number>, E = Record<string, number>> {
  readonly id: string
  readonly source: string
  readonly inputs: I
  readonly expected: E
  readonly tolerance: Band & Readonly<Record<string, Band | number | string>>
  readonly rows: readonly (readonly number[])[]
}

interface Sheet {
  readonly entries: readonly CheckValue[]
}

const sheets = new Map<Topic, Sheet>()

function sheetOf(topic: Topic): Sheet {
  const held = sheets.get(topic)
  if (held) return held
  const file = join(import.meta.dirname, `../data/check-values/${topic}.json`)
  // The shape is what the folder's README says; a wrong one fails the first test that reads it.
  const sheet = JSON.parse(readFileSync(file, 'utf8')) as Sheet
  sheets.set(topic, sheet)
  return sheet
}

/** The entry of that id. */
export function checkValue<I = Record<string, number>, E = Record<string, number>>(
  topic: Topic,
  id: string,
): CheckValue<I, E> {
  const found = sheetOf(topic).entries.find((entry) => entry.id === id)
  if (!found) throw new Error(`no check value ${id} in ${topic}`)
  // See CheckValue: the caller names the shape of this entry.
  return found as unknown as CheckValue<I, E>
}

/** All ids of a topic. */
export const checkIds = (topic: Topic): readonly string[] => sheetOf(topic).entries.map((entry) => entry.id)

/** |got − wanted| ≤ abs + rel·|wanted|; `key` picks a tolerance of its own where the entry has one per output. */
export function expectNear(
  entry: Pick<CheckValue, 'id' | 'source' | 'tolerance'>,
  got: unknown,
  wanted: unknown,
  key = '',
): void {
  const band = entry.tolerance[key]
  const { abs = 0, rel = 0 } = typeof band === 'object' ? band : entry.tolerance
  expectWithin(got, wanted, abs, rel, `${entry.id} (${entry.source})`)
}

/** The same with a band given by hand; lists are compared one by one. */
export function expectWithin(got: unknown, wanted: unknown, abs: number, rel = 0, what = ''): void {
  if (Array.isArray(wanted)) {
    expect(got, what).toHaveLength(wanted.length)
    for (const [i, value] of wanted.entries()) expectWithin((got as unknown[])[i], value, abs, rel, `${what} [${i}]`)
    return
  }
  const off = Math.abs(Number(got) - Number(wanted))
  // A hair for the last binary digit: a printed 0.4 is not exactly the double that a sum of doubles makes.
  expect(off, `${what}: got ${got}, wanted ${wanted}`).toBeLessThanOrEqual(abs + rel * Math.abs(Number(wanted)) + 1e-12)
}
