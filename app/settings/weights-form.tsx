'use client'
// What a good day is, as sentences: how much each counts when the line-up is drawn up. A slider each, from "does not
// count" to "before nearly all else".
import { useEffect, useId, useState } from 'react'
import type { RecordOf } from '#lib/words'
import { Fold } from '../_parts/controls/index.ts'
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

/** Full measure of each, as the line-up's score counts it (PARTS in lib/lineup/problem.ts). */
const measures: Readonly<Record<Weight, string>> = {
  urgency: 'full for a hard date that is past, a fifth for one far off and easy; a soft date counts three quarters',
  everybody: 'full for any work at all',
  gentleness: 'full for the gentlest step of the piece; an eighth less for each stronger technique between',
  sameHands:
    'a quarter for each half-day on the piece in four weeks; going on with it in the next shift adds half an hour',
  learning: 'full for a learner beside a mentor, two fifths for practice at level 2',
  loves: 'three fifths for a technique somebody loves',
  fairness: 'a half for everybody; a wanted piece earns more for whoever had dull ones in four weeks, a dull one less',
  variety: 'nothing on the day it could first be done, full after 45 days',
  fewMoves: 'takes up to an hour of full measure for each place that the heaviest piece is brought to',
}

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
      <Fold title="How they are counted" className="mt-2">
        <p className="pb-2">
          All in the same coin. For each quarter of an hour that somebody works, full measure earns a hundred marks for
          each step of the slider, and less of it so much less. The line-up with the most marks is the one proposed.
        </p>
        <dl>
          {sentences.map(([name, sentence]) => (
            <div key={name} className="border-t border-line py-1.5">
              <dt className="named">{sentence}</dt>
              <dd className="text-small text-umber">{measures[name]}</dd>
            </div>
          ))}
        </dl>
      </Fold>
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
