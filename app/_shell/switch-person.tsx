'use client'
// A bench tablet passes from hand to hand: choose a name, key the PIN, and what is done from here on is theirs.
import { useRouter } from 'next/navigation'
import { type ReactNode, useEffect, useState } from 'react'
import type { People } from '#lib/words'
import { useSession } from '../_board/index.ts'
import { Button, Check, Section, TextField } from '../_parts/controls/index.ts'
import { get, post } from './http.ts'

/** Names of those who have a PIN, then the PIN. With a title it is a section of a page, and not there at all on a device of one's own. */
export function SwitchPerson({ title }: { readonly title?: string }) {
  return title === undefined ? <Switch /> : <Switch frame={(form) => <Section title={title}>{form}</Section>} />
}

function Switch({ frame }: { readonly frame?: (form: ReactNode) => ReactNode }) {
  const router = useRouter()
  const { changePerson } = useSession()
  const [people, setPeople] = useState<People['people'] | null>(null)
  const [chosen, setChosen] = useState<string | null>(null)
  const [pin, setPin] = useState('')
  const [problem, setProblem] = useState<string>()
  /** This device is one person's own: nobody is handed over here. */
  const [isOwn, setOwn] = useState(false)
  useEffect(() => {
    void get<People>('/api/bench-tablet').then((answer) => {
      setPeople(answer.ok ? answer.body.people : [])
      if (!answer.ok && answer.status === 0) setProblem('The lab is out of reach.')
      if (!answer.ok && answer.status !== 0) setOwn(true)
    })
  }, [])
  if (isOwn) return frame === undefined ? <p>This device is not a shared tablet.</p> : null
  if (people === null) return frame === undefined ? <p role="status">Reading the crew.</p> : null
  if (people.length === 0) return <p className="named text-say">Nobody has set a PIN yet.</p>
  const form = (
    <form
      className={`flex flex-col gap-4 ${frame === undefined ? '' : 'pt-4'}`}
      onSubmit={(event) => {
        event.preventDefault()
        if (chosen === null) return setProblem('Choose a name first.')
        void post('/api/switch', { personId: chosen, pin }).then((answer) => {
          if (answer.ok) void changePerson().then(() => router.push('/mine'))
          else setProblem(answer.status === 429 ? 'Too many tries. Wait a minute.' : 'That is not the PIN.')
        })
      }}
    >
      <fieldset className="max-h-72 overflow-y-auto">
        <legend className="text-small font-firm text-umber">Who</legend>
        {people.map((one) => (
          <Check
            key={one.id}
            oneOf="who"
            label={one.name}
            isOn={chosen === one.id}
            onToggle={() => setChosen(one.id)}
          />
        ))}
      </fieldset>
      <TextField
        label="PIN"
        type="password"
        inputMode="numeric"
        autoComplete="off"
        value={pin}
        problem={problem}
        onChange={(event) => setPin(event.target.value)}
      />
      <Button kind="ink" size="action" type="submit">
        It is me
      </Button>
    </form>
  )
  return frame === undefined ? form : frame(form)
}
