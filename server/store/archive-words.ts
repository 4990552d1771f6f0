// What a resting record is found by, the same for every store: all words of the names and numbers people know it by,
// folded to plain small letters. A number such as TL-2024/17 is the words tl, 2024 and 17, in the index as in a question.
import type { RecordOf } from '#lib/words'

/** Longest question and most words of it that are looked at. */
const QUESTION_LETTERS_MAX = 200
const QUESTION_WORDS_MAX = 8

/** The kind of piece a resting record is of. */
export const restingKind = (resting: RecordOf<'resting'>): 'jacket' | 'specimen' =>
  resting.specimen ? 'specimen' : 'jacket'

/** The number painted on it, folded, for finding it whole. */
export const restingNumber = (resting: RecordOf<'resting'>): string =>
  fold(resting.specimen?.number ?? resting.jacket?.fieldNumber ?? '')

/** Everything it is found by, as folded words. */
export function restingWords(resting: RecordOf<'resting'>): readonly string[] {
  const { custody, dues, found, jacket, questions, specimen, steps } = resting
  const texts = [
    specimen?.number,
    specimen?.catalogueNumber,
    specimen?.name,
    specimen?.locality,
    specimen?.horizon,
    specimen?.side,
    specimen?.shelf,
    specimen?.note,
    jacket?.fieldNumber,
    jacket?.contents,
    jacket?.locality,
    jacket?.horizon,
    jacket?.collector,
    jacket?.shelf,
    jacket?.note,
    specimen?.taxon,
    specimen?.element,
    specimen?.stopLine,
    specimen?.fragile,
    jacket?.collectedOn,
    jacket?.sketchNote,
    jacket?.fieldNotes,
    jacket?.hazardNote,
    ...(jacket?.hazards ?? []),
    jacket?.permit,
    jacket?.owner,
    resting.since,
    custody?.to,
    custody?.holder,
    custody?.receivedBy,
    custody?.condition,
    ...dues.flatMap((due) => [due.date, due.note]),
    ...questions.flatMap((question) => [question.text, question.answer?.text]),
    ...steps.map((step) => step.title),
    found,
  ]
  return [...new Set(wordsOf(texts.filter((text) => text).join(' ')))]
}

/** Word in an archive's index that stands for the kind of piece; no text folds to it. */
export const kindWord = (kind: 'jacket' | 'specimen'): string => `0kind0${kind}`

/** What a resting record is found by in an index: its kind and its words. */
export const indexedWords = (resting: RecordOf<'resting'>): string =>
  [kindWord(restingKind(resting)), ...restingWords(resting)].join(' ')

/** The words of a question; the last letters typed of each may be missing. */
export function questionWords(text: string): readonly string[] {
  return [...new Set(wordsOf(text.slice(0, QUESTION_LETTERS_MAX)))].slice(0, QUESTION_WORDS_MAX)
}

/** Small letters without accents: `Évaux` is found by `evaux`. */
export function fold(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '')
    .toLowerCase()
    .trim()
}

const wordsOf = (text: string): readonly string[] => fold(text).match(/[\p{L}\p{N}]+/gu) ?? []
