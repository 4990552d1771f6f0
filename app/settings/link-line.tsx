'use client'
// A secret link, to be copied and sent by hand: Talus sends no mail.
import { useState } from 'react'
import { Button } from '../_parts/controls/index.ts'

/** The link and its copy button. */
export function LinkLine({ link }: { readonly link: string }) {
  const [isCopied, setCopied] = useState(false)
  return (
    <div className="flex flex-wrap items-center gap-3 border-l-[5px] border-ink bg-plaster px-3 py-2">
      <code className="inked min-w-0 flex-1 overflow-x-auto text-small font-plain">{link}</code>
      <Button
        onClick={() => {
          void navigator.clipboard?.writeText(link).then(() => setCopied(true))
        }}
      >
        {isCopied ? 'Copied' : 'Copy'}
      </Button>
    </div>
  )
}
