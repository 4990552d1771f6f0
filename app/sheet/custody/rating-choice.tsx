'use client'
// One rating chosen among five drawings; the words under them say what each means.
import { useId } from 'react'
import { nameRating, type RatingName, sayRating } from '../../_text/index.ts'
import { RatingDrawing } from './rating-drawings.tsx'

type RatingChoiceProps = {
  readonly name: RatingName
  readonly value: number
  readonly onValue: (value: number) => void
}

/** Five rings with a drawing each. */
export function RatingChoice({ name, value, onValue }: RatingChoiceProps) {
  const group = useId()
  return (
    <fieldset>
      <legend className="font-firm">
        {nameRating(name)}: <span className="font-plain">{sayRating(name, value)}</span>
      </legend>
      <div className="rating-choice">
        {[1, 2, 3, 4, 5].map((level) => (
          <label key={level} className="rating-level">
            <input
              type="radio"
              className="peer sr-only"
              name={group}
              checked={level === value}
              onChange={() => onValue(level)}
            />
            <RatingDrawing name={name} value={level} />
            <span>
              {level}
              <span className="sr-only"> {sayRating(name, level)}</span>
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  )
}
