'use client'
// All pairs of the tray as a triangle: what came of each, by sign and word. Large trays show the row of one fragment,
// since twenty thousand cells are read by nobody.
import { pairKey } from '#lib/rules'
import type { Tray } from './use-tray.ts'

const TABLE_MOST = 40

const signs = { fit: '=', 'no fit': '×', unsure: '?' } as const
const words = { fit: 'fit', 'no fit': 'no fit', unsure: 'not sure' } as const

/** The triangle, or the row of `chosen`. */
export function PairTable({ tray, chosen }: { readonly tray: Tray; readonly chosen: number | null }) {
  const numbers = tray.fragments.map(({ number }) => number)
  const groupOf = new Map(tray.assemblies.flatMap((group, index) => group.map((number) => [number, index])))
  const isWhole = numbers.length <= TABLE_MOST
  const rows = isWhole ? numbers.slice(1) : numbers.filter((number) => number === chosen)
  if (rows.length === 0) return <p className="text-umber">Choose a fragment to see its pairs.</p>
  const columns = isWhole ? numbers.slice(0, -1) : numbers
  const told = (a: number, b: number): readonly [string, string] => {
    const last = tray.last.get(pairKey([a, b]))
    if (last) return [signs[last.result], words[last.result]]
    const [one, other] = [groupOf.get(a), groupOf.get(b)]
    return one !== undefined && one === other ? ['·', 'settled, in one assembly'] : ['', 'not tried']
  }
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reached by keyboard
    <section className="pair-scroll" tabIndex={0} aria-label="Pairs, scrolls sideways">
      <table className="pair-table">
        <caption className="pb-2 text-left text-small whitespace-nowrap text-umber">
          = fit, × no fit, ? not sure, · settled by an assembly
        </caption>
        <thead>
          <tr>
            <td />
            {columns.map((number) => (
              <th key={number} scope="col" className="inked">
                {number}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row}>
              <th scope="row" className="inked">
                {row}
              </th>
              {columns.map((column) => {
                if (isWhole ? column >= row : column === row) return <td key={column} className="pair-none" />
                const [sign, word] = told(row, column)
                return (
                  <td key={column}>
                    <span aria-hidden="true">{sign}</span>
                    <span className="sr-only">{word}</span>
                  </td>
                )
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
