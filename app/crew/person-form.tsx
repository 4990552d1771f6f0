'use client'
// Who somebody is: the name everybody sees, the role, since when. The manager's form, for a new person and for one who
// is here.
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import type { PersonId, RecordOf } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, Check, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayRole } from '../_text/index.ts'
import type { CrewAt } from './use-crew-at.ts'

const roles = ['manager', 'preparator', 'volunteer', 'researcher'] as const

const roleHints: Readonly<Record<(typeof roles)[number], string>> = {
  manager: 'Draws up and posts the day, changes everything, invites people.',
  preparator: 'Changes pieces and records, signs off skills, moves work today.',
  volunteer: 'Claims what they qualify for, logs and records on what is theirs today.',
  researcher: 'Reads, follows, asks, requests dates.',
}

export type PersonFormProps = {
  readonly at: CrewAt
  readonly person: RecordOf<'person'> | null
  readonly onDone: () => void
}

/** The form; a new person's page opens next, where the invite link is made. */
export function PersonForm({ at, person, onDone }: PersonFormProps) {
  const newId = useNewId()
  const router = useRouter()
  const { attempt, problem } = useTry()
  const [name, setName] = useState(person?.name ?? '')
  const [familyName, setFamilyName] = useState(person?.familyName ?? '')
  const [role, setRole] = useState<(typeof roles)[number]>(person?.role ?? 'volunteer')
  const [isSafety, setSafety] = useState(person?.isSafety ?? false)
  const [since, setSince] = useState(person?.since ?? at.today)
  const keep = () => {
    const said = { name: name.trim(), familyName: familyName.trim(), role, since, isSafety }
    if (person) {
      if (attempt({ kind: 'editPerson', personId: person.id, patch: said })) onDone()
      return
    }
    const id = newId() as PersonId
    const fresh = { id, skills: [], pattern: [], exceptions: [], loves: [], isActive: true, hasJoined: false }
    if (!attempt({ kind: 'addPerson', person: { ...fresh, ...said } })) return
    onDone()
    router.push(`/crew?person=${id}`)
  }
  return (
    <ActForm
      act={person ? 'Keep it' : 'Add them'}
      problem={problem}
      isOff={name.trim() === '' || since === ''}
      onAct={keep}
    >
      <div className="grid gap-4 tablet:grid-cols-2">
        <TextField
          label="First name"
          hint="Seen by everybody; one of a kind in the lab."
          maxLength={120}
          value={name}
          onChange={(event) => setName(event.target.value)}
        />
        <TextField
          label="Family name"
          hint="Seen by the crew alone."
          maxLength={240}
          value={familyName}
          onChange={(event) => setFamilyName(event.target.value)}
        />
      </div>
      <Select
        label="Role"
        value={role}
        onValue={(value) => setRole(roles.find((one) => one === value) ?? 'volunteer')}
        choices={roles.map((one) => ({ value: one, label: sayRole(one) }))}
        hint={roleHints[role]}
      />
      <Check
        label="Looks after safety"
        note="Reads everybody’s exposure, air samples and incidents beside the managers."
        isOn={isSafety}
        onToggle={setSafety}
      />
      <TextField label="Here since" type="date" value={since} onChange={(event) => setSince(event.target.value)} />
      {person ? null : <p className="text-umber">Next: an invite link for them.</p>}
    </ActForm>
  )
}
