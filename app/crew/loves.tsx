'use client'
// What somebody loves doing: their own to say, and the line-up leans towards it.
import { useState } from 'react'
import type { RecordOf } from '#lib/words'
import { ActForm, Check, DialogButton, Section } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, sayList } from '../_text/index.ts'
import type { CrewAt } from './use-crew-at.ts'

type LovesProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** The techniques they love, in words. */
export function Loves({ at, person }: LovesProps) {
  const techniques = at.records.lab.get('lab')?.techniques ?? []
  const loved = techniques.filter((one) => person.loves.includes(one.id)).map((one) => one.name.toLowerCase())
  return (
    <Section title="Loves doing">
      <p className="named pt-2 text-say">{loved.length === 0 ? 'Nothing said yet.' : `${capital(sayList(loved))}.`}</p>
      {at.isManager || person.id === at.me ? (
        <DialogButton
          kind="quiet"
          word="Change…"
          label="Change what they love doing"
          title="Loves doing"
          className="-ml-2"
        >
          {(close) => <LovesForm at={at} person={person} onDone={close} />}
        </DialogButton>
      ) : null}
    </Section>
  )
}

function LovesForm({ at, person, onDone }: LovesProps & { readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const [loves, setLoves] = useState(person.loves)
  return (
    <ActForm
      act="Keep it"
      problem={problem}
      onAct={() => {
        if (attempt({ kind: 'editPerson', personId: person.id, patch: { loves } })) onDone()
      }}
    >
      <div className="grid tablet:grid-cols-2">
        {(at.records.lab.get('lab')?.techniques ?? []).map((one) => (
          <Check
            key={one.id}
            label={one.name}
            isOn={loves.includes(one.id)}
            onToggle={(isOn) => setLoves(isOn ? [...loves, one.id] : loves.filter((id) => id !== one.id))}
          />
        ))}
      </div>
    </ActForm>
  )
}
