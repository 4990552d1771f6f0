'use client'
// The house around every screen: strip, refusals, the screen itself, foot. Board content is painted only in the
// browser, from the last copy at once and from the live connection a moment later; the Wall stands without a house.
import { usePathname } from 'next/navigation'
import { type ReactNode, useEffect } from 'react'
import { useBoard, useGate, useSave } from '../_board/index.ts'
import { AsOf, Button, Notice } from '../_parts/controls/index.ts'
import { BackToSetUp } from '../setup/back-strip.tsx'
import { Foot, Header, useLabTime } from './header.tsx'
import { fetchTheRest } from './later.tsx'
import { Refusals } from './refusals.tsx'
import type { ShellSession } from './session.ts'
import { SignedOut } from './signed-out.tsx'

/** Screens that stand alone: the Wall, and the door. */
const isBare = (path: string) => path === '/wall' || path.startsWith('/wall/') || path.startsWith('/join')

/** Puts the house around a screen. */
export function Shell({ session, children }: { readonly session: ShellSession; readonly children: ReactNode }) {
  const path = usePathname()
  const gate = useGate()
  const isDemo = useBoard((records) => records.lab.get('lab')?.isDemo) ?? session.isDemo
  const isThere = useBoard((records) => records.lab.size > 0)
  useEffect(() => {
    if (gate === 'in' && isThere) fetchTheRest()
  }, [gate, isThere])
  if (isBare(path)) return children
  if (gate === 'reload') return <Newer />
  if (gate === 'out') return <SignedOut lab={session.lab} isDemo={session.isDemo} />
  if (gate === 'opening') return <Opening lab={session.lab} />
  return (
    <div className="flex min-h-dvh flex-col">
      <a
        href="#screen"
        className="sr-only focus-visible:not-sr-only focus-visible:absolute focus-visible:z-20 focus-visible:bg-paper focus-visible:p-3"
      >
        To the screen
      </a>
      <Header isDemo={isDemo} />
      <Refusals />
      <Stale />
      <BackToSetUp />
      <main id="screen" tabIndex={-1} className="flex-1 outline-none">
        {children}
      </main>
      <Foot />
    </div>
  )
}

/** When what is shown is the last copy and not the present, it says from when. */
function Stale() {
  const { state, at } = useSave()
  const time = useLabTime(at)
  if (state !== 'offline' || at === null) return null
  return (
    <div className="margin-page border-b border-line py-1">
      <AsOf time={time} />
    </div>
  )
}

/** The server speaks a newer language than this page. */
function Newer() {
  return (
    <main className="margin-page py-10">
      <Notice
        kind="stale"
        action={
          <Button kind="ink" onClick={() => window.location.reload()}>
            Load the new one
          </Button>
        }
      >
        The lab has a newer Talus. What you did here is held on this device and goes along.
      </Notice>
    </main>
  )
}

/** Before anything is painted in the browser: the name, a rule, one quiet word. No board, no style of its own. */
function Opening({ lab }: { readonly lab: string }) {
  return (
    <div className="flex min-h-dvh flex-col">
      <header className="margin-page flex min-h-14 items-center border-b-[1.5px] border-ink">
        <span className="heading text-page">Talus</span>
      </header>
      <main className="margin-page py-6">
        <h1 className="heading text-section">{lab || 'The lab'}</h1>
        <p className="text-umber" role="status">
          Opening.
        </p>
        <noscript>
          <Notice kind="error">Talus needs scripts to be on: the board is live.</Notice>
        </noscript>
      </main>
    </div>
  )
}
