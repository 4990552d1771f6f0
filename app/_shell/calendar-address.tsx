'use client'
// The private address under which one's own calendar program finds one's shifts and dates: made, made anew, taken back.
import { useEffect, useState } from 'react'
import type { CalendarAddress } from '#lib/words'
import { Button, Notice } from '../_parts/controls/index.ts'
import { LinkLine } from '../settings/link-line.tsx'
import { get, post } from './http.ts'

/** Has an address: none, one that was made earlier, or one that was made just now and is told this once. */
type State = { readonly has: boolean; readonly link?: string }

/** The address, and what can be done with it. */
export function CalendarAddressForm() {
  const [state, setState] = useState<State | null>(null)
  const [problem, setProblem] = useState<string>()
  useEffect(() => {
    void get<CalendarAddress>('/api/calendar-address').then((answer) => {
      if (answer.ok) setState({ has: answer.body.madeAt !== null })
      else setProblem('The lab is out of reach. Come back when it is not.')
    })
  }, [])
  const want = async (isWanted: boolean) => {
    const answer = await post<{ readonly link?: string }>('/api/calendar-address', { isWanted })
    if (!answer.ok)
      return setProblem(
        answer.status === 403
          ? 'Not on a shared tablet: make it on a device of your own.'
          : 'Not done. The lab is out of reach.',
      )
    setProblem(undefined)
    setState({ has: isWanted, ...(answer.body.link === undefined ? {} : { link: answer.body.link }) })
  }
  return (
    <div className="flex flex-col gap-4">
      <p>
        An address that a calendar program asks by itself, so that your shifts and the dates of your pieces stand in it
        and follow what is posted. Add it there as a calendar from the internet.
      </p>
      {state?.link === undefined ? null : (
        <>
          <LinkLine link={state.link} />
          <Notice kind="plain">Shown this once. Whoever has it can read your shifts: give it to nobody.</Notice>
        </>
      )}
      {state?.has === true && state.link === undefined ? (
        <p>There is an address. It is not shown again; make a new one if you have lost it.</p>
      ) : null}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      {state === null ? null : (
        <div className="flex flex-wrap gap-3">
          <Button kind={state.has ? 'line' : 'ink'} onClick={() => void want(true)}>
            {state.has ? 'A new address; the old one ends' : 'Make my address'}
          </Button>
          {state.has ? <Button onClick={() => void want(false)}>No address any more</Button> : null}
        </div>
      )}
    </div>
  )
}
