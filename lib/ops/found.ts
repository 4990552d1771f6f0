// The words a resting piece is found by beyond its own fields: what was written on its Sheet, by whom, on which days, how
// it was judged, housed and handed over. Gathered once, as it goes to rest, so that a search never opens a Sheet.
import { newestOf, photosShown } from '#lib/rules'
import type { Custody, Records } from '#lib/words'

/** As long as the archive's field; the words that come first are people, days and judgements. */
const FOUND_MAX = 8000

/** Each word of the Sheet once, in the order of what one looks for first. Empty while the Sheet is not loaded. */
export function foundWords(records: Records, pieceId: string): string {
  const own = <T extends { readonly pieceId: string }>(table: ReadonlyMap<string, T>): readonly T[] =>
    [...table.values()].filter((one) => one.pieceId === pieceId)
  const [logs, entries, assessments] = [own(records.log), own(records.entry), own(records.assessment)]
  const [housings, custodies] = [own(records.housing), own(records.custody)]
  const jars = [
    ...entries.map((one) => one.detail?.jar),
    ...logs.map((one) => one.jar),
    ...own(records.join).map((one) => one.jar),
  ]
  const people = [
    ...logs.map((one) => one.personId),
    ...[...entries, ...assessments, ...housings, ...custodies].map((one) => one.by),
  ]
  const days = [...logs.map((one) => one.date), ...[...entries, ...housings].map((one) => one.at.slice(0, 10))]
  const techniques = new Set(logs.map((one) => one.techniqueId))
  const texts = [
    ...[...new Set(people)]
      .map((id) => records.person.get(id))
      .map((one) => `${one?.name ?? ''} ${one?.familyName ?? ''}`),
    ...custodies.flatMap((one) => [
      one.to,
      one.holder,
      one.receivedBy,
      one.on,
      one.until ?? '',
      one.condition,
      one.reason,
    ]),
    ...assessments.flatMap((one) => [one.on, one.taxon, one.element, one.side, one.stopLine, one.note]),
    ...housings.flatMap((one) => [one.form, ...one.materials, one.shelf, one.side, one.note]),
    ...new Set(days),
    ...(records.lab.get('lab')?.techniques ?? []).filter(({ id }) => techniques.has(id)).map(({ name }) => name),
    ...entries.map((one) => one.text),
    ...jars.flatMap((jar) => (jar ? [jar.material, jar.solvent, jar.lot, `B ${jar.number}`] : [])),
    ...photosShown(records.photo.values(), pieceId).map(({ photo }) => photo.caption),
    ...logs.map((one) => one.note),
  ]
  return wordsWithin(texts.join(' '))
}

/** Each word once, as many as fit. */
function wordsWithin(text: string): string {
  let [words, length] = [new Set<string>(), 0]
  for (const word of text.split(/[^\p{L}\p{N}\p{M}-]+/u)) {
    if (word === '' || words.has(word)) continue
    length += word.length + 1
    if (length > FOUND_MAX) break
    words = words.add(word)
  }
  return [...words].join(' ')
}

/** Whose hands a piece is in, when its Sheet is loaded. */
export const custodyOf = (records: Records, pieceId: string): Readonly<Custody> | null =>
  newestOf([...records.custody.values()].filter((one) => one.pieceId === pieceId))
