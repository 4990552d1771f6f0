// The treatment record as one reads it: work done and entries written, in one line of time, newest first. Nothing is
// ever changed or removed; a correction names what it corrects and hangs under it, and the newest of such a line is
// the one that counts.
import type { PersonId, RecordOf, Stage } from '#lib/words'

export type Written =
  | { readonly kind: 'log'; readonly record: RecordOf<'log'> }
  | { readonly kind: 'entry'; readonly record: RecordOf<'entry'> }

export type RecordLine = {
  readonly first: Written
  /** Corrections of it and of each other, oldest first. */
  readonly corrections: readonly Written[]
  /** The one that counts. */
  readonly last: Written
  readonly at: string
}

/** When something was done, or noted: the moment a line of the record stands at. */
export const doneAt = (written: Written): string =>
  written.kind === 'log' ? written.record.finishedAt : written.record.at

/** Whose work or word it is. */
export const doneBy = (written: Written): PersonId =>
  written.kind === 'log' ? written.record.personId : written.record.by

/** Who put it down and when; null for a correction from before that was kept. */
export function writtenBy(written: Written): { readonly by: PersonId; readonly at: string } | null {
  if (written.kind === 'entry') return { by: written.record.by, at: written.record.at }
  const { corrects, personId, finishedAt, writtenBy: by, writtenAt: at } = written.record
  if (by !== undefined) return { by, at: at ?? finishedAt }
  return corrects === null ? { by: personId, at: finishedAt } : null
}

/** Merges logs and entries; a correction whose original is not here stands for itself. */
export function treatmentRecord(
  logs: readonly RecordOf<'log'>[],
  entries: readonly RecordOf<'entry'>[],
): readonly RecordLine[] {
  const all: readonly Written[] = [
    ...logs.map((record): Written => ({ kind: 'log', record })),
    ...entries.map((record): Written => ({ kind: 'entry', record })),
  ]
  const keyOf = (kind: Written['kind'], id: string) => `${kind} ${id}`
  const known = new Map(all.map((one) => [keyOf(one.kind, one.record.id), one]))
  const corrected = new Map<string, Written[]>()
  const firsts: Written[] = []
  for (const one of all) {
    const { corrects } = one.record
    const key = corrects === null ? null : keyOf(one.kind, corrects)
    if (key === null || !known.has(key)) firsts.push(one)
    else corrected.set(key, [...(corrected.get(key) ?? []), one])
  }
  const lines = firsts.map((first): RecordLine => {
    const corrections: Written[] = []
    // Breadth first: a line of corrections, or the fan that two people offline may make of it.
    const ahead: Written[] = [first]
    for (let one = ahead.shift(); one; one = ahead.shift()) {
      const next = (corrected.get(keyOf(one.kind, one.record.id)) ?? []).toSorted(inOrder)
      corrections.push(...next)
      ahead.push(...next)
    }
    return { first, corrections, last: corrections.at(-1) ?? first, at: doneAt(first) }
  })
  return lines.toSorted((a, b) => -inOrder(a.first, b.first))
}

function inOrder(a: Written, b: Written): number {
  const [atA, atB] = [writtenBy(a)?.at ?? doneAt(a), writtenBy(b)?.at ?? doneAt(b)]
  if (atA !== atB) return atA < atB ? -1 : 1
  return a.record.id < b.record.id ? -1 : a.record.id > b.record.id ? 1 : 0
}

const stages: readonly Stage[] = ['sealed', 'opened', 'exposing', 'joining', 'stabilised', 'housed', 'released']

/** The stage an entry of kind `stage` moved to: the last word of its first line, `exposing → joining`. */
export function stageOfEntry(entry: RecordOf<'entry'>): Stage | null {
  if (entry.kind !== 'stage') return null
  const word = entry.text.split('\n')[0]?.split('→').at(-1)?.trim() ?? ''
  return stages.find((stage) => stage === word) ?? null
}

export type StageOnPath = {
  readonly stage: Stage
  readonly state: 'done' | 'now' | 'ahead'
  /** When it was reached, as an instant or a local date; null when nobody wrote it down. */
  readonly reached: string | null
}

/** The path of a specimen with the day each stage was last reached. */
export function stagePathOf(
  specimen: RecordOf<'specimen'>,
  entries: readonly RecordOf<'entry'>[],
  collectedOn: string | null,
): readonly StageOnPath[] {
  const now = stages.indexOf(specimen.stage)
  return stages.map((stage, index) => {
    const state = index < now ? 'done' : index === now ? 'now' : 'ahead'
    if (state === 'now') return { stage, state, reached: specimen.stageSince }
    const last = entries.filter((entry) => stageOfEntry(entry) === stage).map((entry) => entry.at)
    const reached = last.toSorted().at(-1) ?? (stage === 'sealed' ? collectedOn : null)
    return { stage, state, reached: state === 'done' ? reached : null }
  })
}
