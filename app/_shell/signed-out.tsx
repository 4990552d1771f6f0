'use client'
// Nobody is signed in here. A real lab says how one comes in; the demo lab lets one choose whom to be.
import { Notice } from '../_parts/controls/index.ts'
import { Sign } from '../_parts/marks/index.ts'
import { PersonChoice } from './person-choice.tsx'
import { SwitchPerson } from './switch-person.tsx'

/** The page before one is anybody. */
export function SignedOut({ lab, isDemo }: { readonly lab: string; readonly isDemo: boolean }) {
  return (
    <main className="margin-page mx-auto flex min-h-dvh max-w-2xl flex-col gap-8 py-10">
      <header className="flex items-center gap-3">
        <Sign size={44} />
        <h1 className="heading text-title">{lab || 'Talus'}</h1>
      </header>
      {isDemo ? (
        <>
          <p className="named text-say">
            This is an invented lab to try things in. Nobody in it is real, and whatever you do here stays here. Choose
            whom to be.
          </p>
          <PersonChoice />
        </>
      ) : (
        <>
          <Notice kind="empty">
            You come in by an invitation link from the manager of the lab. It works once; after that this device knows
            you.
          </Notice>
          <SwitchPerson title="A shared bench tablet" />
        </>
      )}
    </main>
  )
}
