'use client'
// A sheet of paper laid over the page: the browser's own dialog, so focus is kept inside, the page behind is
// out of reach, Escape lays it down and focus goes back to where it came from.
import { type ReactNode, useEffect, useId, useRef } from 'react'
import { Button } from './button.tsx'

export type DialogProps = {
  readonly isOpen: boolean
  readonly title: ReactNode
  /** Escape, the close button or a press beside the sheet. */
  readonly onClose: () => void
  readonly children: ReactNode
  /** Buttons at the foot, the act last. */
  readonly actions?: ReactNode
  /** Reason tells, form asks, wide shows a picture. */
  readonly width?: 'narrow' | 'form' | 'wide'
}

/** A dialog with a title, a body that scrolls and actions that stay. */
export function Dialog({ isOpen, title, onClose, children, actions, width = 'form' }: DialogProps) {
  const sheet = useRef<HTMLDialogElement>(null)
  const id = useId()
  useEffect(() => {
    const dialog = sheet.current
    if (dialog === null) return
    if (isOpen && !dialog.open) dialog.showModal()
    if (!isOpen && dialog.open) dialog.close()
  }, [isOpen])
  return (
    // The keyboard's way out is Escape, which the browser sends as `cancel`; the press beside is an extra.
    // biome-ignore lint/a11y/useKeyWithClickEvents: see above
    <dialog
      ref={sheet}
      aria-labelledby={id}
      className={`dialog dialog-${width}`}
      // React passes both on to a dialog around this one, which must not go with it.
      onCancel={(event) => {
        if (event.target !== sheet.current) return
        event.preventDefault()
        onClose()
      }}
      onClose={(event) => {
        if (isOpen && event.target === sheet.current) onClose()
      }}
      onClick={(event) => {
        if (event.target === sheet.current) onClose()
      }}
    >
      {isOpen ? (
        <div className="flex max-h-[inherit] flex-col">
          <header className="flex items-center gap-3 border-b-[1.5px] border-ink py-2 pr-2 pl-4 tablet:pl-6">
            <h2 id={id} className="heading flex-1 text-section">
              {title}
            </h2>
            <Button kind="quiet" mark="close" label="Close" onClick={onClose} />
          </header>
          <div className="overflow-y-auto px-4 py-4 tablet:px-6">{children}</div>
          {actions === undefined ? null : (
            <footer className="flex flex-wrap justify-end gap-3 border-t border-line px-4 py-3 tablet:px-6">
              {actions}
            </footer>
          )}
        </div>
      ) : null}
    </dialog>
  )
}
