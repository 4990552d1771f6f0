// A lab carried from one store into another, row by row as they are kept, so that nothing is left out and nothing is
// changed by today's code. When all is there it is read back and compared with what was read before; only then is it kept.
import { createHash } from 'node:crypto'
import { migrate } from '#lib/doc'
import type { RecordOf } from '#lib/words'
import { indexedWords } from './archive-words.ts'
import { StoreTrouble } from './contract.ts'
import {
  type Carried,
  columnsOf,
  type Fillable,
  keyOf,
  type Portable,
  type Row,
  type TableName,
  tables,
} from './portable.ts'

/** Carries everything over; answers how many rows there are. Throws, and nothing is kept, when what arrived is not what was sent. */
export async function carry(from: Portable, to: Fillable): Promise<number> {
  await to.begin()
  try {
    for (const lab of await from.labs()) await to.addLab(lab)
    const sent = await goOver(from, (table, lab, rows) => {
      return to.add(
        table,
        lab,
        rows.map((row) => carried(table, row)),
      )
    })
    const arrived = await goOver(to, async () => {})
    if (sent.digest !== arrived.digest || sent.rows !== arrived.rows)
      throw new StoreTrouble('io', 'What arrived is not what was sent, so nothing was kept. The source is untouched.')
    await to.commit()
    return sent.rows
  } catch (error) {
    await to.drop().catch(() => {})
    throw error
  }
}

/** Reads all rows, page by page; the digest does not depend on the order they come in. */
async function goOver(
  from: Portable,
  each: (table: TableName, lab: string | null, rows: readonly Row[]) => Promise<void>,
): Promise<{ readonly rows: number; readonly digest: string }> {
  const labs = await from.labs()
  let [count, sum] = [0, 0n]
  const note = (of: readonly unknown[]) => {
    sum = BigInt.asUintN(256, sum + BigInt(`0x${createHash('sha256').update(JSON.stringify(of)).digest('hex')}`))
    count++
  }
  for (const { name, seq, rests } of labs) note([name, seq, rests])
  // Object.keys knows no more than that these are strings.
  for (const table of Object.keys(tables) as TableName[])
    for (const lab of tables[table].isOfLab ? labs.map(({ name }) => name) : [null])
      for (let after: Row | null = null; ; ) {
        const rows: readonly Row[] = await from.page(table, lab, after)
        const last = rows.at(-1)
        if (!last) break
        for (const row of rows)
          note([
            table,
            lab,
            row.map((value) => (value instanceof Uint8Array ? Buffer.from(value).toString('base64') : value)),
          ])
        await each(table, lab, rows)
        after = keyOf(table, last)
      }
  return { rows: count, digest: sum.toString(16) }
}

function carried(table: TableName, row: Row): Carried {
  const value = (name: string) => row[columnsOf(table).indexOf(name)]
  return {
    row,
    // Written by toWire.
    subjects: table === 'entry' ? (JSON.parse(String(value('body'))) as { subjects: string[] }).subjects : [],
    foundBy:
      table === 'resting'
        ? indexedWords(
            migrate('resting', JSON.parse(String(value('json'))), Number(value('words'))) as RecordOf<'resting'>,
          )
        : '',
  }
}
