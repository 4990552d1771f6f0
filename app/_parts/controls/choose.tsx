'use client'
// The button way of every drag: "Move…" opens a list of where it can go, each with why or why not.
import { type ReactNode, useState } from 'react'
import type { MarkName } from '../marks/index.ts'
import { Button, type ButtonKind, type ButtonSize } from './button.tsx'
import { Dialog } from './dialog.tsx'

export type Destination = {
  readonly id: string
  readonly label: ReactNode
  readonly note?: ReactNode
  /** Why it cannot go there; the row stays readable and cannot be pressed. */
  readonly reason?: ReactNode
}

export type ChooseButtonProps = {
  /** Left away, the mark stands alone and `label` names it. */
  readonly word?: string | undefined
  readonly title: ReactNode
  /** As a function they are only worked out when somebody asks. */
  readonly destinations: readonly Destination[] | (() => readonly Destination[])
  readonly onChoose: (id: string) => void
  readonly mark?: MarkName | undefined
  readonly kind?: ButtonKind
  readonly size?: ButtonSize
  readonly empty?: ReactNode
  /** Said over the list when nothing in it can be chosen. */
  readonly lead?: ReactNode
  /** Said to readers in place of the word, when the word alone would be one of many. */
  readonly label?: string | undefined
  /** The row that has the focus or the pointer, null when the list goes away. */
  readonly onLook?: ((id: string | null) => void) | undefined
  /** What choosing that row would bring, said over the list. */
  readonly ahead?: ReactNode
}

/** A button that asks where to, and tells. */
export function ChooseButton(props: ChooseButtonProps) {
  const { word, title, destinations, onChoose, mark, kind = 'line', size = 'press', empty, lead, label } = props
  const { onLook, ahead } = props
  const [isOpen, setOpen] = useState(false)
  const close = () => {
    setOpen(false)
    onLook?.(null)
  }
  const known = isOpen ? (typeof destinations === 'function' ? destinations() : destinations) : []
  return (
    <>
      <Button kind={kind} size={size} mark={mark} label={label} aria-haspopup="dialog" onClick={() => setOpen(true)}>
        {word}
      </Button>
      <Dialog isOpen={isOpen} title={title} onClose={close}>
        {known.length === 0 ? <p>{empty}</p> : null}
        {lead === undefined || known.some((one) => one.reason === undefined) ? null : (
          <p className="named pb-3 text-say">{lead}</p>
        )}
        {onLook === undefined ? null : (
          // Two lines are kept free, so that the rows stay where the finger is.
          <p className="choice-ahead named text-say" role="status">
            {ahead}
          </p>
        )}
        <ul className="-my-2">
          {known.map((destination) => (
            <li key={destination.id} className="border-b border-line last:border-b-0">
              <button
                type="button"
                className="choice"
                disabled={destination.reason !== undefined}
                onFocus={onLook && (() => onLook(destination.id))}
                onPointerEnter={onLook && (() => onLook(destination.id))}
                onClick={() => {
                  close()
                  onChoose(destination.id)
                }}
              >
                <span className="block font-strong">{destination.label}</span>
                <span className="block text-small text-umber">{destination.reason ?? destination.note}</span>
              </button>
            </li>
          ))}
        </ul>
      </Dialog>
    </>
  )
}
