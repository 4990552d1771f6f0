// The dates on a row of the time axis: the plumb line of the day a piece is due, and of one that is only thought of.
import { along, type Scale, wordWidth } from './scale.ts'

/** Half the height of what a row of so many pixels shows. */
export const tallness = (height: number): number => Math.min(17, height * 0.2)

export type DuePlumbProps = {
  readonly scale: Scale
  readonly width: number
  readonly height: number
  readonly day: number
  /** Such as "due 2 May". */
  readonly word: string
  /** Another date that is only thought of, with its word. */
  readonly tried?: { readonly day: number; readonly word: string } | undefined
}

/** The day it is due in ink, with its word on top of all lines. */
export function DuePlumb({ scale, width, height, day, word, tried }: DuePlumbProps) {
  const middle = height / 2
  const tall = tallness(height)
  const x = along(scale, day)
  const wide = wordWidth(word, 14) + 14
  return (
    <g>
      <path className="stroke-ink" d={`M${x} ${middle - tall - 14}V${middle + tall + 8}`} strokeWidth={1.4} />
      <path className="fill-ink" d={`M${x - 5.5} ${middle + tall + 7}h11l-5.500 10z`} />
      {tried === undefined ? null : <TriedPlumb {...tried} x={along(scale, tried.day)} {...{ middle, tall, width }} />}
      <text
        className="halo"
        x={x + wide > width ? x - wide : x + 10}
        y={middle + tall + 20}
        fontSize={14}
        fontWeight={620}
      >
        {word}
      </text>
    </g>
  )
}

/** The date one is thinking of: in chalk and broken, since nothing is posted. */
function TriedPlumb({ x, word, middle, tall, width }: TriedPlumbProps) {
  const isLeft = x + 10 + wordWidth(word, 14) > width
  return (
    <g>
      <path
        className="stroke-chalk"
        d={`M${x} ${middle - tall - 20}V${middle + tall + 8}`}
        strokeWidth={2}
        strokeDasharray="5 3"
      />
      <path className="fill-none stroke-chalk" d={`M${x - 5.5} ${middle + tall + 7}h11l-5.500 10z`} strokeWidth={2} />
      <text
        className="fill-chalk halo"
        x={isLeft ? x - 8 : x + 8}
        y={11}
        fontSize={14}
        fontWeight={620}
        textAnchor={isLeft ? 'end' : 'start'}
      >
        {word}
      </text>
    </g>
  )
}

type TriedPlumbProps = {
  readonly x: number
  readonly word: string
  readonly middle: number
  readonly tall: number
  readonly width: number
}
