'use client'
// A button that opens a sheet with a form of its own. The form is made when the sheet opens, so it begins with what is
// true at that moment, and is gone when the sheet closes.
import { type FormEvent, type ReactNode, useState } from 'react'
import { Button, type ButtonProps } from './button.tsx'
import { Dialog, type DialogProps } from './dialog.tsx'
import { Notice } from './notice.tsx'

export type DialogButtonProps = Pick<ButtonProps, 'kind' | 'size' | 'mark' | 'label' | 'disabled' | 'className'> & {
  readonly word: ReactNode
  readonly title: ReactNode
  readonly width?: DialogProps['width']
  /** Drawn as chosen: what the sheet would set is set. */
  readonly isPressed?: boolean
  /** Open at once: somebody was led here for this. */
  readonly isOpenAtFirst?: boolean
  /** What stands on the sheet; `close` lays it down. */
  readonly children: (close: () => void) => ReactNode
}

/** The button and its sheet. */
export function DialogButton({
  word,
  title,
  width = 'form',
  isOpenAtFirst = false,
  isPressed,
  children,
  ...button
}: DialogButtonProps) {
  const [isOpen, setOpen] = useState(isOpenAtFirst)
  const close = () => setOpen(false)
  return (
    <>
      <Button {...button} aria-pressed={isPressed} aria-haspopup="dialog" onClick={() => setOpen(true)}>
        {word}
      </Button>
      <Dialog isOpen={isOpen} title={title} width={width} onClose={close}>
        {isOpen ? children(close) : null}
      </Dialog>
    </>
  )
}

export type ActFormProps = {
  readonly children?: ReactNode
  /** The word of the one act. */
  readonly act: string
  readonly onAct: () => void
  /** Why it was not done; what was typed stays. */
  readonly problem?: string | undefined
  readonly isOff?: boolean | undefined
  /** Other acts beside it. */
  readonly others?: ReactNode
}

/** A form that does one act. */
export function ActForm({ children, act, onAct, problem, isOff = false, others }: ActFormProps) {
  return (
    // The browser's own checks speak of steps and ranges; what stands against an act is said by its judgement.
    <form
      noValidate
      className="flex flex-col gap-4"
      onSubmit={(event: FormEvent) => {
        event.preventDefault()
        if (!isOff) onAct()
      }}
    >
      {children}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <div className="flex flex-wrap justify-end gap-3">
        {others}
        <Button kind="ink" type="submit" disabled={isOff}>
          {act}
        </Button>
      </div>
    </form>
  )
}
