'use client'
// What the name in the corner opens: the light, my PIN, the way out; on a shared tablet somebody else by PIN, in the
// demo lab anybody at all.
import Link from 'next/link'
import { useEffect, useState } from 'react'
import type { Me } from '#lib/words'
import { useSession } from '../_board/index.ts'
import { HOME } from '../_parts/address.ts'
import { Button, Notice, TextField } from '../_parts/controls/index.ts'
import { Mark, type MarkName } from '../_parts/marks/index.ts'
import { CalendarAddressForm } from './calendar-address.tsx'
import { DeviceList } from './devices.tsx'
import { get, post } from './http.ts'
import { PersonChoice } from './person-choice.tsx'
import { SwitchPerson } from './switch-person.tsx'
import { ThemeChoice } from './theme.tsx'

/** One page of the sheet. */
export type WhoPage = 'menu' | 'else' | 'switch' | 'pin' | 'calendar' | 'devices'

type WhoSheetProps = MenuProps & { readonly page: WhoPage }

/** The page of the sheet that is asked for. */
export function WhoSheet({ page, ...menu }: WhoSheetProps) {
  switch (page) {
    case 'else':
      return <PersonChoice />
    case 'switch':
      return <SwitchPerson />
    case 'pin':
      return <OwnPin onDone={() => menu.onPage('menu')} />
    case 'calendar':
      return <CalendarAddressForm />
    case 'devices':
      return <DeviceList />
    case 'menu':
      return <Menu {...menu} />
  }
}

type MenuProps = {
  readonly isDemo: boolean
  readonly role: string
  readonly onPage: (page: WhoPage) => void
  readonly onGone: () => void
}

function Menu({ isDemo, role, onPage, onGone }: MenuProps) {
  const { signOut } = useSession()
  const isStaff = role === 'manager' || role === 'preparator'
  const leave = async () => {
    const answer = await post('/api/sign-out', {})
    if (!answer.ok && answer.status !== 0) return
    await signOut()
    window.location.assign(HOME)
  }
  return (
    <div className="flex flex-col gap-4">
      <ThemeChoice />
      <ul>
        {isDemo ? (
          <MenuButton
            mark="person"
            word="Be somebody else"
            note="only in this demo lab"
            onPress={() => onPage('else')}
          />
        ) : (
          <>
            <MenuButton
              mark="person"
              word="Somebody else sits here now"
              note="by PIN"
              onPress={() => onPage('switch')}
            />
            <MenuButton mark="private" word="My PIN" note="for shared tablets" onPress={() => onPage('pin')} />
            {isStaff ? <BenchTablet /> : null}
          </>
        )}
        <MenuButton
          mark="clock"
          word="In my own calendar"
          note="shifts and dates, under a private address"
          onPress={() => onPage('calendar')}
        />
        <MenuButton
          mark="private"
          word="Where I am signed in"
          note="sign out a lost phone"
          onPress={() => onPage('devices')}
        />
        {role === 'researcher' ? null : <MenuLink mark="person" word="Crew" href="/crew" onGone={onGone} />}
        {role === 'researcher' ? null : <MenuLink mark="consolidate" word="Batches" href="/batches" onGone={onGone} />}
        {isStaff ? <MenuLink mark="clock" word="My shift" href="/mine" onGone={onGone} /> : null}
        {role === 'researcher' ? null : <MenuLink mark="sheet" word="Labels" href="/labels" onGone={onGone} />}
        {isStaff ? <MenuLink mark="sending" word="Files out" href="/out" onGone={onGone} /> : null}
        {role === 'manager' ? (
          <>
            <MenuLink mark="microscope" word="Room and places" href="/room" onGone={onGone} />
            <MenuLink mark="ceiling" word="Lab settings" href="/settings" onGone={onGone} />
          </>
        ) : null}
        <MenuButton
          mark="after"
          word="Sign out"
          note="the copy on this device is cleared"
          onPress={() => void leave()}
        />
      </ul>
    </div>
  )
}

/** Makes this device the one that passes from hand to hand, or ends that. */
function BenchTablet() {
  const { changePerson } = useSession()
  const [isBench, setBench] = useState<boolean | null>(null)
  useEffect(() => {
    void get<Me>('/api/me').then((answer) => {
      if (answer.ok) setBench(answer.body.isBench)
    })
  }, [])
  if (isBench === null) return null
  const turn = async () => {
    const answer = await post('/api/bench-tablet', { isBench: !isBench })
    if (!answer.ok) return
    setBench(!isBench)
    await changePerson()
  }
  return (
    <MenuButton
      mark="housebench"
      word={isBench ? 'No longer a shared tablet' : 'Make this a shared bench tablet'}
      note={isBench ? 'it stays yours' : 'people switch here by PIN'}
      onPress={() => void turn()}
    />
  )
}

type MenuButtonProps = {
  readonly mark: MarkName
  readonly word: string
  readonly note?: string
  readonly onPress: () => void
}

function MenuButton({ mark, word, note, onPress }: MenuButtonProps) {
  return (
    <li className="border-b border-line last:border-b-0">
      <button type="button" className="choice flex items-center gap-3" onClick={onPress}>
        <Mark name={mark} size={22} />
        <span>
          <span className="block font-strong">{word}</span>
          {note === undefined ? null : <span className="block text-small text-umber">{note}</span>}
        </span>
      </button>
    </li>
  )
}

type MenuLinkProps = {
  readonly mark: MarkName
  readonly word: string
  readonly href: string
  readonly onGone: () => void
}

function MenuLink({ mark, word, href, onGone }: MenuLinkProps) {
  return (
    <li className="border-b border-line last:border-b-0">
      <Link className="choice flex items-center gap-3" href={href} onClick={onGone}>
        <Mark name={mark} size={22} />
        <span className="font-strong">{word}</span>
      </Link>
    </li>
  )
}

function OwnPin({ onDone }: { readonly onDone: () => void }) {
  const [pin, setPin] = useState('')
  const [problem, setProblem] = useState<string>()
  const isGood = /^\d{4,8}$/.test(pin)
  return (
    <form
      className="flex flex-col gap-4"
      onSubmit={(event) => {
        event.preventDefault()
        if (!isGood) return setProblem('Four to eight figures.')
        void post('/api/pin', { pin }).then((answer) =>
          answer.ok ? onDone() : setProblem('Not kept. Try again when the lab is in reach.'),
        )
      }}
    >
      <TextField
        label="New PIN"
        type="password"
        inputMode="numeric"
        autoComplete="new-password"
        value={pin}
        problem={problem}
        onChange={(event) => setPin(event.target.value)}
      />
      <Notice kind="plain">On a shared tablet this PIN says that it is you.</Notice>
      <Button kind="ink" type="submit">
        Keep the PIN
      </Button>
    </form>
  )
}
