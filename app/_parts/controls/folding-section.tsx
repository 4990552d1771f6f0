'use client'
// A section that takes one line of a phone while nothing is in it: its heading says so and opens it. What is in it stays
// mounted, so that a form open in it outlasts the first record that somebody else brings.
import { useEffect, useId, useRef, useState, useSyncExternalStore } from 'react'
import { Section, type SectionProps } from './rows.tsx'

/** Where the Sheet goes from one column to more; `sheet.css` has the same. */
const PHONE = '(max-width: 43.99rem)'

export type FoldingSectionProps = SectionProps & {
  /** What stands beside the folded heading when nothing is in it ("not housed yet"); null when something is. */
  readonly nothing: string | null
}

/** As `Section`; folded on a phone while there is nothing in it, until it is pressed or a link leads to it. */
export function FoldingSection({ nothing, title, aside, children, ...section }: FoldingSectionProps) {
  const isPhone = useSyncExternalStore(onPhoneChange, isPhoneNow, () => false)
  const [isOpened, setOpened] = useState(false)
  const body = useId()
  const top = useRef<HTMLDivElement>(null)
  const { id } = section
  useEffect(() => {
    if (id === undefined) return
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
  const isFolding = isPhone && nothing !== null
  const isFolded = isFolding && !isOpened
  return (
    <Section
      {...section}
      title={
        isFolding ? (
          <button
            type="button"
            className="fold-heading"
            aria-expanded={!isFolded}
            aria-controls={body}
            onClick={() => setOpened(!isOpened)}
          >
            {title}
            <span className="ml-auto font-plain text-small text-umber">{nothing}</span>
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

const isPhoneNow = () => matchMedia(PHONE).matches

function onPhoneChange(tell: () => void): () => void {
  const query = matchMedia(PHONE)
  query.addEventListener('change', tell)
  return () => query.removeEventListener('change', tell)
}
