'use client'
// One act with one button, its refusal told beneath.
import { useState } from 'react'
import { Button, type ButtonKind, Live, Notice } from '../_parts/controls/index.ts'
import type { MarkName } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'

/** The button. */
export function ActButton(props: {
  readonly word: string
  readonly act: Parameters<ReturnType<typeof useTry>['attempt']>[0]
  readonly done: string
  readonly label?: string
  readonly mark?: MarkName
  readonly kind?: ButtonKind
}) {
  const { attempt, problem } = useTry()
  const [isDone, setDone] = useState(false)
  return (
    <span className="flex flex-col items-end gap-1">
      <Button
        kind={props.kind ?? 'line'}
        mark={props.mark}
        aria-label={props.label}
        onClick={() => setDone(attempt(props.act))}
      >
        {props.word}
      </Button>
      {problem === undefined ? null : <Notice kind="lost">{problem}</Notice>}
      {isDone ? <Live message={props.done} /> : null}
    </span>
  )
}
