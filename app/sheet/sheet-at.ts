// What every part of a Sheet is given: the records, the piece, the moment, and what whoever looks at it may do here.
import type { Sheet } from '#lib/views'
import type { PersonId, Records, Role, Technique } from '#lib/words'
import { sayMoment } from '../_text/index.ts'

export type SheetAt = {
  readonly records: Records
  readonly sheet: Sheet
  readonly today: string
  readonly zone: string
  readonly me: PersonId | null
  readonly role: Role
  /** At rest in the archive: nothing can be changed but bringing it back. */
  readonly isResting: boolean
  readonly isStaff: boolean
  readonly isManager: boolean
  /** May write into the record: staff, and a volunteer whose piece it is today. */
  readonly mayWrite: boolean
}

/** A person's name. */
export const nameOf = (at: Pick<SheetAt, 'records'>, personId: string | null): string =>
  (personId === null ? undefined : at.records.person.get(personId)?.name) ?? 'Somebody'

/** A technique of the lab. */
export const techniqueIn = (at: Pick<SheetAt, 'records'>, id: string | null): Readonly<Technique> | undefined =>
  at.records.lab.get('lab')?.techniques.find((one) => one.id === id)

/** A technique's name within a sentence. */
export function techniqueName(at: Pick<SheetAt, 'records'>, id: string | null): string {
  const name = techniqueIn(at, id)?.name
  return name === undefined ? 'a technique' : name.charAt(0).toLowerCase() + name.slice(1)
}

/** The ladder of force, gentlest first. */
export const ladderOf = (at: Pick<SheetAt, 'records'>): readonly Readonly<Technique>[] =>
  (at.records.lab.get('lab')?.techniques ?? [])
    .filter((one) => one.force !== null)
    .toSorted((a, b) => (a.force ?? 0) - (b.force ?? 0))

/** When something was, in the lab's zone. */
export const momentOf = (at: SheetAt, instant: string): string => sayMoment(instant, at.zone, at.today)
