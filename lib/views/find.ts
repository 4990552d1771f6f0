// The command field's memory: every person, place, jacket and specimen under the words one would type, and a ranking
// that puts numbers and beginnings first. Built once per change of the board, asked at every key.
import type { Records } from '#lib/words'

/** Where a find leads. */
type FindKind = 'person' | 'place' | 'specimen' | 'jacket'

/** One thing that can be jumped to. */
export type Findable = {
  readonly kind: FindKind
  readonly id: string
  /** What is typed most: a number, a code, a first name. */
  readonly label: string
  /** The rest of its name. */
  readonly detail: string
  readonly stage: string | null
}

type Entry = { readonly item: Findable; readonly key: string; readonly words: readonly string[] }

export type FindIndex = readonly Entry[]

/** Letters without their marks, in lower case, so that `ostrel` finds Öštrel. */
export function folded(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase()
}

/** Everything on the board that has a name. */
export function findIndex(records: Records): FindIndex {
  const entries: Entry[] = []
  const add = (item: Findable, more: string) => {
    const text = folded(`${item.label} ${item.detail} ${more}`)
    entries.push({ item, key: bare(folded(item.label)), words: text.split(/[^\p{L}\p{N}]+/u).filter(Boolean) })
  }
  for (const person of records.person.values()) {
    if (!person.isActive) continue
    add({ kind: 'person', id: person.id, label: person.name, detail: person.familyName, stage: null }, '')
  }
  for (const place of records.place.values())
    add({ kind: 'place', id: place.id, label: place.code, detail: place.name, stage: null }, place.kind)
  for (const piece of records.specimen.values())
    add(
      { kind: 'specimen', id: piece.id, label: piece.number, detail: piece.name, stage: piece.stage },
      `${piece.catalogueNumber} ${piece.locality} ${piece.shelf}`,
    )
  for (const piece of records.jacket.values()) {
    const stage = piece.state === 'empty' ? 'released' : piece.state
    add(
      { kind: 'jacket', id: piece.id, label: piece.fieldNumber, detail: piece.contents, stage },
      `${piece.locality} ${piece.shelf}`,
    )
  }
  return entries
}

/** The best finds for what is typed: exact first, then beginnings, then all words somewhere; ties by name. */
export function find(index: FindIndex, typed: string, most = 12): readonly Findable[] {
  const text = folded(typed).trim()
  if (text === '') return []
  const wanted = text.split(/[^\p{L}\p{N}]+/u).filter(Boolean)
  const key = bare(text)
  const hits: { readonly item: Findable; readonly rank: number }[] = []
  for (const entry of index) {
    const rank = rankOf(entry, key, wanted)
    if (rank !== null) hits.push({ item: entry.item, rank })
  }
  hits.sort(
    (a, b) =>
      a.rank - b.rank ||
      a.item.label.length - b.item.label.length ||
      (a.item.label < b.item.label ? -1 : a.item.label > b.item.label ? 1 : 0),
  )
  return hits.slice(0, most).map((hit) => hit.item)
}

function rankOf(entry: Entry, key: string, wanted: readonly string[]): number | null {
  if (key !== '' && entry.key === key) return 0
  if (key !== '' && entry.key.startsWith(key)) return 1
  if (wanted.length === 0) return null
  const isAll = (test: (word: string, want: string) => boolean) =>
    wanted.every((want) => entry.words.some((word) => test(word, want)))
  if (isAll((word, want) => word.startsWith(want))) return 2
  if (key.length >= 2 && entry.key.includes(key)) return 3
  if (isAll((word, want) => want.length >= 3 && word.includes(want))) return 4
  return null
}

/** Letters and figures only: OB24-017 is found as ob24017. */
const bare = (text: string): string => text.replace(/[^\p{L}\p{N}]+/gu, '')
