'use client'
// The demo lab alone: choose whom to be. It says plainly that this is a demo; a real lab has invitations and PINs.
import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import type { People, Role } from '#lib/words'
import { useSession } from '../_board/index.ts'
import { Button, NoticeLine, SearchField } from '../_parts/controls/index.ts'
import { sayRole } from '../_text/index.ts'
import { get, post } from './http.ts'

const roles: readonly (readonly [Role, string])[] = [
  ['manager', 'draws up and posts the day'],
  ['preparator', 'does and supervises skilled work'],
  ['volunteer', 'sees where to sit, claims, logs'],
  ['researcher', 'follows the specimens they wait for'],
]

/** Everybody of the demo lab, and the wall; one press and one is them. */
export function PersonChoice() {
  const router = useRouter()
  const { changePerson } = useSession()
  const [people, setPeople] = useState<People['people'] | null>(null)
  const [typed, setTyped] = useState('')
  const [hasFailed, setFailed] = useState(false)
  useEffect(() => {
    void get<People>('/api/demo').then((answer) => {
      if (answer.ok) setPeople(answer.body.people)
      else setFailed(true)
    })
  }, [])
  const be = async (personId: string) => {
    const answer = await post('/api/demo', { personId })
    if (!answer.ok) return setFailed(true)
    await changePerson()
    router.push(personId === 'wall' ? '/wall' : '/')
  }
  if (people === null) return <p role="status">{hasFailed ? 'The lab is out of reach.' : 'Reading the crew.'}</p>
  const wanted = typed.trim().toLowerCase()
  return (
    <div className="flex flex-col gap-3">
      <SearchField label="Name" value={typed} onValue={setTyped} />
      {hasFailed ? <NoticeLine>The lab is out of reach.</NoticeLine> : null}
      {roles.map(([role, comesTo]) => {
        const group = people.filter((one) => one.role === role && one.name.toLowerCase().includes(wanted))
        if (group.length === 0) return null
        return (
          <fieldset key={role}>
            <legend className="text-small text-umber">
              <b>{sayRole(role)}</b>: {comesTo}
            </legend>
            <div className="mt-1 flex flex-wrap gap-2">
              {group.map((one) => (
                <Button key={one.id} onClick={() => void be(one.id)}>
                  {one.name}
                </Button>
              ))}
            </div>
          </fieldset>
        )
      })}
      <fieldset>
        <legend className="text-small text-umber">
          <b>{sayRole('wall')}</b>: a screen in the room, reads today only
        </legend>
        <Button className="mt-1" onClick={() => void be('wall')}>
          The screen in the room
        </Button>
      </fieldset>
    </div>
  )
}
