// The archive's search. The index holds words alone (no positions, no copies), newest at rest first, which lets a
// question stop reading as soon as its page is full: ranking by relevance would have to look at every hit.
import { fold, questionWords } from '../archive-words.ts'
import type { ArchiveQuestion } from '../contract.ts'
import { RESTS_PER_LAB } from './board.ts'
import type { Sql } from './open.ts'
import type { WireRecord } from './wire.ts'

/** Word in the index that stands for the kind of piece; no text folds to it. */
export const kindWord = (kind: 'jacket' | 'specimen'): string => `0kind0${kind}`

const EXACT_MAX = 50
// Below this many letters a beginning would match nearly everything; such a word must match whole.
const PREFIX_LETTERS_MIN = 2

interface Row extends WireRecord {
  readonly n: number
}

/** Search over one connection. */
export function archiveTable(sql: Sql) {
  const fields = `r.n, 'resting' AS kind, r.id, r.words, r.json`
  const byWords = sql.prepare(
    `SELECT ${fields} FROM (SELECT rowid AS n FROM resting_words
       WHERE resting_words MATCH ? AND rowid > ? AND rowid < ? ORDER BY rowid DESC LIMIT ?) f
     JOIN resting r ON r.n = f.n ORDER BY r.n DESC`,
  )
  const newest = sql.prepare(`SELECT ${fields} FROM resting r WHERE r.n > ? AND r.n < ? ORDER BY r.n DESC LIMIT ?`)
  const byNumber = sql.prepare(
    `SELECT ${fields} FROM resting r WHERE r.lab = ? AND r.number = ? ORDER BY r.n DESC LIMIT ${EXACT_MAX}`,
  )
  const findLab = sql.prepare('SELECT n FROM lab WHERE name = ?')

  return (name: string, question: ArchiveQuestion): { found: WireRecord[]; hasMore: boolean } => {
    const lab = findLab.get([name]) as { n: number } | undefined
    if (!lab) return { found: [], hasMore: false }
    const [low, high] = [lab.n * RESTS_PER_LAB, (lab.n + 1) * RESTS_PER_LAB]
    const wanted = question.offset + question.limit + 1
    const match = matchOf(question)
    if (match === null) return page(newest.all([low, high, wanted]) as Row[], question)
    const exact = (byNumber.all([lab.n, fold(question.text)]) as Row[]).filter((row) => isOfKind(row, question.kind))
    const seen = new Set(exact.map((row) => row.n))
    const rest = byWords.all([match, low, high, wanted + exact.length]) as Row[]
    return page([...exact, ...rest.filter((row) => !seen.has(row.n))], question)
  }
}

function page(rows: readonly Row[], { offset, limit }: ArchiveQuestion) {
  const found = rows.slice(offset, offset + limit).map(({ kind, id, words, json }) => ({ kind, id, words, json }))
  return { found, hasMore: rows.length > offset + limit }
}

// Words are letters and digits only, so nothing in a question can be read as a search expression.
function matchOf({ text, kind }: ArchiveQuestion): string | null {
  const words = questionWords(text).map((word) => (word.length < PREFIX_LETTERS_MIN ? `"${word}"` : `"${word}"*`))
  if (kind) words.push(`"${kindWord(kind)}"`)
  return words.length === 0 ? null : words.join(' AND ')
}

const isOfKind = (row: Row, kind: ArchiveQuestion['kind']): boolean =>
  kind === null || (JSON.parse(row.json).specimen ? 'specimen' : 'jacket') === kind
