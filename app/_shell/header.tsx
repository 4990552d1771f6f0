'use client'
// The strip at the top: the sign, the ways, the command field, whether all is kept, who I am. On a phone the ways go
// to the foot and the strip keeps the screen's name.
import Link from 'next/link'
import { usePathname } from 'next/navigation'
import { useEffect, useState } from 'react'
import { localAt, timeOfMinute } from '#lib/base'
import type { Op } from '#lib/ops'
import { type Acted, useBoard, useSave, useUndo, useWho } from '../_board/index.ts'
import { Button, Live, SaveMark } from '../_parts/controls/index.ts'
import { Mark, type MarkName, Sign } from '../_parts/marks/index.ts'
import { sayFindings, sayUndo } from '../_text/index.ts'
import { FindField } from './find-field.tsx'
import { useLastKept } from './last-kept.ts'
import { footWaysOf, isOn, waysOf } from './ways.ts'
import { WhoMenu } from './who-menu.tsx'

/** The strip at the top of every screen but the Wall. */
export function Header({ isDemo }: { readonly isDemo: boolean }) {
  const path = usePathname()
  const role = useWho()?.role ?? 'researcher'
  const ways = waysOf(role)
  const here = ways.find((way) => isOn(way, path))
  // On a phone the strip is narrow: what must be said of one's edits comes before the screen's name, which the foot has.
  const hasUndo = useUndo().label !== null
  const isOffline = useSave().state === 'offline'
  return (
    <header className="no-print border-b-[1.5px] border-ink">
      <div className="margin-page flex min-h-14 items-center gap-0.5 max-tablet:flex-wrap max-tablet:justify-end tablet:gap-2 desk:gap-4">
        <Link href="/" className="flex min-h-11 min-w-11 items-center gap-2.5" aria-label="Talus, to the Floor">
          <Sign size={30} />
          <span className="heading hidden text-page desk:inline">Talus</span>
        </Link>
        <span
          className="heading min-w-0 flex-1 basis-0 truncate pl-1 text-section [text-wrap:nowrap] tablet:hidden"
          aria-hidden="true"
        >
          {hasUndo || isOffline ? null : (here?.word ?? 'Talus')}
        </span>
        <nav aria-label="Screens" className="ml-2 hidden self-stretch tablet:flex desk:ml-5">
          {ways.map((way) => (
            <Link
              key={way.href}
              href={way.href}
              aria-current={isOn(way, path) ? 'page' : undefined}
              className={`flex items-center border-b-[5px] px-2.5 pt-[5px] text-say whitespace-nowrap desk:px-4 desk:text-body ${
                isOn(way, path)
                  ? 'border-ink font-strong'
                  : 'border-transparent font-firm forced-colors:border-[Canvas]'
              }`}
            >
              {way.word}
            </Link>
          ))}
        </nav>
        <span className="flex-1 max-tablet:hidden" />
        {isDemo ? (
          <span
            className={`hidden text-small font-firm whitespace-nowrap text-umber ${hasUndo ? 'desk:inline' : 'tablet:inline'}`}
            title="An invented lab; nobody here is real"
          >
            demo lab
          </span>
        ) : null}
        <Undo />
        <span className="hidden desk:block">
          <FindField isWide />
        </span>
        <span className="desk:hidden">
          <FindField isWide={false} />
        </span>
        <Kept />
        <span className="hidden desk:block">
          <WhoMenu isDemo={isDemo} isWide />
        </span>
        <span className="desk:hidden">
          <WhoMenu isDemo={isDemo} isWide={false} />
        </span>
      </div>
    </header>
  )
}

function Kept() {
  const { state, count, at } = useSave()
  const time = useLabTime(useLastKept(state === 'offline' ? null : at))
  switch (state) {
    case 'kept':
      return <SaveMark state={{ kind: 'kept', at: time }} />
    case 'sending':
      return <SaveMark state={{ kind: 'sending', count }} />
    case 'offline':
      return <SaveMark state={{ kind: 'offline', count }} />
    case 'read-only':
      return <Corner mark="offline">{`not kept now, ${count} held here`}</Corner>
    case 'opening':
      return <Corner mark="sending">opening</Corner>
  }
}

function Corner({ mark, children }: { readonly mark: MarkName; readonly children: string }) {
  return (
    <span className="flex min-h-11 items-center gap-1.5 text-small font-firm" role="status">
      <Mark name={mark} size={22} />
      {children}
    </span>
  )
}

/** An instant as the lab's clock shows it; empty before the first. */
export function useLabTime(atMs: number | null): string {
  const zone = useBoard((records) => records.lab.get('lab')?.zone ?? 'UTC')
  return atMs === null ? '' : timeOfMinute(localAt(zone, atMs).minute)
}

/** One's own last edit can be taken back; Ctrl+Z does the same outside of fields. */
function Undo() {
  const { label, undo } = useUndo()
  const isThere = label !== null
  useEffect(() => {
    if (!isThere) return
    const onKey = (event: KeyboardEvent) => {
      const isUndo = event.key.toLowerCase() === 'z' && (event.ctrlKey || event.metaKey) && !event.shiftKey
      const target = event.target
      const isTyping = target instanceof HTMLElement && /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName)
      if (!isUndo || isTyping) return
      event.preventDefault()
      undo()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [isThere, undo])
  return label === null ? null : <UndoButton op={label} undo={undo} />
}

/** Says which edit it would take back; when somebody has changed that since, it says so instead of doing it. */
function UndoButton({ op, undo }: { readonly op: Op; readonly undo: () => Acted | null }) {
  const records = useBoard((board) => board)
  const [problem, setProblem] = useState<string>()
  return (
    <span className="relative">
      <Button
        kind="quiet"
        mark="undo"
        label={sayUndo(op, records)}
        onClick={() => {
          const done = undo()
          setProblem(done && !done.ok ? sayFindings(done.findings, records) : undefined)
        }}
      />
      {problem === undefined ? null : <Live message={problem} isUrgent />}
    </span>
  )
}

/** The four ways in the foot of a phone. */
export function Foot() {
  const path = usePathname()
  const role = useWho()?.role ?? 'researcher'
  return (
    <nav
      aria-label="Ways"
      className="no-print sticky bottom-0 z-10 flex border-t-[1.5px] border-ink bg-paper pb-[env(safe-area-inset-bottom)] tablet:hidden"
    >
      {footWaysOf(role).map((way) => (
        <Link
          key={way.href}
          href={way.href}
          aria-current={isOn(way, path) ? 'page' : undefined}
          className={`flex min-h-14 flex-1 flex-col items-center justify-center gap-0.5 border-t-[5px] pb-1 text-small ${
            isOn(way, path) ? 'border-ink font-strong' : 'border-transparent font-firm forced-colors:border-[Canvas]'
          }`}
        >
          <Mark name={way.mark} size={24} />
          {way.word}
        </Link>
      ))}
    </nav>
  )
}
