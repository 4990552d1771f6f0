// Names for the ids that codes carry. A record that is gone or not ours to see gets a plain word in its place.
import type { Records } from '#lib/words'
import { sayClock, sayDate } from './dates.ts'
import { numberBatch } from './materials.ts'

export type Names = ReturnType<typeof namesIn>

/** Ways to name whatever a finding or an op points at. */
export function namesIn(records: Records) {
  const lab = records.lab.get('lab')
  const piece = (id: string | undefined): string | undefined =>
    id === undefined ? undefined : (records.specimen.get(id)?.number ?? records.jacket.get(id)?.fieldNumber)
  const step = (id: string | undefined) => (id === undefined ? undefined : records.step.get(id))
  const technique = (id: string | undefined) => lab?.techniques.find((one) => one.id === id)?.name
  return {
    person: (id: string | undefined): string =>
      (id === undefined ? undefined : records.person.get(id)?.name) ?? 'somebody',
    place: (id: string | undefined): string =>
      (id === undefined ? undefined : records.place.get(id)?.code) ?? 'that place',
    piece: (id: string | undefined): string => piece(id) ?? 'that piece',
    check: (id: string | undefined): string =>
      (id === undefined ? undefined : records.check.get(id)?.name) ?? 'that check',
    /** In the middle of a sentence: acrylic resin. */
    material: (id: string | undefined): string =>
      lower((id === undefined ? undefined : records.material.get(id)?.name) ?? 'that material'),
    batch: (id: string | undefined): string => {
      const found = id === undefined ? undefined : records.batch.get(id)
      return found ? `batch ${numberBatch(found.number)}` : 'that batch'
    },
    /** In the middle of a sentence: needle in pin vise. */
    technique: (id: string | undefined): string => lower(technique(id) ?? 'that technique'),
    step: (id: string | undefined): string => step(id)?.title ?? 'that step',
    /** “Clean the left side” on MC20-051. */
    stepOn: (id: string | undefined): string => {
      const found = step(id)
      return found ? `“${found.title}” on ${piece(found.pieceId) ?? 'that piece'}` : 'that step'
    },
    /** In the middle of a sentence: the morning. */
    shift: (id: string | undefined): string => {
      const name = lab?.shifts.find((one) => one.id === id)?.name
      return name === undefined ? 'that shift' : `the ${lower(name)}`
    },
    /** 10:12 in the lab's zone; empty for no time. */
    clock: (instant: string | undefined): string =>
      instant === undefined || instant === '' ? '' : sayClock(instant, lab?.zone ?? 'UTC'),
    /** Thursday 12 March; that day. */
    day: (date: string | undefined): string => (date ? sayDate(date, 'long') : 'that day'),
    safetyContact: lab?.safetyContact ?? '',
  }
}

/** First letter small, unless the word is a code or an abbreviation: A3, CT scan. */
const lower = (text: string): string =>
  /^\p{Lu}\p{Ll}/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text
