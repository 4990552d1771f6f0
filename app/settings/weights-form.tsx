'use client'
// What a good day is, as sentences: how much each counts when the line-up is drawn up. A slider each, from "does not
// count" to "before nearly all else".
import { useEffect, useId, useState } from 'react'
import type { RecordOf } from '#lib/words'
import { Problem } from './problem.tsx'
import type { LabInHand } from './use-lab.ts'

type Weight = keyof RecordOf<'lab'>['weights']

const sentences: readonly (readonly [Weight, string, string])[] = [
  ['urgency', 'Dated pieces come first.', 'the nearer the date and the smaller the chance, the more'],
  ['everybody', 'Everybody in has something worthwhile to do.', 'rather a plain task than none'],
  ['gentleness', 'The gentlest technique that works is chosen.', 'even where a stronger one would be quicker'],
  ['sameHands', 'The same hands stay on a piece.', 'who knows it goes on with it'],
  ['learning', 'Learners sit beside mentors.', 'hours of mentors are given for it'],
  ['loves', 'People get the work they love.', 'as they said themselves'],
  ['fairness', 'The dull pieces go round.', 'whoever had them lately is spared'],
  ['variety', 'No kind of work waits for ever.', 'joining, housing, records'],
  ['fewMoves', 'Pieces are carried little.', 'heavy ones least of all'],
]

const words = [
  'does not count',
  'hardly counts',
  'counts little',
  'counts a little',
  'counts somewhat',
  'counts',
  'counts rather',
  'counts much',
  'counts very much',
  'counts nearly most',
  'before nearly all else',
] as const

/** The nine sentences. */
export function WeightsForm({ lab, keep }: LabInHand) {
  const [problem, setProblem] = useState<string>()
  return (
    <div>
      <ul>
        {sentences.map(([name, sentence, note]) => (
          <WeightRow
            key={name}
            sentence={sentence}
            note={note}
            value={lab.weights[name]}
            onKeep={(value) => setProblem(keep({ weights: { ...lab.weights, [name]: value } }))}
          />
        ))}
      </ul>
      <Problem say={problem} />
    </div>
  )
}

function WeightRow({ sentence, note, value, onKeep }: WeightRowProps) {
  const id = useId()
  const [at, setAt] = useState(value)
  useEffect(() => setAt(value), [value])
  const keep = () => {
    if (at !== value) onKeep(at)
  }
  return (
    <li className="grid gap-x-6 gap-y-1 border-b border-line py-3 tablet:grid-cols-[1fr_16rem]">
      <label htmlFor={id}>
        <span className="named block text-say">{sentence}</span>
        <span className="block text-small text-umber">{note}</span>
      </label>
      <span>
        <input
          id={id}
          type="range"
          min={0}
          max={10}
          step={1}
          value={at}
          aria-valuetext={words[at]}
          className="h-11 w-full accent-ink"
          onChange={(event) => setAt(Number(event.target.value))}
          onPointerUp={keep}
          onKeyUp={keep}
          onBlur={keep}
        />
        <span className="block text-small font-firm text-umber">{words[at]}</span>
      </span>
    </li>
  )
}

type WeightRowProps = {
  readonly sentence: string
  readonly note: string
  readonly value: number
  readonly onKeep: (value: number) => void
}
