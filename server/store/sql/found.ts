// What the archive's searches in SQL have in common: how far they look, and how a page is cut from what they found.
import type { ArchiveQuestion } from '../contract.ts'
import type { WireRecord } from './wire.ts'

/** So many records that bear exactly the number asked for come first. */
export const EXACT_MAX = 50
/** Below this many letters a beginning would match nearly everything; such a word must match whole. */
export const PREFIX_LETTERS_MIN = 2

/** A resting record with its place in the order; the highest is newest at rest. */
export interface FoundRow extends WireRecord {
  readonly n: number
}

/** The page of what was found that a question asks for. */
export function page(rows: readonly FoundRow[], { offset, limit }: ArchiveQuestion) {
  const found = rows.slice(offset, offset + limit).map(({ kind, id, words, json }) => ({ kind, id, words, json }))
  return { found, hasMore: rows.length > offset + limit }
}
