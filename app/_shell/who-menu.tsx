'use client'
// Who I am here: the name in the corner. What it opens is in who-sheet.tsx, fetched once the page has come to rest.
import { useState } from 'react'
import { useWho } from '../_board/index.ts'
import { Dialog } from '../_parts/controls/index.ts'
import { later } from './later.tsx'
import type { WhoPage } from './who-sheet.tsx'

const WhoSheet = later(() => import('./who-sheet.tsx').then((part) => part.WhoSheet))

const titles: Record<Exclude<WhoPage, 'menu'>, string> = {
  else: 'Be somebody else',
  switch: 'Somebody else sits here now',
  pin: 'PIN for a shared tablet',
  calendar: 'In my own calendar',
  devices: 'Where I am signed in',
}

/** The name in the corner and the sheet it opens. */
export function WhoMenu({ isDemo, isWide }: { readonly isDemo: boolean; readonly isWide: boolean }) {
  const who = useWho()
  const [page, setPage] = useState<WhoPage | null>(null)
  if (!who) return null
  return (
    <>
      <button
        type="button"
        className="flex min-h-11 min-w-11 items-center justify-center font-firm"
        aria-haspopup="dialog"
        aria-label={`${who.name}, ${who.role}: me, light, sign out`}
        onClick={() => setPage('menu')}
      >
        {isWide ? (
          who.name
        ) : (
          <span className="grid size-8 place-items-center rounded-full bg-ink text-small font-strong text-paper">
            {who.name.slice(0, 1)}
          </span>
        )}
      </button>
      <Dialog
        isOpen={page !== null}
        width="narrow"
        title={page === null || page === 'menu' ? `${who.name}, ${who.role}` : titles[page]}
        onClose={() => setPage(null)}
      >
        {page === null ? null : (
          <WhoSheet page={page} isDemo={isDemo} role={who.role} onPage={setPage} onGone={() => setPage(null)} />
        )}
      </Dialog>
    </>
  )
}
