'use client'
// The command field: one key opens it, a few letters of a number, a code or a name, Enter leads there. What it opens
// is in find-sheet.tsx, fetched once the page has come to rest.
import { useEffect, useState } from 'react'
import { Dialog } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { later } from './later.tsx'

const FindSheet = later(() => import('./find-sheet.tsx').then((part) => part.FindSheet))

/** The field in the header, and the sheet it opens. */
export function FindField({ isWide }: { readonly isWide: boolean }) {
  const [isOpen, setOpen] = useState(false)
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const isCommand = event.key.toLowerCase() === 'k' && (event.ctrlKey || event.metaKey)
      const isSlash = event.key === '/' && !isTyping(event.target) && !event.ctrlKey && !event.metaKey && !event.altKey
      if (!isCommand && !isSlash) return
      if (document.querySelector('dialog[open]')) return
      event.preventDefault()
      setOpen(true)
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [])
  return (
    <>
      <button
        type="button"
        className={isWide ? 'find w-64 text-left' : 'grid size-11 place-items-center'}
        aria-label="Find a number, name or person"
        aria-keyshortcuts="/ Control+K"
        aria-haspopup="dialog"
        onClick={() => setOpen(true)}
      >
        <Mark name="search" size={20} />
        {isWide ? (
          <>
            <span className="flex-1">Number, name, person</span>
            <kbd className="border border-edge px-1.5 text-cap">/</kbd>
          </>
        ) : null}
      </button>
      <Dialog isOpen={isOpen} title="Go to" width="form" onClose={() => setOpen(false)}>
        <FindSheet onGone={() => setOpen(false)} />
      </Dialog>
    </>
  )
}

function isTyping(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName))
}
