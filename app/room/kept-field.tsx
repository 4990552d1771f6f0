'use client'
// Fields of the editor: what is typed is kept when one leaves the field or presses Enter, not at every key, so that a
// number half typed never moves a wall. What cannot be kept stays in the field with the reason.
import { useEffect, useState } from 'react'
import { NumberField, TextField } from '../_parts/controls/index.ts'

export type KeptNumberProps = {
  readonly label: string
  readonly value: number
  readonly unit?: string
  readonly step?: number
  readonly min?: number
  readonly max?: number
  /** Keeps the number; a sentence when it could not be. */
  readonly onKeep: (value: number) => string | undefined
}

/** A number that is kept when it is finished. */
export function KeptNumber({ label, value, unit, step = 0.05, min = 0, max, onKeep }: KeptNumberProps) {
  const [typed, setTyped] = useState<number | undefined>(value)
  const [problem, setProblem] = useState<string>()
  useEffect(() => setTyped(value), [value])
  const keep = () => {
    if (typed === undefined || typed === value) return setTyped(value)
    setProblem(onKeep(typed))
  }
  return (
    <NumberField
      label={label}
      unit={unit}
      value={typed}
      step={step}
      min={min}
      max={max}
      problem={problem}
      onValue={setTyped}
      onBlur={keep}
      onKeyDown={(event) => {
        if (event.key === 'Enter') keep()
      }}
    />
  )
}

export type KeptTextProps = {
  readonly label: string
  readonly value: string
  readonly hint?: string
  readonly isInked?: boolean
  readonly type?: 'text' | 'date'
  readonly onKeep: (value: string) => string | undefined
}

/** A line that is kept when it is finished. */
export function KeptText({ label, value, hint, isInked = false, type = 'text', onKeep }: KeptTextProps) {
  const [typed, setTyped] = useState(value)
  const [problem, setProblem] = useState<string>()
  useEffect(() => setTyped(value), [value])
  const keep = () => {
    if (typed !== value) setProblem(onKeep(typed))
  }
  return (
    <TextField
      label={label}
      value={typed}
      hint={hint}
      isInked={isInked}
      type={type}
      problem={problem}
      onChange={(event) => setTyped(event.target.value)}
      onBlur={keep}
      onKeyDown={(event) => {
        if (event.key === 'Enter') keep()
      }}
    />
  )
}
