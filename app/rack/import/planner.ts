// Reading and planning a spreadsheet, which takes seconds for fifty thousand rows: asked piece by piece, so that it can be
// done in a thread of its own (planner-thread.ts) and only what is shown or sent crosses over.
import {
  columnsOf,
  type DateOrder,
  type Doubt,
  type ImportField,
  type ImportPlan,
  needsOrder,
  orderOf,
  planImport,
  readSheet,
  type SheetRead,
} from '#lib/import'
import type { OpBody } from '#lib/ops'

const ROWS_A_TIME = 250
const DOUBTS_SHOWN = 200
const SAMPLE_LETTERS = 40

type Columns = readonly (ImportField | null)[]

/** A sheet as far as the dialog shows it; `samples` and `found` run parallel to `head`. */
type SheetShown = Pick<Extract<SheetRead, { ok: true }>, 'ok' | 'encoding' | 'separator' | 'head'> & {
  readonly rows: number
  readonly samples: readonly string[]
  readonly found: Columns
}

/** What would be done, in figures; null while a column or the order of dates is missing. */
export type Planned = {
  readonly isOrderAsked: boolean
  readonly order: DateOrder | null
  readonly plan: {
    readonly jackets: number
    readonly parts: number
    readonly doubts: number
    readonly out: number
    /** The first doubts, rows that stay out before all others. */
    readonly shown: readonly Doubt[]
  } | null
}

export interface Asks {
  readonly read: {
    readonly ask: { readonly bytes: Uint8Array; readonly separator: string }
    readonly answer: SheetShown | Extract<SheetRead, { ok: false }>
  }
  readonly plan: {
    readonly ask: { readonly columns: Columns; readonly order: DateOrder | '' }
    readonly answer: Planned
  }
  /** One act of the plan, from 0; null behind the last. */
  readonly part: { readonly ask: { readonly at: number; readonly isUndo: boolean }; readonly answer: OpBody | null }
}

export type Planner = { readonly [K in keyof Asks]: (ask: Asks[K]['ask']) => Asks[K]['answer'] }

/** A planner with no sheet yet. */
export function makePlanner(): Planner {
  let sheet: Extract<SheetRead, { ok: true }> | null = null
  let plan: ImportPlan | null = null
  return {
    read({ bytes, separator }) {
      const found = readSheet(bytes, separator === '' ? undefined : separator)
      sheet = found.ok ? found : null
      plan = null
      if (!found.ok) return found
      const { ok, encoding, head, lines } = found
      const samples = head.map((_name, at) => {
        const line = lines.find(({ cells }) => (cells[at] ?? '') !== '')
        return (line?.cells[at] ?? 'empty').slice(0, SAMPLE_LETTERS)
      })
      return {
        ...{ ok, encoding, separator: found.separator, head, rows: lines.length, samples },
        found: columnsOf(head, lines),
      }
    },
    plan({ columns, order }) {
      const at = columns.indexOf('collectedOn')
      const dates = sheet && at >= 0 ? sheet.lines.map(({ cells }) => cells[at] ?? '') : []
      const isOrderAsked = needsOrder(dates)
      const used = order || orderOf(dates)
      const isReady = columns.includes('fieldNumber') && (!isOrderAsked || used !== null)
      plan = sheet && isReady ? planImport(sheet, columns, used ?? 'dmy') : null
      return { isOrderAsked, order: used, plan: plan && inFigures(plan) }
    },
    part({ at, isUndo }) {
      const jackets = plan?.jackets.slice(at * ROWS_A_TIME, (at + 1) * ROWS_A_TIME) ?? []
      if (!plan || jackets.length === 0) return null
      const { importId } = plan
      return isUndo
        ? { kind: 'undoImport', importId, pieceIds: jackets.map(({ id }) => id) }
        : { kind: 'importRows', importId, jackets }
    },
  }
}

function inFigures({ jackets, doubts }: ImportPlan): NonNullable<Planned['plan']> {
  const out = doubts.filter(({ isOut }) => isOut)
  const shown = [...out, ...doubts.filter(({ isOut }) => !isOut)].slice(0, DOUBTS_SHOWN)
  const parts = Math.ceil(jackets.length / ROWS_A_TIME)
  return { jackets: jackets.length, parts, doubts: doubts.length, out: out.length, shown }
}
