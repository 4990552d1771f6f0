/** Best known values of the published assignment instances that lie in tests/data/gap, with sense and source. */
import { existsSync, readFileSync } from 'node:fs'
import { basename } from 'node:path'

export interface Known {
  readonly instance: string
  readonly sense: 'min' | 'max'
  readonly bound: number
  readonly best: number
  readonly isProven: boolean
}

/** All rows of a table of known values. */
export function readKnown(table: string): readonly Known[] {
  if (!existsSync(table)) return []
  const lines = readFileSync(table, 'utf8').trim().split('\n').slice(1)
  return lines.map((line) => {
    const [instance = '', sense = '', bound = '', best = '', proven = ''] = line.split(',')
    return {
      instance,
      sense: sense === 'max' ? 'max' : 'min',
      bound: Number(bound),
      best: Number(best),
      isProven: proven === '1',
    }
  })
}

/** The row of the instance that a file holds, by its name. */
export function knownGap(table: string, file: string): Known | null {
  const name = basename(file).replace(/\.txt$/, '')
  return readKnown(table).find((row) => row.instance === name) ?? null
}
