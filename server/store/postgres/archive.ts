// The archive's search in PostgreSQL: each resting record has its words, its kind and its lab as lexemes in one GIN index,
// made of our own words (no parser and no dictionary of the database's has a say), newest at rest first.
import { fold, kindWord, questionWords } from '../archive-words.ts'
import type { ArchiveQuestion } from '../contract.ts'
import { EXACT_MAX, type FoundRow, PREFIX_LETTERS_MIN, page } from '../sql/found.ts'
import type { WireRecord } from '../sql/wire.ts'
import type { Query } from './line.ts'

/** A lexeme may have 2 046 bytes; no question is as long as this. */
const LEXEME_LETTERS_MAX = 400

/** A record's words as the index takes them. */
export const lexemesOf = (words: string): string =>
  words
    .split(' ')
    .map((word) => [...word].slice(0, LEXEME_LETTERS_MAX).join(''))
    .join(' ')

/** The index of words that stand in the column `found_by` of `new`; the lab is one of them, so that no other's hits are read. */
export const foundBySql = (lab: string): string =>
  `array_to_tsvector(array_append(string_to_array(new.found_by, ' '), 'lab' || ${lab}))`

export function archiveTable(read: Query) {
  const fields = `r.n, 'resting' AS kind, r.id, r.words, r.json`
  return async (name: string, question: ArchiveQuestion): Promise<{ found: WireRecord[]; hasMore: boolean }> => {
    const [lab] = await read<{ n: number }>('SELECT n FROM lab WHERE name = $1', [name])
    if (!lab) return { found: [], hasMore: false }
    const wanted = question.offset + question.limit + 1
    const match = matchOf(question, lab.n)
    if (match === null)
      return page(
        await read<FoundRow>(`SELECT ${fields} FROM resting r WHERE r.lab = $1 ORDER BY r.n DESC LIMIT $2`, [
          lab.n,
          wanted,
        ]),
        question,
      )
    const exact = await read<FoundRow>(
      `SELECT ${fields} FROM resting r WHERE r.lab = $1 AND r.number = $2 AND ($3::text IS NULL OR r.found_by @@ $3::tsquery)
       ORDER BY r.n DESC LIMIT ${EXACT_MAX}`,
      [lab.n, fold(question.text).replaceAll('\0', ''), question.kind && quoted(kindWord(question.kind))],
    )
    const rest = await read<FoundRow>(
      `SELECT ${fields} FROM resting r WHERE r.lab = $1 AND r.found_by @@ $2::tsquery ORDER BY r.n DESC LIMIT $3`,
      [lab.n, match, wanted + exact.length],
    )
    const seen = new Set(exact.map((row) => row.n))
    return page([...exact, ...rest.filter((row) => !seen.has(row.n))], question)
  }
}

// Words are letters and digits only, so nothing in a question can be read as an expression.
const quoted = (word: string): string => `'${word}'`

function matchOf({ text, kind }: ArchiveQuestion, lab: number): string | null {
  const terms = questionWords(text).map((word) => quoted(word) + (word.length < PREFIX_LETTERS_MIN ? '' : ':*'))
  if (kind) terms.push(quoted(kindWord(kind)))
  return terms.length === 0 ? null : [...terms, quoted(`lab${lab}`)].join(' & ')
}
