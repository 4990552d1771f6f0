'use client'
// A row's finish window on the common axis, with the plumb of its date. The plumb can be taken and carried along the
// axis, by hand or with the arrows, to see the chance of another date; it is only thought of until somebody moves it.
import { useRef } from 'react'
import { dateOfDay, dayNumber } from '#lib/base'
import type { DueRow } from '#lib/views'
import { useDrag } from '../_parts/controls/index.ts'
import { AxisRules, along, DuePlumb, type DuePlumbProps, FinishWindow, type Scale } from '../_parts/figures/index.ts'
import { sayChance, sayDate, sayWindow } from '../_text/index.ts'
import { tagDate } from '../floor/words.ts'

export type DueWindowProps = {
  readonly row: DueRow
  readonly scale: Scale
  readonly width: number
  readonly height: number
  readonly today: string
  readonly tried: string | null
  /** Given where another date can be looked at. */
  readonly onTry?: ((date: string | null) => void) | undefined
  /** Chance of a date, for readers. */
  readonly chanceOf: (date: string) => number | null
}

/** The window, or the words in its place. */
export function DueWindow(props: DueWindowProps) {
  const { row, scale, width, height, today, tried, onTry, chanceOf } = props
  const { due, window } = row
  const dueWord = `due ${tagDate(due.date)}`
  const words = wordsOf(row)
  if (words !== null || window === null) {
    const plumb = { day: dayNumber(due.date), word: dueWord, tried: triedOf(tried) }
    return (
      <div className="relative">
        <Bare words={words ?? ''} {...{ scale, width, height, today, plumb }} />
        {onTry === undefined || row.state !== 'open' ? null : <Carried {...props} onTry={onTry} chanceOf={chanceOf} />}
      </div>
    )
  }
  const { p10, p50, p90, beyond } = window
  const chance = row.chance === null ? '' : `, ${sayChance(row.chance)}`
  return (
    <div className="relative">
      <FinishWindow
        scale={scale}
        width={width}
        height={height}
        todayDay={dayNumber(today)}
        lowDay={dayNumber(p10)}
        medianDay={dayNumber(p50)}
        highDay={dayNumber(p90)}
        lowWord={tagDate(p10)}
        highWord={`${beyond.includes('p90') ? 'after ' : ''}${tagDate(p90)}`}
        dueDay={dayNumber(due.date)}
        dueWord={dueWord}
        tried={triedOf(tried)}
        label={`Ready ${sayWindow(p10, p90)}, median ${sayDate(p50, 'short')}; ${dueWord}${chance}.`}
      />
      {onTry === undefined ? null : <Carried {...props} onTry={onTry} chanceOf={chanceOf} />}
    </div>
  )
}

/** What is said where no window is drawn; null where one is. */
function wordsOf({ state, window }: DueRow): string | null {
  if (state === 'ready') return 'Ready.'
  if (state !== 'open' || window === null) return 'No window yet.'
  if (!window.beyond.includes('p50')) return null
  return `${window.beyond.includes('p10') ? 'Hardly' : 'Seldom'} before ${sayDate(window.p90, 'full')}.`
}

const triedOf = (tried: string | null) => (tried === null ? undefined : { day: dayNumber(tried), word: tagDate(tried) })

/** The plumb as something one takes up. */
function Carried({ row, scale, today, tried, onTry, chanceOf }: DueWindowProps & Tries) {
  const now = dayNumber(tried ?? row.due.date)
  const from = useRef(now)
  const perDay = (scale.right - scale.left) / (scale.to - scale.from)
  const toDay = (dx: number) => {
    const day = Math.round(from.current + dx / perDay)
    onTry(dateOfDay(Math.max(dayNumber(today), Math.min(Math.floor(scale.to), day))))
  }
  const { handlers } = useDrag({
    onDrag: ({ dx }) => toDay(dx),
    onDrop: ({ dx }) => {
      toDay(dx)
      from.current = Math.round(from.current + dx / perDay)
    },
    onCancel: () => onTry(null),
    // One arrow is a week.
    keyStep: 7 * perDay,
  })
  const date = dateOfDay(now)
  const chance = chanceOf(date)
  return (
    <div
      ref={(node) => node?.style.setProperty('left', `${along(scale, now) - 22}px`)}
      role="slider"
      tabIndex={0}
      aria-label={`Try another date for ${row.number}`}
      aria-valuemin={dayNumber(today)}
      aria-valuemax={Math.floor(scale.to)}
      aria-valuenow={now}
      aria-valuetext={`${sayDate(date, 'full')}${chance === null ? '' : `, ${sayChance(chance)}`}`}
      className="plumb-hit"
      {...handlers}
      onPointerDown={(event) => {
        from.current = now
        handlers.onPointerDown(event)
      }}
      onKeyDown={(event) => {
        from.current = now
        handlers.onKeyDown(event)
        if (event.key === 'Escape') onTry(null)
      }}
    />
  )
}

type Tries = { readonly onTry: (date: string | null) => void }

/** The plumb alone, with words beside it, at the side where there is room. */
function Bare({ words, scale, width, height, today, plumb }: BareProps) {
  const label = `${words} ${plumb.word}.`
  const x = along(scale, plumb.day)
  const isRight = x < width / 2
  return (
    <svg
      className="block"
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={label}
    >
      <title>{label}</title>
      <AxisRules scale={scale} height={height} todayDay={dayNumber(today)} />
      <DuePlumb {...{ scale, width, height }} {...plumb} />
      <text
        className="fill-umber halo"
        x={isRight ? x + 10 : x - 10}
        y={height / 2 + 4}
        fontSize={14}
        textAnchor={isRight ? 'start' : 'end'}
      >
        {words}
      </text>
    </svg>
  )
}

type BareProps = Pick<DueWindowProps, 'scale' | 'width' | 'height' | 'today'> & {
  readonly words: string
  readonly plumb: Pick<DuePlumbProps, 'day' | 'word' | 'tried'>
}
