'use client'
// The first people of a lab: a name, a role, and a link to send them. Skills and weekly patterns follow on Crew.
import { useRef, useState } from 'react'
import type { PersonId, RecordOf } from '#lib/words'
import { useBoard, useNewId, useNow } from '../_board/index.ts'
import { Button, Row, Rows, Select, TextField } from '../_parts/controls/index.ts'
import { post } from '../_shell/http.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayRole } from '../_text/index.ts'
import { LinkLine } from '../settings/link-line.tsx'
import { Problem } from '../settings/problem.tsx'

type Role = RecordOf<'person'>['role']
const roles: readonly Role[] = ['volunteer', 'preparator', 'researcher', 'manager']

/** Adds people and makes their links. */
export function PeopleStep() {
  const people = useBoard((records) => [...records.person.values()].filter((person) => person.isActive))
  const newId = useNewId()
  const { date } = useNow(60_000)
  const { attempt, problem } = useTry()
  const first = useRef<HTMLInputElement>(null)
  const [name, setName] = useState('')
  const [familyName, setFamilyName] = useState('')
  const [role, setRole] = useState<Role>('volunteer')
  const add = () => {
    const isDone = attempt({
      kind: 'addPerson',
      person: {
        id: newId() as PersonId,
        name: name.trim(),
        familyName: familyName.trim(),
        role,
        skills: [],
        pattern: [],
        exceptions: [],
        loves: [],
        since: date,
        isActive: true,
        hasJoined: false,
      },
    })
    if (!isDone) return
    setName('')
    setFamilyName('')
    // One after the other is typed: the next name goes where the last began.
    first.current?.focus()
  }
  return (
    <div className="flex flex-col gap-4">
      <form
        className="grid items-end gap-3 tablet:grid-cols-[1fr_1fr_11rem_auto]"
        onSubmit={(event) => {
          event.preventDefault()
          if (name.trim() !== '') add()
        }}
      >
        <TextField
          ref={first}
          label="First name, as called"
          value={name}
          onChange={(event) => setName(event.target.value)}
        />
        <TextField label="Family name" value={familyName} onChange={(event) => setFamilyName(event.target.value)} />
        <Select
          label="Role"
          value={role}
          choices={roles.map((value) => ({ value, label: sayRole(value) }))}
          onValue={(value) => setRole(value as Role)}
        />
        <Button type="submit" mark="add" disabled={name.trim() === ''}>
          Add
        </Button>
      </form>
      <Problem say={problem} />
      <Rows>
        {people.map((person) => (
          <PersonRow key={person.id} person={person} />
        ))}
      </Rows>
    </div>
  )
}

function PersonRow({ person }: { readonly person: RecordOf<'person'> }) {
  const [link, setLink] = useState<string>()
  const [hasFailed, setFailed] = useState(false)
  const invite = async () => {
    const answer = await post<{ readonly link: string }>('/api/invite', { personId: person.id })
    setFailed(!answer.ok)
    if (answer.ok) setLink(answer.body.link)
  }
  return (
    <>
      <Row
        note={
          hasFailed
            ? 'No link was made; the lab is out of reach.'
            : person.hasJoined
              ? 'has joined'
              : 'has not joined yet'
        }
        end={
          person.hasJoined ? undefined : (
            <Button onClick={() => void invite()}>
              Invitation<span className="sr-only"> for {person.name}</span>
            </Button>
          )
        }
      >
        <b>{person.name}</b> {person.familyName}, {sayRole(person.role).toLowerCase()}
      </Row>
      {link === undefined ? null : (
        <li className="py-2">
          <LinkLine link={link} />
        </li>
      )}
    </>
  )
}
