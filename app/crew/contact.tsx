'use client'
// How to reach somebody and whom to call: read by staff alone, written by the person or the manager. It is never on the
// board, the Wall or a researcher's screen.
import { useState } from 'react'
import type { RecordOf } from '#lib/words'
import { ActForm, DialogButton, Section, TextField } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import type { CrewAt } from './use-crew-at.ts'

type ContactProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

const parts = [
  ['phone', 'Phone', 'tel'],
  ['email', 'E-mail', 'email'],
  ['emergency', 'In an emergency', 'text'],
] as const

/** The contact, for those who may read or write it. */
export function ContactSection({ at, person }: ContactProps) {
  const contact = at.records.contact.get(person.id)
  const mayWrite = at.isManager || person.id === at.me
  return (
    <Section
      title="How to reach them"
      aside={
        <span className="flex items-center gap-1">
          <Mark name="private" size={18} /> staff only
        </span>
      }
    >
      {at.isStaff ? (
        <dl>
          {parts.map(([key, word]) => (
            <div key={key} className="flex gap-3 border-b border-line py-2">
              <dt className="w-32 flex-none text-small text-umber">{word}</dt>
              <dd>{contact?.[key] ? contact[key] : '–'}</dd>
            </div>
          ))}
        </dl>
      ) : (
        <p className="pt-2 text-umber">What you write here only managers and staff can read.</p>
      )}
      {mayWrite ? (
        <DialogButton word="Change…" label="Change how to reach them" title="How to reach them" className="mt-3">
          {(close) => <ContactForm at={at} person={person} onDone={close} />}
        </DialogButton>
      ) : null}
    </Section>
  )
}

function ContactForm({ at, person, onDone }: ContactProps & { readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const known = at.records.contact.get(person.id)
  const [now, setNow] = useState({
    phone: known?.phone ?? '',
    email: known?.email ?? '',
    emergency: known?.emergency ?? '',
  })
  return (
    <ActForm
      act="Keep it"
      problem={problem}
      onAct={() => {
        if (attempt({ kind: 'setContact', contact: { id: person.id, ...now } })) onDone()
      }}
    >
      {at.isStaff ? null : (
        <p className="text-umber">What stands there now is not shown here; what you write takes its place.</p>
      )}
      {parts.map(([key, word, type]) => (
        <TextField
          key={key}
          label={word}
          type={type}
          maxLength={240}
          value={now[key]}
          onChange={(event) => setNow({ ...now, [key]: event.target.value })}
        />
      ))}
    </ActForm>
  )
}
