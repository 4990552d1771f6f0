'use client'
// What was not kept, and why: the sentence names who or what stood against it, and the words that had been typed
// are offered back. Stays until its author has seen it.
import Link from 'next/link'
import { useState } from 'react'
import type { Op } from '#lib/ops'
import { useBoard, useRefused } from '../_board/index.ts'
import { Button, buttonClass, Notice } from '../_parts/controls/index.ts'
import { sayDate, sayFindings } from '../_text/index.ts'

/** All refused edits of this device, newest first. */
export function Refusals() {
  const { list, dismiss } = useRefused()
  const records = useBoard((board) => board)
  if (list.length === 0) return null
  return (
    <section aria-label="Not kept" className="margin-page">
      {list.toReversed().map(({ op, findings }) => (
        <div key={op.id} className="border-b border-line bg-plaster px-3">
          <Notice
            kind="lost"
            kept={wordsOf(op) === '' ? undefined : <Typed op={op} />}
            action={
              <>
                <Button onClick={() => dismiss(op.id)}>Seen</Button>
                {op.kind === 'post' ? (
                  <Link
                    className={buttonClass('ink')}
                    href={`/?day=${op.date}&draw=yes`}
                    onClick={() => dismiss(op.id)}
                  >
                    Redraw
                  </Link>
                ) : null}
                {'pieceId' in op ? (
                  <Link className={buttonClass('quiet')} href={`/sheet/${op.pieceId}`}>
                    Open its Sheet
                  </Link>
                ) : null}
              </>
            }
          >
            <b>{op.kind === 'post' ? `The line-up of ${sayDate(op.date, 'long')} was not posted.` : 'Not kept.'}</b>{' '}
            {sayFindings(findings, records)}
          </Notice>
        </div>
      ))}
    </section>
  )
}

/** The words of an op, to copy or use again; nothing when it had none. */
function Typed({ op }: { readonly op: Op }) {
  const [isCopied, setCopied] = useState(false)
  const words = wordsOf(op)
  return (
    <div className="flex flex-wrap items-center gap-3">
      <span className="min-w-0 flex-1 whitespace-pre-wrap">“{words}”</span>
      <Button
        kind="quiet"
        onClick={() => {
          void navigator.clipboard.writeText(words).then(() => setCopied(true))
        }}
      >
        {isCopied ? 'Copied' : 'Copy the words'}
      </Button>
    </div>
  )
}

/** Free text a person typed into an op, in the order of its fields. */
function wordsOf(op: Op): string {
  const typed: readonly string[] = ['text', 'note', 'reason', 'testPatch']
  return Object.entries(op)
    .flatMap(([field, value]) =>
      typed.includes(field) && typeof value === 'string' && value.trim() !== '' ? [value] : [],
    )
    .join('\n')
}
