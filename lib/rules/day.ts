// One day with its turns looked up: what every rule reads. Turns that name something unknown are findings here and
// reach no rule, so a rule never has to ask twice.
import {
  type Finding,
  finding,
  type Person,
  type Place,
  type Records,
  type Shift,
  type Step,
  type Technique,
  type Work,
} from '#lib/words'
import { isHeldOn, labOf, type Piece, pieceOf, shiftOf, type Turn, techniqueOf, turnId } from './find.ts'
import { missingInduction } from './induction.ts'
import { isOfCrew, presenceOf } from './presence.ts'

/** A turn with all that it names. */
export type Placed = {
  readonly id: string
  readonly turn: Turn
  readonly person: Readonly<Person>
  readonly shift: Readonly<Shift>
  readonly piece: Piece
  readonly step: Readonly<Step>
  readonly technique: Readonly<Technique>
  readonly place: Readonly<Place>
  /** Work on this turn: running, paused or finished. */
  readonly works: readonly Readonly<Work>[]
}

export type DayView = {
  readonly records: Records
  readonly date: string
  readonly turns: readonly Placed[]
  /** Pieces that cannot be moved, by the place they lie at: they take an exclusive place in every shift. */
  readonly tied: () => ReadonlyMap<string, readonly string[]>
}

/** Work of a person's day whose turn is no longer on it: done all the same. */
export function worksBeside({ records, date, turns }: DayView, personId: string): readonly Readonly<Work>[] {
  const own = new Set(turns.filter((one) => one.person.id === personId).map((one) => one.id))
  return [...records.work.values()].filter(
    (work) => work.personId === personId && work.date === date && !own.has(turnId(date, work.shiftId, personId)),
  )
}

/** Looks up every turn of a day; findings for what is unknown or cannot be assigned at all. */
export function dayOf(
  records: Records,
  date: string,
  turns: readonly Turn[],
): { readonly day: DayView; readonly findings: readonly Finding[] } {
  const works = new Map<string, Readonly<Work>[]>()
  for (const work of records.work.values()) {
    if (work.date !== date) continue
    const id = turnId(date, work.shiftId, work.personId)
    works.set(id, [...(works.get(id) ?? []), work])
  }
  const placed: Placed[] = []
  const findings: Finding[] = []
  for (const turn of turns) {
    const id = turnId(date, turn.shiftId, turn.personId)
    const one = place(records, id, turn, works.get(id) ?? [])
    if ('rule' in one) findings.push(one)
    else {
      placed.push(one)
      findings.push(...standing(records, date, one))
    }
  }
  // Rules that count (seats, air, mentors) name whoever comes last; what is begun comes first, so that it is never
  // the finished turn that is named for an open one.
  const rank = (one: Placed) => (one.works.length === 0 ? 2 : isAllFinished(one) ? 0 : 1)
  placed.sort((a, b) => rank(a) - rank(b))
  return { day: { records, date, turns: placed, tied: once(() => tiedByPlace(records)) }, findings }
}

function place(records: Records, id: string, turn: Turn, works: readonly Readonly<Work>[]): Placed | Finding {
  const unknown = (what: string, which: string) => finding('O', `unknown-${what}`, { assignment: id, [what]: which })
  const person = records.person.get(turn.personId)
  if (!person) return unknown('person', turn.personId)
  const shift = shiftOf(records, turn.shiftId)
  if (!shift) return unknown('shift', turn.shiftId)
  const piece = pieceOf(records, turn.pieceId)
  if (!piece) return unknown('piece', turn.pieceId)
  const step = records.step.get(turn.stepId)
  if (!step || step.pieceId !== piece.id) return unknown('step', turn.stepId)
  const technique = techniqueOf(records, step.techniqueId)
  if (!technique) return unknown('technique', step.techniqueId)
  const at = records.place.get(turn.placeId)
  if (!at) return unknown('place', turn.placeId)
  return { id, turn, person, shift, piece, step, technique, place: at, works }
}

/** What must be so for anybody to be assigned at all, whatever the rules say. Begun work is past asking. */
function standing(records: Records, date: string, one: Placed): readonly Finding[] {
  if (one.works.length > 0) return []
  const ids = { assignment: one.id, person: one.person.id }
  const findings: Finding[] = []
  if (!isOfCrew(one.person)) findings.push(finding('O', 'not-crew', ids))
  for (const { name } of missingInduction(records, one.person, date))
    findings.push(finding('O', 'not-inducted', { ...ids, item: name }))
  if (!isHeldOn(records, one.shift, date)) {
    const code = labOf(records)?.closed.includes(date) ? 'lab-closed' : 'no-shift'
    findings.push(finding('O', code, { ...ids, shift: one.shift.id, date }))
  }
  if (presenceOf(records, one.person, date, one.shift.id).isAway) {
    findings.push(finding('O', 'is-away', { ...ids, shift: one.shift.id }))
  }
  if (one.step.state === 'done' || one.step.state === 'dropped') {
    findings.push(finding('O', `step-${one.step.state}`, { ...ids, step: one.step.id, piece: one.piece.id }))
  }
  return findings
}

/** Computed when first asked for: only exclusive places ask, and it looks at every piece. */
function once<T>(compute: () => T): () => T {
  let known: { readonly value: T } | null = null
  return () => {
    known ??= { value: compute() }
    return known.value
  }
}

function tiedByPlace(records: Records): ReadonlyMap<string, readonly string[]> {
  const tied = new Map<string, string[]>()
  for (const pieces of [records.jacket, records.specimen]) {
    for (const piece of pieces.values()) {
      if (piece.isTied && piece.placeId) tied.set(piece.placeId, [...(tied.get(piece.placeId) ?? []), piece.id])
    }
  }
  return tied
}

/** True when there is work on the turn and all of it is finished. */
export function isAllFinished(one: Placed): boolean {
  return one.works.length > 0 && one.works.every((work) => work.state === 'finished')
}
