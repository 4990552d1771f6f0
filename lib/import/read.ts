// A spreadsheet's file as rows of cells: bytes to letters, which separator, and where each row begins in the file.
import { CsvError, parse } from 'csv-parse/browser/esm/sync'
import { forbiddenLetters } from '#lib/words'

/** One row; `line` is the line of the file on which it begins, from 1. */
export type SheetLine = { readonly line: number; readonly cells: readonly string[] }

export type SheetRead =
  | {
      readonly ok: true
      readonly encoding: string
      readonly separator: string
      /** The row of names, then what stands under it. */
      readonly head: readonly string[]
      readonly lines: readonly SheetLine[]
    }
  | {
      readonly ok: false
      readonly why: 'empty' | 'too-long' | 'quotes'
      readonly line: number
      readonly column: number
    }

/** Rows in one file at most. */
const ROWS_MAX = 100_000
/** Letters in one row at most: a quote that is never closed would otherwise swallow the file. */
const ROW_MAX = 400_000

const separators = [',', ';', '\t', '|'] as const

/** Reads a file's bytes. What cannot be read names the line and the column, both from 1; nothing is guessed beyond it. */
export function readSheet(bytes: Uint8Array, chosen?: string): SheetRead {
  const { encoding, text } = decode(bytes)
  const separator = chosen ?? separatorOf(text)
  try {
    const rows = parse(text, {
      delimiter: separator,
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: true,
      record_delimiter: ['\r\n', '\n', '\r'],
      max_record_size: ROW_MAX,
      // Two more than may be: the names, and the one by which too many is seen.
      to: ROWS_MAX + 2,
      info: true,
    }) as unknown as readonly { readonly info: { readonly lines: number }; readonly record: readonly string[] }[]
    const [head, ...rest] = rows
    if (!head || rest.length === 0) return { ok: false, why: 'empty', line: 1, column: 1 }
    const last = rest[ROWS_MAX]
    if (last) return { ok: false, why: 'too-long', line: last.info.lines, column: 1 }
    return {
      ok: true,
      encoding,
      separator,
      head: head.record.map(clean),
      lines: rest.map(({ info, record }) => ({ line: beginOf(info.lines, record), cells: record.map(clean) })),
    }
  } catch (error) {
    if (!(error instanceof CsvError)) throw error
    const column = typeof error.index === 'number' ? error.index + 1 : 1
    return { ok: false, why: 'quotes', line: typeof error.lines === 'number' ? error.lines : 1, column }
  }
}

/** The parser counts to a row's last line; a quoted cell may hold several. */
function beginOf(lines: number, cells: readonly string[]): number {
  const within = cells.reduce((sum, cell) => sum + (cell.match(/\r\n|\r|\n/g)?.length ?? 0), 0)
  return Math.max(1, lines - within)
}

const everyForbidden = new RegExp(forbiddenLetters, 'g')
/** An apostrophe that keeps a spreadsheet from reckoning with the cell is no part of what it says. */
const guarded = /^'+\s*[=+\-@\uff1d\uff0b\uff0d\uff20]/
function clean(cell: string): string {
  const text = cell.replace(/\r\n?/g, '\n').replace(everyForbidden, ' ').trim()
  return guarded.test(text) ? text.slice(1).trim() : text
}

/** By its mark, by the noughts of UTF-16, by whether it is valid UTF-8; else as older spreadsheets write: Windows-1252. */
function decode(bytes: Uint8Array): { readonly encoding: string; readonly text: string } {
  const as = (encoding: string) => ({ encoding, text: new TextDecoder(encoding).decode(bytes) })
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return as('utf-16le')
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return as('utf-16be')
  const start = bytes.subarray(0, 4096)
  const noughts = (from: number) => start.filter((byte, i) => byte === 0 && i % 2 === from).length
  if (noughts(1) > start.length / 4) return as('utf-16le')
  if (noughts(0) > start.length / 4) return as('utf-16be')
  try {
    return { encoding: 'utf-8', text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) }
  } catch {
    return as('windows-1252')
  }
}

/** The separator that cuts the first lines into the most cells, where as many lines as may be agree with the first. */
function separatorOf(text: string): string {
  const lines = text
    .slice(0, 65_536)
    .replace(/"[^"]*"/g, '')
    .split(/\r\n|\r|\n/)
    .filter(Boolean)
    .slice(0, 40)
  const scored = separators.map((separator) => {
    const counts = lines.map((line) => line.split(separator).length - 1)
    const first = counts[0] ?? 0
    const agreeing = counts.filter((count) => count === first).length / Math.max(1, counts.length)
    return { separator, score: first === 0 ? 0 : agreeing * 100 + first }
  })
  return scored.reduce((best, one) => (one.score > best.score ? one : best)).separator
}
