'use client'
// Crafts somebody brings along from elsewhere: a modeller's hand, a carpenter's, a painter's. Their own to say.
import { useState } from 'react'
import type { RecordOf } from '#lib/words'
import { ActForm, Check, DialogButton, Section, TextField } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { capital, sayList } from '../../_text/index.ts'
import type { CrewAt } from '../use-crew-at.ts'

/** What is often of use in a preparation lab; anything else is typed. */
const usual = [
  'modelling',
  'carpentry',
  'painting',
  'microscope work',
  'casting and moulding',
  'drawing',
  'photography',
]

type CraftsProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** The crafts, in words. */
export function Crafts({ at, person }: CraftsProps) {
  const crafts = person.crafts ?? []
  return (
    <Section title="Brings along">
      <p className="named pt-2 text-say">
        {crafts.length === 0 ? 'Nothing said yet.' : `${capital(sayList(crafts))}.`}
      </p>
      {at.isManager || person.id === at.me ? (
        <DialogButton
          kind="quiet"
          word="Change…"
          label="Change the crafts they bring along"
          title="Brings along"
          className="-ml-2"
        >
          {(close) => <CraftsForm person={person} onDone={close} />}
        </DialogButton>
      ) : null}
    </Section>
  )
}

function CraftsForm({ person, onDone }: Pick<CraftsProps, 'person'> & { readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const [crafts, setCrafts] = useState(person.crafts ?? [])
  const [other, setOther] = useState('')
  const all = [...usual, ...crafts.filter((one) => !usual.includes(one))]
  return (
    <ActForm
      act="Keep it"
      problem={problem}
      onAct={() => {
        const typed = other.split(',').flatMap((one) => one.trim().toLowerCase() || [])
        const kept = [...new Set([...crafts, ...typed])]
        if (attempt({ kind: 'editPerson', personId: person.id, patch: { crafts: kept } })) onDone()
      }}
    >
      <div className="grid tablet:grid-cols-2">
        {all.map((one) => (
          <Check
            key={one}
            label={capital(one)}
            isOn={crafts.includes(one)}
            onToggle={(isOn) => setCrafts(isOn ? [...crafts, one] : crafts.filter((craft) => craft !== one))}
          />
        ))}
      </div>
      <TextField
        label="Others, with commas between"
        maxLength={200}
        value={other}
        onChange={(event) => setOther(event.target.value)}
      />
    </ActForm>
  )
}
