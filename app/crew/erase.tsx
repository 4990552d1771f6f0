'use client'
// Somebody asks for their data to go: what goes, what stays and under which name, told before the press.
import { useState } from 'react'
import type { RecordOf } from '#lib/words'
import { ActForm, Check, DialogButton } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'

type As = 'name' | 'initials' | 'volunteer'

/** The button and its sheet. */
export function Erase({ person }: { readonly person: RecordOf<'person'> }) {
  return (
    <DialogButton kind="quiet" word="Take private data out…" title={`${person.name}’s private data`} width="form">
      {(close) => <EraseForm person={person} onDone={close} />}
    </DialogButton>
  )
}

function EraseForm({ person, onDone }: { readonly person: RecordOf<'person'>; readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const [as, setAs] = useState<As>('initials')
  const ways: readonly (readonly [As, string])[] = [
    ['name', `${person.name} ${person.familyName}`.trim()],
    ['initials', 'Their initials'],
    ['volunteer', '“a volunteer”'],
  ]
  return (
    <ActForm
      act="Take it out for good"
      problem={problem}
      onAct={() => {
        if (attempt({ kind: 'erasePerson', personId: person.id, as })) onDone()
      }}
    >
      <p>
        <b>Goes for good</b>, from the records and from the history: how to reach them, private notes, sign-offs with
        their notes, days and exceptions, ticks, what they love doing and bring along, offered turns. They are signed
        out everywhere.
      </p>
      <p>
        <b>Stays</b>: what they did and wrote on pieces, the hours they gave, what they were told of the induction, and,
        because the law asks for it, exposure figures, air samples and incidents. Who signed off others stays too.
        Copies of the data made before today are not changed; delete those yourself.
      </p>
      <fieldset>
        <legend className="font-firm">The record names them as</legend>
        {ways.map(([way, word]) => (
          <Check key={way} oneOf="attribution" label={word} isOn={as === way} onToggle={() => setAs(way)} />
        ))}
      </fieldset>
    </ActForm>
  )
}
