// The things one presses. Ink is the one act of a screen, line the others beside it, quiet a word with an
// underline, chalk an act on a proposal. 44 px high, 60 for gloves at a bench.
import type { ButtonHTMLAttributes, ReactNode, Ref } from 'react'
import { Mark, type MarkName } from '../marks/index.ts'

export type ButtonKind = 'ink' | 'line' | 'quiet' | 'chalk'
export type ButtonSize = 'press' | 'action'

export type ButtonProps = Omit<ButtonHTMLAttributes<HTMLButtonElement>, 'style'> & {
  readonly kind?: ButtonKind
  readonly size?: ButtonSize
  readonly mark?: MarkName | undefined
  /** A mark without a word: the name readers hear, shown as a hint on hover and focus. */
  readonly label?: string | undefined
  readonly children?: ReactNode
  readonly ref?: Ref<HTMLButtonElement>
}

/** A button; never a submit unless it says so. */
export function Button({ kind = 'line', size = 'press', mark, label, children, className = '', ...rest }: ButtonProps) {
  return (
    <button
      type="button"
      {...rest}
      className={`${buttonClass(kind, size, children === undefined)} ${className}`}
      aria-label={label ?? rest['aria-label']}
      title={label}
    >
      <ButtonFace mark={mark} size={size}>
        {children}
      </ButtonFace>
    </button>
  )
}

/** The look of a button, for links that lead on like one. */
export function buttonClass(kind: ButtonKind = 'line', size: ButtonSize = 'press', isMarkAlone = false): string {
  const room = isMarkAlone ? 'w-11 px-0' : kind === 'quiet' ? 'px-2' : size === 'action' ? 'px-5' : 'px-4'
  return `button button-${kind} ${size === 'action' ? 'min-h-15 text-say' : 'min-h-11 text-body'} ${room}`
}

/** The inside of a button or a link drawn as one: mark, then word. */
export function ButtonFace({ mark, size = 'press', children }: ButtonFaceProps) {
  return (
    <>
      {mark === undefined ? null : <Mark name={mark} size={size === 'action' ? 24 : 20} />}
      {children}
    </>
  )
}

type ButtonFaceProps = {
  readonly mark?: MarkName | undefined
  readonly size?: ButtonSize
  readonly children?: ReactNode
}
