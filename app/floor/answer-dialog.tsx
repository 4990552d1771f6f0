'use client'
// An answer to a question, given where the question is met. What was typed stays when it is not kept.
import Link from 'next/link'
import { useState } from 'react'
import type { Finding, RecordOf } from '#lib/words'
import { useAct, useBoard, usePresence } from '../_board/index.ts'
import { Button, buttonClass, Dialog, FieldNumber, Notice, TextArea } from '../_parts/controls/index.ts'
import { sayFindings } from '../_text/index.ts'

export type AnswerDialogProps = {
  readonly isOpen: boolean
  readonly onClose: () => void
  readonly question: RecordOf<'question'>
  readonly number: string
  readonly asker: string
}

/** The question, who else is answering it now, and a field. */
export function AnswerDialog({ isOpen, onClose, question, number, asker }: AnswerDialogProps) {
  const act = useAct()
  const records = useBoard((board) => board)
  const others = usePresence(isOpen ? `question/${question.id}` : null, 'answer')
  const [text, setText] = useState('')
  const [findings, setFindings] = useState<readonly Finding[]>([])
  const send = () => {
    const done = act({ kind: 'answerQuestion', questionId: question.id, text })
    setFindings(done.ok ? [] : done.findings)
    if (done.ok) {
      setText('')
      onClose()
    }
  }
  return (
    <Dialog
      isOpen={isOpen}
      onClose={onClose}
      title={
        <>
          Question on <FieldNumber>{number}</FieldNumber>
        </>
      }
      actions={
        <>
          <Link className={buttonClass('quiet')} href={`/sheet/${question.pieceId}`}>
            Open its Sheet
          </Link>
          <Button kind="ink" disabled={text.trim() === ''} onClick={send}>
            Answer
          </Button>
        </>
      }
    >
      <p className="named text-say whitespace-pre-wrap">{question.text}</p>
      <p className="mb-4 text-small text-umber">{asker} asks</p>
      {others.length > 0 ? (
        <Notice kind="plain" mark="note">
          {others.map((other) => other.name).join(', ')} {others.length === 1 ? 'is' : 'are'} answering too.
        </Notice>
      ) : null}
      <TextArea
        label="Answer"
        value={text}
        onChange={(event) => setText(event.target.value)}
        problem={findings.length > 0 ? sayFindings(findings, records) : undefined}
      />
    </Dialog>
  )
}
