'use client'
// A section that takes one line where everything stands in one column: its heading says what is in it and opens it. What
// is in it stays mounted, so that a form open in it outlasts the first record that somebody else brings.
import { useEffect, useId, useRef, useState } from 'react'
import { Section, type SectionProps } from './rows.tsx'
import { noteUnfolded, wasUnfolded } from './unfolded.ts'
import { useNarrow } from './use-narrow.ts'

export type FoldingSectionProps = SectionProps & {
  readonly id: string
  /** What stands beside the folded heading: how many, or the one fact that matters. Null while it must stay open. */
  readonly brief: string | null
  /** It was pressed open. */
  readonly onUnfold?: () => void
}

/** As `Section`; folded on a phone and a tablet until it is pressed or a link leads to it. */
export function FoldingSection({ brief, title, aside, children, onUnfold, ...section }: FoldingSectionProps) {
  const isNarrow = useNarrow()
  const { id } = section
  const [isOpened, setOpened] = useState(() => wasUnfolded(id))
  const body = useId()
  const top = useRef<HTMLDivElement>(null)
  const mustStand = brief === null
  useEffect(() => {
    // What has stood open folds under nobody's hands, when the last question is answered or the pad is empty again.
    if (mustStand) setOpened(true)
  }, [mustStand])
  useEffect(() => {
    const isAimedAt = (url: string) => new URL(url, location.href).hash === `#${id}`
    const onHash = () => isAimedAt(location.href) && setOpened(true)
    // A press on a link that is followed without a new hash would not be told otherwise.
    const onPress = (event: MouseEvent) => {
      const link = event.target instanceof Element ? event.target.closest('a[href]') : null
      if (link instanceof HTMLAnchorElement && isAimedAt(link.href)) setOpened(true)
    }
    if (isAimedAt(location.href)) {
      setOpened(true)
      // The part came after the page, when the browser had looked for it in vain.
      top.current?.closest('section')?.scrollIntoView()
    }
    window.addEventListener('hashchange', onHash)
    document.addEventListener('click', onPress)
    return () => {
      window.removeEventListener('hashchange', onHash)
      document.removeEventListener('click', onPress)
    }
  }, [id])
  const isFolding = isNarrow && !mustStand
  const isFolded = isFolding && !isOpened
  const press = () => {
    setOpened(isFolded)
    noteUnfolded(id, isFolded)
    if (isFolded) onUnfold?.()
  }
  return (
    <Section
      {...section}
      title={
        isFolding ? (
          <button type="button" className="fold-heading" aria-expanded={!isFolded} aria-controls={body} onClick={press}>
            {title}
            <span className="fold-brief">{brief}</span>
          </button>
        ) : (
          title
        )
      }
      aside={isFolding ? undefined : aside}
    >
      <div ref={top} id={body} className={isFolded ? 'folded' : undefined}>
        {children}
      </div>
    </Section>
  )
}
