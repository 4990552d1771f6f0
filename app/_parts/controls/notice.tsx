// What is said when there is nothing to show, something went wrong, or another hand was quicker. A sentence,
// what is kept, what to do: no alarm, no apology.
import type { ReactNode } from 'react'
import { Mark, type MarkName } from '../marks/index.ts'

export type NoticeProps = {
  /** empty: nothing here. error: not done. stale: the last copy, not the present. lost: another was quicker. */
  readonly kind: 'empty' | 'error' | 'stale' | 'lost' | 'plain'
  readonly children: ReactNode
  readonly mark?: MarkName | undefined
  /** What was typed and is still here. */
  readonly kept?: ReactNode
  readonly action?: ReactNode
  readonly className?: string | undefined
}

/** A notice in its place on the page. */
export function Notice({ kind, children, mark, kept, action, className = '' }: NoticeProps) {
  const sign = mark ?? signs[kind]
  return (
    <div
      className={`notice notice-${kind} ${className}`}
      role={kind === 'error' || kind === 'lost' ? 'alert' : undefined}
    >
      {sign === undefined ? null : <Mark name={sign} size={24} className="mt-0.5" />}
      <div className="min-w-0 flex-1">
        <div className={kind === 'empty' ? 'named text-say' : ''}>{children}</div>
        {kept === undefined ? null : <div className="mt-2 border-l border-line pl-3 text-wash">{kept}</div>}
        {action === undefined ? null : <div className="mt-3 flex flex-wrap gap-3">{action}</div>}
      </div>
    </div>
  )
}

/** The walls come at once from the last copy; this says how old it is. */
export function AsOf({ time }: { readonly time: string }) {
  return <p className="text-small font-firm text-umber">as of {time}</p>
}

/** Rows still coming: rules where they will stand, nothing that shimmers. */
export function RowsComing({ count = 5 }: { readonly count?: number }) {
  return (
    <div role="status" aria-label="Coming">
      {Array.from({ length: count }, (_, index) => (
        <div key={index} className="h-11 border-b border-line" />
      ))}
    </div>
  )
}

/** Heard, not seen: one polite sentence at a time. */
export function Live({ message, isUrgent = false }: { readonly message: string; readonly isUrgent?: boolean }) {
  return (
    <p className="sr-only" role={isUrgent ? 'alert' : 'status'} aria-live={isUrgent ? 'assertive' : 'polite'}>
      {message}
    </p>
  )
}

/** One line at the foot of the screen: what was just done, with its way back. */
export function NoticeLine({ children, action }: { readonly children: ReactNode; readonly action?: ReactNode }) {
  return (
    <div className="notice-line" role="status">
      <span className="min-w-0 flex-1">{children}</span>
      {action}
    </div>
  )
}

const signs: Record<NoticeProps['kind'], MarkName | undefined> = {
  empty: undefined,
  error: 'caution',
  stale: 'clock',
  lost: 'claim',
  plain: undefined,
}
