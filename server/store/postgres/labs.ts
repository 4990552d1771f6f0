// A lab's row in PostgreSQL, which all else of the lab hangs on.
import type { Query } from './line.ts'

/** Makes sure that a lab has its row; the database is asked once for each, since nobody takes one away again. */
export function labMaker(write: Query): (name: string) => Promise<void> {
  /** Labs that are known to have a row. */
  const known = new Set<string>()
  return async (name) => {
    if (known.has(name)) return
    await write('INSERT INTO lab (name, seq, rests) VALUES ($1, 0, 0) ON CONFLICT DO NOTHING', [name])
    known.add(name)
  }
}
