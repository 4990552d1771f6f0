// Field numbers within a sentence, inked as on plaster and never broken over two lines.
import { Fragment, type ReactNode } from 'react'

const NUMBER = /([\p{L}\d]+(?:-[\p{L}\d]+)*-\d[\p{L}\d]*)/u

/** The sentence with its numbers in the inked face; a word with a hyphen and no figure stays as it is. */
export function inked(sentence: string): ReactNode {
  return sentence.split(NUMBER).map((part, index) =>
    index % 2 === 1 ? (
      <span key={index} className="inked whitespace-nowrap">
        {part}
      </span>
    ) : (
      <Fragment key={index}>{part}</Fragment>
    ),
  )
}
