'use client'
// The door: an invitation link opens here. Its secret stands behind the # and is sent only when one says yes, so that
// a preview of the link in somebody's mail does not use it up.
import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import type { Invitation, Me } from '#lib/words'
import { useSession } from '../_board/index.ts'
import { Button, Notice, TextField } from '../_parts/controls/index.ts'
import { Sign } from '../_parts/marks/index.ts'
import { post } from '../_shell/http.ts'

type Look =
  | { readonly state: 'looking' | 'lost' | 'used' | 'away' }
  | { readonly state: 'found'; readonly it: Invitation }

const troubles: Record<'lost' | 'used' | 'away', string> = {
  lost: 'This link does not open anything. Ask the manager of the lab for a new one.',
  used: 'This link was used already. On another device, ask for a link of your own for it.',
  away: 'The lab is out of reach. The link is not used up; try again.',
}

/** Shows what the link opens, asks a name where there is none, and goes in. */
export function JoinScreen() {
  const router = useRouter()
  const { changePerson } = useSession()
  const [token, setToken] = useState('')
  const [look, setLook] = useState<Look>({ state: 'looking' })
  const [name, setName] = useState('')
  const [problem, setProblem] = useState<string>()
  useEffect(() => {
    const secret = window.location.hash.slice(1)
    setToken(secret)
    void post<Invitation>('/api/invitation', { token: secret }).then((answer) => {
      if (answer.ok) {
        setLook({ state: 'found', it: answer.body })
        // As the manager wrote it down, to keep or to change.
        setName(answer.body.name ?? '')
      } else setLook({ state: answer.status === 410 ? 'used' : answer.status === 0 ? 'away' : 'lost' })
    })
  }, [])
  const join = async (asksName: boolean) => {
    if (asksName && name.trim() === '') return setProblem('A first name, as others call you.')
    const answer = await post<Me>('/api/join', asksName ? { token, name: name.trim() } : { token })
    if (answer.ok) {
      await changePerson()
      return router.replace(answer.body.role === 'wall' ? '/wall' : '/')
    }
    if (answer.status === 409) return setProblem('Somebody here has that name. Add a letter or choose another.')
    setLook({ state: answer.status === 410 ? 'used' : answer.status === 0 ? 'away' : 'lost' })
  }
  return (
    <main className="margin-page mx-auto flex min-h-dvh max-w-xl flex-col gap-6 py-10">
      <header className="flex items-center gap-3">
        <Sign size={44} />
        <h1 className="heading text-title">{look.state === 'found' ? look.it.lab : 'Talus'}</h1>
      </header>
      {look.state === 'looking' ? (
        <p role="status">Looking at the link.</p>
      ) : look.state === 'found' ? (
        <form
          className="flex flex-col gap-5"
          onSubmit={(event) => {
            event.preventDefault()
            void join(look.it.asksName)
          }}
        >
          <p className="named text-say">
            {look.it.role === 'wall'
              ? 'This link makes this screen the wall of the lab: it shows today, and nothing can be done on it.'
              : `You are invited as ${look.it.role}${look.it.name === null || look.it.asksName ? '' : `, ${look.it.name}`}. The link works once; after that this device knows you.`}
          </p>
          {look.it.asksName ? (
            <TextField
              label="Your first name"
              hint="As others call you; it is what the lab reads on the plan."
              autoComplete="given-name"
              value={name}
              problem={problem}
              onChange={(event) => setName(event.target.value)}
            />
          ) : null}
          <Button kind="ink" size="action" type="submit">
            Come in
          </Button>
        </form>
      ) : (
        <Notice
          kind="error"
          action={
            look.state === 'away' ? <Button onClick={() => window.location.reload()}>Try again</Button> : undefined
          }
        >
          {troubles[look.state]}
        </Notice>
      )}
    </main>
  )
}
