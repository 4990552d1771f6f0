'use client'
// The link that turns a screen in the room into the Wall. A new one ends the former; screens can be signed out too.
import { useState } from 'react'
import { Button, Notice } from '../_parts/controls/index.ts'
import { post } from '../_shell/http.ts'
import { LinkLine } from './link-line.tsx'

/** Makes the link. */
export function WallLink() {
  const [link, setLink] = useState<string>()
  const [hasFailed, setFailed] = useState(false)
  const make = async (signOut: boolean) => {
    const answer = await post<{ readonly link: string }>('/api/wall-link', { signOut })
    setFailed(!answer.ok)
    if (answer.ok) setLink(answer.body.link)
  }
  return (
    <div className="flex flex-col gap-3">
      <p>A screen that opens this link shows today, first names only, and can do nothing else.</p>
      <div className="flex flex-wrap gap-3">
        <Button onClick={() => void make(false)}>Make a link for a wall screen</Button>
        <Button kind="quiet" onClick={() => void make(true)}>
          New link, and sign out the screens there are
        </Button>
      </div>
      {hasFailed ? (
        <Notice kind="error">No link was made. The lab is out of reach or this is not yours to do.</Notice>
      ) : null}
      {link === undefined ? null : <LinkLine link={link} />}
    </div>
  )
}
