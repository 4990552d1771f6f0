'use client'
// A link that lets somebody in: made by the server, shown once, to be copied and handed over.
import { useState } from 'react'
import { Button, Notice, TextField } from '../_parts/controls/index.ts'
import { post } from '../_shell/http.ts'

export type LinkSheetProps = {
  readonly path: '/api/invite' | '/api/wall-link'
  readonly body: Readonly<Record<string, unknown>>
  /** What the link does and how long. */
  readonly words: string
}

/** Asks for the link, then shows it. */
export function LinkSheet({ path, body, words }: LinkSheetProps) {
  const [link, setLink] = useState<string>()
  const [hasFailed, setFailed] = useState(false)
  const [isCopied, setCopied] = useState(false)
  const make = async () => {
    setFailed(false)
    const answer = await post<{ readonly link: string }>(path, body)
    if (answer.ok) setLink(answer.body.link)
    else setFailed(true)
  }
  return (
    <div className="flex flex-col gap-4">
      <p>{words}</p>
      {link === undefined ? (
        <Button kind="ink" onClick={() => void make()}>
          Make the link
        </Button>
      ) : (
        <>
          <TextField
            label="Link"
            readOnly
            value={link}
            onFocus={(event) => event.target.select()}
            hint="It is shown this once."
          />
          <Button
            kind="ink"
            onClick={() => {
              void navigator.clipboard.writeText(link).then(
                () => setCopied(true),
                () => setFailed(true),
              )
            }}
          >
            {isCopied ? 'Copied' : 'Copy the link'}
          </Button>
        </>
      )}
      {hasFailed ? (
        <Notice kind="error">
          {link === undefined
            ? 'No link was made. A new person must be kept first; try again when the mark in the corner says kept.'
            : 'This browser did not copy it. Mark the link and copy it by hand.'}
        </Notice>
      ) : null}
    </div>
  )
}
