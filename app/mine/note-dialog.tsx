'use client'
// A note from the bench, straight into the treatment record. What is typed is kept here until it is kept there.
import type { MyTurn } from '#lib/views'
import { useNewId } from '../_board/index.ts'
import { Button, Dialog, Notice, TextArea } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { useTyped } from '../_shell/use-typed.ts'

type NoteDialogProps = { readonly turn: MyTurn; readonly isOpen: boolean; readonly onClose: () => void }

/** The dialog. */
export function NoteDialog({ turn, isOpen, onClose }: NoteDialogProps) {
  const { attempt, problem } = useTry()
  const newId = useNewId()
  const [text, type, clear] = useTyped(`note.${turn.piece.id}`)
  const number = 'number' in turn.piece ? turn.piece.number : turn.piece.fieldNumber
  const keep = () => {
    const isDone = attempt({
      kind: 'write',
      entryId: newId(),
      pieceId: turn.piece.id,
      entryKind: 'note',
      techniqueId: turn.technique.id,
      text: text.trim(),
    })
    if (!isDone) return
    clear()
    onClose()
  }
  return (
    <Dialog
      isOpen={isOpen}
      title={`Note on ${number}`}
      onClose={onClose}
      actions={
        <Button kind="ink" size="action" mark="note" disabled={text.trim() === ''} onClick={keep}>
          Add to the record
        </Button>
      }
    >
      <TextArea
        label="What did you see or do?"
        rows={4}
        value={text}
        onChange={(event) => type(event.target.value)}
        hint="Records are only added to. A correction is a new entry."
      />
      {problem === undefined ? null : (
        <Notice kind="error" kept={text}>
          {problem}
        </Notice>
      )}
    </Dialog>
  )
}
