// The archive's search. The index holds words alone (no positions, no copies), newest at rest first, which lets a
// question stop reading as soon as its page is full: ranking by relevance would have to look at every hit. Beginnings
// of two and three letters have lists of their own in the index; for longer ones it would gather every hit before the
// first is given, so they are turned into the whole words that begin so, each of which has its list.
import { fold, kindWord, questionWords } from '../archive-words.ts'
import type { ArchiveQuestion } from '../contract.ts'
import { RESTS_PER_LAB } from './board.ts'
import { EXACT_MAX, type FoundRow, PREFIX_LETTERS_MIN, page } from './found.ts'
import type { Sql } from './open.ts'
import type { WireRecord } from './wire.ts'

/** Longest beginning that the index has lists for. */
const PREFIX_LETTERS_MAX = 3
// With more words than these, each is rare (numbers, mostly), and gathering the hits is quick again.
const WORDS_OF_BEGINNING_MAX = 40

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
  const beginningWith = sql.prepare(
    `SELECT word FROM resting_word WHERE word >= ? AND word < ? LIMIT ${WORDS_OF_BEGINNING_MAX + 1}`,
  )
  const findLab = sql.prepare('SELECT n FROM lab WHERE name = ?')

  // Words are letters and digits only, so nothing in a question can be read as a search expression.
  function termOf(word: string): string {
    if (word.length < PREFIX_LETTERS_MIN) return `"${word}"`
    if (word.length <= PREFIX_LETTERS_MAX) return `"${word}"*`
    const whole = (beginningWith.all([word, `${word}\u{10ffff}`]) as { word: string }[]).map((row) => `"${row.word}"`)
    return whole.length > 0 && whole.length <= WORDS_OF_BEGINNING_MAX ? `(${whole.join(' OR ')})` : `"${word}"*`
  }

  return (name: string, question: ArchiveQuestion): { found: WireRecord[]; hasMore: boolean } => {
    const lab = findLab.get([name]) as { n: number } | undefined
    if (!lab) return { found: [], hasMore: false }
    const [low, high] = [lab.n * RESTS_PER_LAB, (lab.n + 1) * RESTS_PER_LAB]
    const wanted = question.offset + question.limit + 1
    const match = matchOf(question, termOf)
    if (match === null) return page(newest.all([low, high, wanted]) as FoundRow[], question)
    const exact = (byNumber.all([lab.n, fold(question.text)]) as FoundRow[]).filter((row) =>
      isOfKind(row, question.kind),
    )
    const seen = new Set(exact.map((row) => row.n))
    const rest = byWords.all([match, low, high, wanted + exact.length]) as FoundRow[]
    return page([...exact, ...rest.filter((row) => !seen.has(row.n))], question)
  }
}

function matchOf({ text, kind }: ArchiveQuestion, termOf: (word: string) => string): string | null {
  const terms = questionWords(text).map(termOf)
  if (kind) terms.push(`"${kindWord(kind)}"`)
  return terms.length === 0 ? null : terms.join(' AND ')
}

const isOfKind = (row: FoundRow, kind: ArchiveQuestion['kind']): boolean =>
  kind === null || (JSON.parse(row.json).specimen ? 'specimen' : 'jacket') === kind
