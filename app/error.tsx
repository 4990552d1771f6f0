'use client'
// A screen that failed: said plainly, with what is kept and what to do. The house around it stands.
import { Button, Notice } from './_parts/controls/index.ts'

export default function ScreenError({ reset }: { readonly error: Error; readonly reset: () => void }) {
  return (
    <div className="margin-page py-8">
      <Notice kind="error" action={<Button onClick={reset}>Try this screen again</Button>}>
        <b>This screen could not be drawn.</b> What you did before is kept or held on this device; nothing typed
        elsewhere is lost.
      </Notice>
    </div>
  )
}
