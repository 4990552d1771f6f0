'use client'
// Questions on the piece and their answers, the open ones first; anybody asks, whoever knows answers.
import { useState } from 'react'
import type { RecordOf } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, Button, DialogButton, FoldingSection, Notice, TextArea } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { momentOf, nameOf, type SheetAt } from './sheet-at.ts'

/** All questions, and the way to ask. */
export function Questions({ at }: { readonly at: SheetAt }) {
  const { questions } = at.sheet
  const open = questions.filter((one) => one.answer === null).length
  if (at.isResting && questions.length === 0) return null
  return (
    <FoldingSection
      id="questions"
      title="Questions"
      brief={at.isResting ? `${questions.length}` : null}
      aside={open > 0 ? `${open} open` : undefined}
    >
      {questions.length === 0 ? <Notice kind="empty">Nobody has asked about it.</Notice> : null}
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told */}
      <ul role="list" aria-label="Questions">
        {questions.map((question) => (
          <QuestionRow key={question.id} at={at} question={question} />
        ))}
      </ul>
      {at.isResting ? null : (
        <DialogButton mark="question" word="Ask…" title={`A question on ${at.sheet.number}`} className="no-print mt-3">
          {(close) => <AskForm at={at} onDone={close} />}
        </DialogButton>
      )}
    </FoldingSection>
  )
}

function QuestionRow({ at, question }: { readonly at: SheetAt; readonly question: RecordOf<'question'> }) {
  const [isAnswering, setAnswering] = useState(false)
  const { answer } = question
  return (
    <li className="border-b border-line py-2.5">
      <div className="flex items-start gap-3">
        <Mark name="question" size={22} className="mt-0.5" />
        <div className="min-w-0 flex-1">
          <p className="font-strong whitespace-pre-wrap">{question.text}</p>
          <p className="text-small text-umber">
            {nameOf(at, question.by)}, {momentOf(at, question.at)}.{answer === null ? ' Not answered.' : ''}
          </p>
          {answer === null ? null : (
            <div className="mt-1.5 border-l border-line pl-3">
              <p className="whitespace-pre-wrap">{answer.text}</p>
              <p className="text-small text-umber">
                {nameOf(at, answer.by)}, {momentOf(at, answer.at)}
              </p>
            </div>
          )}
        </div>
        {answer === null && !at.isResting && !isAnswering ? (
          <Button className="no-print" onClick={() => setAnswering(true)}>
            Answer
          </Button>
        ) : null}
      </div>
      {isAnswering && answer === null ? <AnswerForm question={question} onDone={() => setAnswering(false)} /> : null}
    </li>
  )
}

function AnswerForm({ question, onDone }: { readonly question: RecordOf<'question'>; readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const [text, setText] = useState('')
  return (
    <div className="pt-2">
      <ActForm
        act="Answer"
        problem={problem}
        isOff={text.trim() === ''}
        onAct={() => {
          if (attempt({ kind: 'answerQuestion', questionId: question.id, text: text.trim() })) onDone()
        }}
        others={<Button onClick={onDone}>Not now</Button>}
      >
        <TextArea label="Answer" value={text} autoFocus onChange={(event) => setText(event.target.value)} />
      </ActForm>
    </div>
  )
}

function AskForm({ at, onDone }: { readonly at: SheetAt; readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [text, setText] = useState('')
  return (
    <ActForm
      act="Ask"
      problem={problem}
      isOff={text.trim() === ''}
      onAct={() => {
        const done = attempt({ kind: 'askQuestion', questionId: newId(), pieceId: at.sheet.id, text: text.trim() })
        if (done) onDone()
      }}
    >
      <TextArea
        label="Question"
        hint="The crew and the researchers see it and can answer."
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
    </ActForm>
  )
}
