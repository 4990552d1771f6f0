// Long rows, margins and rules instead of boxes. A heading with an ink rule, rows with a paper rule between.
import type { ReactNode } from 'react'

export type SectionProps = {
  /** Where a link leads to it. */
  readonly id?: string | undefined
  readonly title: ReactNode
  /** Figures or one small word at the right of the heading. */
  readonly aside?: ReactNode
  readonly level?: 2 | 3
  readonly children?: ReactNode
  readonly className?: string | undefined
}

/** A section: its heading over a 1.5 px rule, then what belongs to it. */
export function Section({ title, aside, level = 2, children, className = '', id }: SectionProps) {
  return (
    <section id={id} className={className}>
      <SectionHeading title={title} aside={aside} level={level} />
      {children}
    </section>
  )
}

/** The heading alone. */
export function SectionHeading({ title, aside, level = 2 }: Omit<SectionProps, 'children' | 'className' | 'id'>) {
  const Heading = level === 2 ? 'h2' : 'h3'
  return (
    <div className="flex items-baseline justify-between gap-3 border-b-[1.5px] border-ink pb-1">
      <Heading className="heading min-w-0 flex-1 text-section">{title}</Heading>
      {aside === undefined ? null : <span className="text-small font-firm text-umber">{aside}</span>}
    </div>
  )
}

/** The page's title, with what one does here at its right. */
export function PageHeading({ title, actions }: { readonly title: ReactNode; readonly actions?: ReactNode }) {
  return (
    <div className="flex flex-wrap items-center justify-between gap-x-6 gap-y-3 py-4">
      <h1 className="heading text-page">{title}</h1>
      {actions === undefined ? null : <div className="flex flex-wrap gap-3">{actions}</div>}
    </div>
  )
}

/** A list of rows. */
export function Rows({ children, label, className = '' }: RowsProps) {
  return (
    // Safari forgets a list without bullets unless it is told.
    // biome-ignore lint/a11y/noRedundantRoles: see above
    <ul role="list" aria-label={label} className={className}>
      {children}
    </ul>
  )
}

export type RowProps = {
  /** Mark, stone or stool at the left. */
  readonly lead?: ReactNode
  readonly children: ReactNode
  /** Second line, in umber. */
  readonly note?: ReactNode
  readonly end?: ReactNode
  /** The row one has chosen: plaster, with the heavy bar. */
  readonly isChosen?: boolean | undefined
  readonly isDone?: boolean | undefined
  /** 44 in margins, 56 in phone lists, 60 for gloves. */
  readonly height?: 'row' | 'list' | 'action'
  readonly className?: string | undefined
}

/** One row: what it is, one line about it, one thing to do. */
export function Row({ lead, children, note, end, isChosen, isDone, height = 'row', className = '' }: RowProps) {
  const chosen = isChosen === true ? 'row-chosen' : ''
  return (
    <li
      className={`row row-${height} ${chosen} ${isDone === true ? 'text-umber' : ''} ${className}`}
      aria-current={isChosen === true ? 'true' : undefined}
    >
      {lead === undefined ? null : <span className="flex min-w-7 flex-none justify-center">{lead}</span>}
      <span className="min-w-0 flex-1">
        <span className="block">{children}</span>
        {note === undefined ? null : <span className="block text-small text-umber">{note}</span>}
      </span>
      {end === undefined ? null : (
        <span className="flex flex-none items-center gap-2 text-right text-small font-strong">{end}</span>
      )}
    </li>
  )
}

/** A field or catalogue number as it is inked on plaster. */
export function FieldNumber({ children, className = '' }: { readonly children: string; readonly className?: string }) {
  return <span className={`inked ${className}`}>{children}</span>
}

/** Something folded away until wanted: the key of the plan, the detail of a reason. */
export function Fold({ title, children, isOpen = false, className = '' }: FoldProps) {
  return (
    <details className={`fold ${className}`} open={isOpen}>
      <summary className="fold-title">{title}</summary>
      {children}
    </details>
  )
}

type RowsProps = { readonly children: ReactNode; readonly label?: string | undefined; readonly className?: string }
type FoldProps = {
  readonly title: ReactNode
  readonly children: ReactNode
  readonly isOpen?: boolean
  readonly className?: string
}
