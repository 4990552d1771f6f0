'use client'
// A textarea bound to the note that everybody types into on one piece.
import { type RefCallback, useCallback, useEffect, useMemo, useRef, useState, useSyncExternalStore } from 'react'
import { useSessionOrNull } from './board-provider.tsx'
import { Field } from './core/field.ts'
import type { Note, NoteShown } from './core/note.ts'
import type { Other } from './core/ports.ts'
import { useOthers, usePresence, useWho } from './hooks.ts'

const OPENING: NoteShown = { text: '', isReady: false, save: 'opening' }
const nothing = () => () => {}

export type BoundNote = NoteShown & {
  /** Others who have the cursor in this note. */
  readonly others: readonly Other[]
  /** Empties the note, once its words are in a record. */
  readonly clear: () => void
  /** Spread onto the textarea, which must not be given a value. */
  readonly bind: {
    /** Until the note is bound there is nothing that could take in what is typed. */
    readonly readOnly: boolean
    readonly ref: RefCallback<HTMLTextAreaElement>
    readonly onInput: () => void
    readonly onCompositionStart: () => void
    readonly onCompositionEnd: () => void
    readonly onFocus: () => void
    readonly onBlur: () => void
  }
}

/** The note of a piece, typed together; what is typed offline is kept here and merged later. */
export function useNote(pieceId: string): BoundNote {
  const session = useSessionOrNull()
  const personId = useWho()?.personId ?? null
  const [note, setNote] = useState<Note | null>(null)
  const [isIn, setIn] = useState(false)
  const box = useRef<HTMLTextAreaElement | null>(null)
  const field = useRef<Field | null>(null)

  useEffect(() => {
    // Another person's session must open its own: the old one is closed with them.
    const open = personId === null ? null : session?.openNote(pieceId)
    setNote(open?.note ?? null)
    return open?.close
  }, [session, pieceId, personId])

  const join = useCallback((to: Note | null, element: HTMLTextAreaElement | null) => {
    field.current?.detach()
    field.current = to && element ? new Field(to, element) : null
  }, [])
  const shown = useSyncExternalStore(
    note?.shown.subscribe ?? nothing,
    () => note?.shown.get() ?? OPENING,
    () => OPENING,
  )
  usePresence(isIn ? `sheet/${pieceId}` : null, 'note')
  const everybody = useOthers()
  const others = useMemo(
    () => everybody.filter((other) => other.at === `sheet/${pieceId}` && other.field === 'note'),
    [everybody, pieceId],
  )
  const clear = useCallback(() => note?.clear(), [note])
  const bind = useMemo(
    () => ({
      readOnly: note === null,
      // Another function with each note: React calls it in the very commit that lets one type.
      ref: (element: HTMLTextAreaElement | null) => {
        box.current = element
        join(note, element)
      },
      onInput: () => field.current?.input(),
      onCompositionStart: () => field.current?.compositionStart(),
      onCompositionEnd: () => field.current?.compositionEnd(),
      onFocus: () => setIn(true),
      onBlur: () => setIn(false),
    }),
    [note, join],
  )
  return { ...shown, others, clear, bind }
}
