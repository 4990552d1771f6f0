'use client'
// The manager's own notes about a person or a piece. They are sent to managers alone: nobody else's browser holds them.
// Each is written once; what has changed since is a new note.
import { useState } from 'react'
import { privateNotesAbout } from '#lib/views'
import type { PersonId, PieceId, Records } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, DialogButton, FoldingSection, TextArea } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayMoment } from '../_text/index.ts'
import { ManagersOnly } from './managers-only.tsx'
import { nameIn } from './use-crew-at.ts'

export type PrivateNotesProps = {
  readonly records: Records
  readonly today: string
  /** Whom or what they are about. */
  readonly about: About
  /** What that is called. */
  readonly name: string
}

type About =
  | { readonly aboutPersonId: PersonId; readonly aboutPieceId: null }
  | { readonly aboutPersonId: null; readonly aboutPieceId: PieceId }

/** The notes, newest first, and the way to write one; for a manager's eyes. */
export function PrivateNotes({ records, today, about, name }: PrivateNotesProps) {
  const notes = privateNotesAbout(records, about)
  const zone = records.lab.get('lab')?.zone ?? 'UTC'
  return (
    <FoldingSection
      id="private"
      title="Private notes"
      brief={notes.length === 0 ? 'none' : `${notes.length}, managers only`}
      className="no-print"
      aside={<ManagersOnly />}
    >
      {notes.length === 0 ? null : (
        // biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told
        <ul role="list" aria-label={`Private notes about ${name}, newest first`}>
          {notes.map((note) => (
            <li key={note.id} className="border-b border-line py-2">
              <p className="text-small text-umber">
                {nameIn(records, note.by)}, {sayMoment(note.at, zone, today)}
              </p>
              <p className="whitespace-pre-wrap [overflow-wrap:anywhere]">{note.text}</p>
            </li>
          ))}
        </ul>
      )}
      <DialogButton
        mark="private"
        word="Write one…"
        label={`Write a private note about ${name}`}
        title={`A private note about ${name}`}
        className="mt-3"
      >
        {(close) => <NoteForm about={about} onDone={close} />}
      </DialogButton>
    </FoldingSection>
  )
}

function NoteForm({ about, onDone }: { readonly about: About; readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [text, setText] = useState('')
  return (
    <ActForm
      act="Keep it"
      problem={problem}
      isOff={text.trim() === ''}
      onAct={() => {
        if (attempt({ kind: 'writePrivateNote', note: { id: newId(), ...about, text: text.trim() } })) onDone()
      }}
    >
      <TextArea
        label="Note"
        hint="Read by managers alone; it stays with the lab’s records."
        rows={4}
        maxLength={20_000}
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
    </ActForm>
  )
}
