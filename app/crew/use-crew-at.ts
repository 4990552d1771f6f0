'use client'
// What every part of Crew is given: the records, today, the shift one looks at, and what whoever looks may do.
import { useSearchParams } from 'next/navigation'
import { minuteOf } from '#lib/base'
import { shiftsOn } from '#lib/views'
import type { PersonId, RecordOf, Records, Role } from '#lib/words'
import { useBoard, useDerived, useNow, useWho } from '../_board/index.ts'

export type Shift = RecordOf<'lab'>['shifts'][number]

export type CrewAt = {
  readonly records: Records
  readonly today: string
  readonly minute: number
  readonly shifts: readonly Shift[]
  /** The shift that is shown; null on a day without any. */
  readonly shift: Shift | null
  readonly me: PersonId
  readonly role: Role
  readonly isStaff: boolean
  readonly isManager: boolean
}

/** Null until it is known who is here. */
export function useCrewAt(): CrewAt | null {
  const records = useBoard((board) => board)
  const now = useNow(60_000)
  const who = useWho()
  const wanted = useSearchParams().get('shift')
  const lab = records.lab.get('lab')
  const shifts = useDerived(records, () => (lab ? shiftsOn(lab, now.date) : []), [lab, now.date])
  if (!who || !lab || now.ms === 0) return null
  const running = shifts.find((one) => now.minute < minuteOf(one.end))
  return {
    records,
    today: now.date,
    minute: now.minute,
    shifts,
    shift: shifts.find((one) => one.id === wanted) ?? running ?? shifts.at(-1) ?? null,
    me: who.personId,
    role: who.role,
    isStaff: who.role === 'manager' || who.role === 'preparator',
    isManager: who.role === 'manager',
  }
}

/** Somebody's name. */
export const nameIn = (records: Records, personId: string | null): string =>
  (personId === null ? undefined : records.person.get(personId)?.name) ?? 'somebody'
