'use client'
// The note that everybody at this piece types into at once. It is a scratch pad, not the record: its words go into the
// record by one act, and then the pad is empty again.
import { useNote } from '../_board/index.ts'
import { Button, DialogButton, FoldingSection, Section, TextArea } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { names } from '../floor/words.ts'
import type { SheetAt } from './sheet-at.ts'
import { WriteForm } from './write-form.tsx'

const saveWords = { kept: 'kept', sending: 'sending', offline: 'offline, held here', opening: 'opening' } as const

/** The pad; readers see it without a field. */
export function SharedNote({ at }: { readonly at: SheetAt }) {
  const note = useNote(at.sheet.id)
  if (!at.mayWrite) {
    if (note.text.trim() === '') return null
    return (
      <Section title="Note on the bench">
        <p className="pt-2 whitespace-pre-wrap">{note.text}</p>
      </Section>
    )
  }
  const typing = [...new Set(note.others.map((other) => other.name))]
  return (
    <FoldingSection
      id="note"
      title="Note on the bench"
      brief={note.text === '' ? 'empty' : null}
      aside={saveWords[note.save]}
      className="no-print"
    >
      <div className="pt-3">
        <TextArea
          label="Typed together; not yet in the record"
          {...note.bind}
          rows={3}
          hint={
            <span className="flex min-h-6 items-center gap-1.5" role="status">
              {typing.length === 0 ? null : (
                <>
                  <Mark name="note" size={18} />
                  {names(typing)} {typing.length === 1 ? 'is' : 'are'} typing here too.
                </>
              )}
            </span>
          }
        />
        {note.text.trim() === '' ? null : (
          <div className="flex flex-wrap gap-3 pt-1">
            <DialogButton mark="note" word="Put it into the record…" title="Add to the treatment record">
              {(close) => (
                <WriteForm
                  at={at}
                  begin={note.text.trim()}
                  onDone={() => {
                    note.clear()
                    close()
                  }}
                />
              )}
            </DialogButton>
            <Button kind="quiet" onClick={note.clear}>
              Empty it
            </Button>
          </div>
        )}
      </div>
    </FoldingSection>
  )
}
