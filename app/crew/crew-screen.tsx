'use client'
// Crew: the list with its skills matrix, or one person opened from it. Which person stands in the address, so that a
// link from the Floor or the command field leads to them.
import { useSearchParams } from 'next/navigation'
import { usePresence } from '../_board/index.ts'
import { CrewList } from './crew-list.tsx'
import { NotHere } from './not-here.tsx'
import { PersonPage } from './person-page.tsx'
import { useCrewAt } from './use-crew-at.ts'
import './crew.css'

/** The people. */
export function CrewScreen() {
  const at = useCrewAt()
  const search = useSearchParams()
  usePresence('crew')
  if (!at || at.role === 'researcher') return <NotHere title="Crew" isComing={!at} rows={8} />
  const person = at.records.person.get(search.get('person') ?? '')
  return person ? <PersonPage key={person.id} at={at} person={person} /> : <CrewList at={at} />
}
