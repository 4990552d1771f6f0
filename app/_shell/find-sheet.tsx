'use client'
// What the command field opens: a few letters of a number, a code or a name, Enter leads there. What rests in the
// archive is asked of the server a moment after the last key and stands beneath what is on the board.
import { useRouter } from 'next/navigation'
import { useEffect, useId, useMemo, useRef, useState } from 'react'
import { type Findable, find, findIndex } from '#lib/views'
import { useBoard, useNow, useWho } from '../_board/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { Stone, type StoneStage } from '../_parts/stone/index.ts'
import { type ArchiveAnswer, type ArchiveHit, useArchive } from './archive.ts'
import { waysOf } from './ways.ts'

type Hit = {
  readonly key: string
  readonly href: string
  readonly label: string
  readonly detail: string
  readonly kindWord: string
  readonly isNumber: boolean
  readonly stone: { readonly id: string; readonly stage: StoneStage } | null
  readonly code: string | null
}

const kindWords: Record<Findable['kind'], string> = {
  person: 'person',
  place: 'place',
  specimen: 'specimen',
  jacket: 'jacket',
}

/** The field to type into, and what it finds. */
export function FindSheet({ onGone }: { readonly onGone: () => void }) {
  const router = useRouter()
  const listId = useId()
  const input = useRef<HTMLInputElement>(null)
  const [typed, setTyped] = useState('')
  const [chosen, setChosen] = useState(0)
  const { hits, archive } = useHits(typed)
  useEffect(() => {
    // A frame later: the sheet is opened after this effect, and takes the focus itself.
    const frame = requestAnimationFrame(() => input.current?.focus())
    return () => cancelAnimationFrame(frame)
  }, [])
  const at = Math.min(chosen, Math.max(0, hits.length - 1))
  const go = (hit: Hit | undefined) => {
    if (!hit) return
    onGone()
    router.push(hit.href)
  }
  const optionId = (index: number) => `${listId}-${index}`
  return (
    <div className="min-h-80">
      <label className="find">
        <Mark name="search" size={20} />
        <input
          ref={input}
          type="search"
          role="combobox"
          aria-label="Number, name, person or place"
          aria-expanded={hits.length > 0}
          aria-controls={listId}
          aria-autocomplete="list"
          aria-activedescendant={hits.length > 0 ? optionId(at) : undefined}
          className="find-input text-say"
          placeholder="Number, name, person"
          autoComplete="off"
          spellCheck={false}
          value={typed}
          onChange={(event) => {
            setTyped(event.target.value)
            setChosen(0)
          }}
          onKeyDown={(event) => {
            const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
            if (by !== 0 && hits.length > 0) {
              event.preventDefault()
              const next = (at + by + hits.length) % hits.length
              setChosen(next)
              document.getElementById(optionId(next))?.scrollIntoView({ block: 'nearest' })
            } else if (event.key === 'Enter') {
              event.preventDefault()
              go(hits[at])
            }
          }}
        />
      </label>
      <div id={listId} role="listbox" aria-label="Found" className="mt-2">
        {hits.map((hit, index) => (
          // The arrows of the field above move among these; they take no focus of their own.
          // biome-ignore lint/a11y/useKeyWithClickEvents: see above
          // biome-ignore lint/a11y/useFocusableInteractive: see above
          <div
            key={hit.key}
            id={optionId(index)}
            role="option"
            aria-selected={index === at}
            className={`row row-list cursor-pointer ${index === at ? 'row-chosen' : 'pl-3'}`}
            onMouseMove={() => setChosen(index)}
            onClick={() => go(hit)}
          >
            <span className="grid w-12 flex-none place-items-center">
              {hit.stone ? (
                <Stone seed={hit.stone.id} stage={hit.stone.stage} size={40} />
              ) : hit.code ? (
                <span className="font-strong text-say">{hit.code}</span>
              ) : (
                <Mark name={hit.kindWord === 'person' ? 'person' : 'after'} size={22} />
              )}
            </span>
            <span className="min-w-0 flex-1">
              <span className={hit.isNumber ? 'inked' : 'font-strong'}>{hit.label}</span>{' '}
              <span className="named">{hit.detail}</span>
            </span>
            <span className="flex-none text-small text-umber">{hit.kindWord}</span>
          </div>
        ))}
      </div>
      {archive === 'out of reach' ? (
        <p className="py-2 text-small text-umber" role="status">
          The archive is out of reach, so nothing that rests there is shown.
        </p>
      ) : null}
      {typed.trim() !== '' && hits.length === 0 ? (
        <p className="named py-4 text-say" role="status">
          {archive === 'asking'
            ? 'Nothing on the board is called that; the archive is asked.'
            : `Nothing here is called “${typed.trim()}”.`}
        </p>
      ) : null}
    </div>
  )
}

function useHits(typed: string): { readonly hits: readonly Hit[]; readonly archive: ArchiveAnswer['state'] } {
  const records = useBoard((board) => board)
  const role = useWho()?.role ?? 'researcher'
  const { date } = useNow(60_000)
  const index = useMemo(() => findIndex(records), [records])
  const { state, hits: resting } = useArchive(role === 'wall' ? '' : typed)
  const hits = useMemo(() => {
    if (typed.trim() === '') return waysOf(role).map(wayHit)
    const seated = new Set([...records.assignment.values()].filter((turn) => turn.date === date).map((t) => t.personId))
    const here = find(index, typed, 12).map((item) => boardHit(item, (id) => seated.has(id as never)))
    const known = new Set(here.map((hit) => hit.key))
    return [...here, ...resting.map(restingHit).filter((hit) => !known.has(hit.key))].slice(0, 20)
  }, [typed, role, index, records, date, resting])
  return { hits, archive: state }
}

function boardHit(item: Findable, isSeated: (personId: string) => boolean): Hit {
  const isPiece = item.kind === 'specimen' || item.kind === 'jacket'
  const href = isPiece
    ? `/sheet/${item.id}`
    : item.kind === 'place'
      ? `/?place=${item.id}`
      : isSeated(item.id)
        ? `/?person=${item.id}`
        : `/crew?person=${item.id}`
  return {
    key: `${item.kind} ${item.id}`,
    href,
    label: item.label,
    detail: item.detail,
    kindWord: kindWords[item.kind],
    isNumber: isPiece,
    // Findable keeps the words' own stages; the drawing knows the same seven.
    stone: isPiece ? { id: item.id, stage: (item.stage ?? 'sealed') as StoneStage } : null,
    code: item.kind === 'place' ? item.label : null,
  }
}

const restingHit = (hit: ArchiveHit): Hit => ({
  key: `${hit.kind} ${hit.id}`,
  href: `/sheet/${hit.id}`,
  label: hit.number,
  detail: hit.name,
  kindWord: 'in the archive',
  isNumber: true,
  stone: { id: hit.id, stage: hit.stage },
  code: null,
})

const wayHit = (way: { readonly href: string; readonly word: string }): Hit => ({
  key: way.href,
  href: way.href,
  label: way.word,
  detail: '',
  kindWord: 'screen',
  isNumber: false,
  stone: null,
  code: null,
})
