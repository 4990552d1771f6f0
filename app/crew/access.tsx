'use client'
// How somebody gets in: an invite link, a link for another device of one's own, a PIN for shared tablets; and for the
// manager, whether they still belong to the crew.
import { useState } from 'react'
import type { RecordOf } from '#lib/words'
import { ActForm, Button, DialogButton, Notice, Section, TextField } from '../_parts/controls/index.ts'
import { post } from '../_shell/http.ts'
import { useTry } from '../_shell/use-try.ts'
import { Erase } from './erase.tsx'
import { LinkSheet } from './link-sheet.tsx'
import type { CrewAt } from './use-crew-at.ts'

type AccessProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** The ways in. */
export function Access({ at, person }: AccessProps) {
  const isOwn = person.id === at.me
  return (
    <Section title="Getting in" className="no-print">
      <div className="flex flex-wrap gap-3 pt-3">
        {person.isActive ? (
          <DialogButton
            word={isOwn ? 'Link for another device…' : 'Invite link…'}
            title={isOwn ? 'Another device of mine' : `A link for ${person.name}`}
            width="narrow"
          >
            {() => (
              <LinkSheet
                path="/api/invite"
                body={{ personId: person.id }}
                words={`Lets ${isOwn ? 'you' : person.name} in once, within a week. A new link ends the former one.`}
              />
            )}
          </DialogButton>
        ) : null}
        {isOwn ? (
          <DialogButton mark="private" word="My PIN…" title="PIN for shared tablets" width="narrow">
            {(close) => <PinForm onDone={close} />}
          </DialogButton>
        ) : null}
        {at.isManager && !isOwn && person.isActive ? <SignOutAll person={person} /> : null}
        {at.isManager && !isOwn && !person.erased ? <Belongs person={person} /> : null}
        {at.isManager && !isOwn && !person.erased ? <Erase person={person} /> : null}
      </div>
    </Section>
  )
}

function PinForm({ onDone }: { readonly onDone: () => void }) {
  const [pin, setPin] = useState('')
  const [problem, setProblem] = useState<string>()
  const keep = async () => {
    const answer = await post('/api/pin', { pin })
    if (answer.ok) onDone()
    else setProblem('Not kept. On a shared tablet only a first PIN can be set; else try again in a moment.')
  }
  return (
    <ActForm act="Keep the PIN" problem={problem} isOff={!/^\d{4,8}$/.test(pin)} onAct={() => void keep()}>
      <TextField
        label="New PIN"
        hint="Four to eight figures. On a shared tablet it says that it is you."
        type="password"
        inputMode="numeric"
        autoComplete="new-password"
        value={pin}
        onChange={(event) => setPin(event.target.value)}
      />
    </ActForm>
  )
}

/** For somebody whose only phone is the one that was lost. */
function SignOutAll({ person }: { readonly person: RecordOf<'person'> }) {
  const [problem, setProblem] = useState<string>()
  const end = async (close: () => void) => {
    const answer = await post('/api/devices', { endAllOf: person.id })
    if (answer.ok) close()
    else setProblem('Nobody was signed out. Try again on a device of your own, when the lab is in reach.')
  }
  return (
    <DialogButton word="Sign out everywhere…" title={`Sign ${person.name} out everywhere`} width="narrow">
      {(close) => (
        <ActForm act="Sign them out" problem={problem} onAct={() => void end(close)}>
          <p>
            On every phone, tablet and computer, at once where it is in reach. What it holds of the lab is cleared then.
            A new invite link lets them in again.
          </p>
        </ActForm>
      )}
    </DialogButton>
  )
}

function Belongs({ person }: { readonly person: RecordOf<'person'> }) {
  const { attempt, problem } = useTry()
  if (!person.isActive)
    return (
      <>
        <Button onClick={() => attempt({ kind: 'editPerson', personId: person.id, patch: { isActive: true } })}>
          {person.name} is back
        </Button>
        {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      </>
    )
  return (
    <DialogButton kind="quiet" word={`${person.name} leaves…`} title={`${person.name} leaves`} width="narrow">
      {(close) => (
        <ActForm
          act="They have left"
          problem={problem}
          onAct={() => {
            if (attempt({ kind: 'editPerson', personId: person.id, patch: { isActive: false } })) close()
          }}
        >
          <p>
            They are signed out everywhere and offered nothing any more. What they did and wrote stays in the record
            under their name, and they can come back.
          </p>
        </ActForm>
      )}
    </DialogButton>
  )
}
