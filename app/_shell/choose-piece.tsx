'use client'
// Which piece, by number or name: for pages that are about several pieces.
import { useMemo, useState } from 'react'
import { find, findIndex } from '#lib/views'
import type { Records } from '#lib/words'
import { SearchField } from '../_parts/controls/index.ts'

const FOUND_SHOWN = 8

/** A search field; what is pressed among the finds is taken. */
export function ChoosePiece({ records, onTake }: { readonly records: Records; readonly onTake: (id: string) => void }) {
  const [typed, setTyped] = useState('')
  const index = useMemo(() => findIndex(records), [records])
  const found =
    typed.trim() === ''
      ? []
      : find(index, typed, FOUND_SHOWN * 2)
          .filter(({ kind }) => kind === 'specimen' || kind === 'jacket')
          .slice(0, FOUND_SHOWN)
  return (
    <div>
      <SearchField label="Which piece" value={typed} onValue={setTyped} />
      <ul aria-label="Found">
        {found.map(({ id, label, detail }) => (
          <li key={id} className="border-b border-line">
            <button
              type="button"
              className="choice"
              onClick={() => {
                onTake(id)
                setTyped('')
              }}
            >
              <span className="inked">{label}</span> {detail}
            </button>
          </li>
        ))}
      </ul>
      {typed.trim() !== '' && found.length === 0 ? (
        <p className="py-2 text-umber" role="status">
          No piece on the board is called “{typed.trim()}”.
        </p>
      ) : null}
    </div>
  )
}
