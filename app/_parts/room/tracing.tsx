'use client'
// The tracing sheet: paper over paper inside the walls, with a folded corner to lift it by, and the threads of
// what would change, walking the aisles.
import { short } from '../stone/outline.ts'
import type { Box, Scale } from './measure.ts'
import { type Px, threadPath } from './threads.ts'

/** More threads than this cross too often to follow: then only the chosen change is threaded. */
const mostThreads = 9

type ThreadWay = { readonly change: number; readonly way: readonly Px[] }

/** The sheet itself, laid over the floor before anything else is drawn on it. */
export function TracingSheet({ plan }: { readonly plan: Scale }) {
  const { inner } = plan
  const inset = 4
  const fold = foldOf(plan)
  const [left, top, right, bottom] = [
    inner.x + inset,
    inner.y + inset,
    inner.x + inner.w - inset,
    inner.y + inner.h - inset,
  ]
  return (
    <g className="sheet-down">
      <rect className="fill-trace" x={inner.x} y={inner.y} width={inner.w} height={inner.h} />
      <path
        className="stroke-chalk"
        fill="none"
        strokeWidth={1}
        d={`M${left} ${top}H${right}V${bottom - fold}L${right - fold} ${bottom}H${left}z`}
      />
    </g>
  )
}

/** The threads, each in its own lane, with a halo where they cross. */
export function Threads({ threads, chosenChange, arriveShort }: ThreadsProps) {
  const shown = threads.length > mostThreads ? threads.filter((thread) => thread.change === chosenChange) : threads
  const paths = shown.map((thread, index) => ({
    ...thread,
    d: threadPath(thread.way, ((index % 4) - 1.5) * 6, arriveShort),
  }))
  return (
    <g fill="none" strokeLinejoin="round">
      {paths.map(({ change, way, d }) => {
        const [from] = way
        const isChosen = change === chosenChange
        return (
          <g key={change}>
            <path className="stroke-trace" strokeWidth={7} d={d} />
            <path className="stroke-chalk" strokeWidth={isChosen ? 2.6 : 1.6} d={d} />
            <path className="stroke-chalk" strokeWidth={1.6} strokeLinecap="round" d={arrowHead(way, arriveShort)} />
            {from === undefined ? null : (
              <circle
                className="fill-trace stroke-chalk"
                cx={short(from.x)}
                cy={short(from.y)}
                r={4}
                strokeWidth={1.6}
              />
            )}
          </g>
        )
      })}
    </g>
  )
}

/** The folded corner: lifts the sheet to compare, lays it down again. */
export function FoldedCorner({
  plan,
  isLifted,
  onLift,
}: {
  readonly plan: Scale
  readonly isLifted: boolean
  readonly onLift: (isLifted: boolean) => void
}) {
  const right = plan.inner.x + plan.inner.w - 4
  const bottom = plan.inner.y + plan.inner.h - 4
  const fold = foldOf(plan)
  const toggle = () => onLift(!isLifted)
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button of HTML cannot stand inside a drawing
    <g
      className="hit"
      role="button"
      tabIndex={0}
      aria-pressed={isLifted}
      aria-label={isLifted ? 'Lay the tracing sheet down' : 'Lift the tracing sheet to compare'}
      onClick={toggle}
      onKeyDown={(event) => {
        if (event.key !== 'Enter' && event.key !== ' ') return
        event.preventDefault()
        toggle()
      }}
    >
      <rect className="fill-transparent" x={right - 44} y={bottom - 44} width={48} height={48} />
      <path className="fill-paper" d={`M${right} ${bottom - fold}V${bottom}H${right - fold}z`} />
      <path
        className="fill-chalkwash stroke-chalk"
        strokeWidth={1.2}
        strokeLinejoin="round"
        d={`M${right} ${bottom - fold}H${right - fold}V${bottom}z`}
      />
      <rect className="ring" x={right - 46} y={bottom - 46} width={48} height={48} />
    </g>
  )
}

/** What the folded corner covers: no name may stand under it. */
export function foldBox(plan: Scale): Box {
  const fold = foldOf(plan) + 4
  return { x: plan.inner.x + plan.inner.w - fold, y: plan.inner.y + plan.inner.h - fold, w: fold, h: fold }
}

/** On a phone the fold is drawn smaller than it is to the finger: it must not hide a bench. */
const foldOf = (plan: Scale): number => (plan.density === 'dot' ? 20 : 40)

function arrowHead(way: readonly Px[], arriveShort: number): string {
  const end = way[way.length - 1]
  const before = way[way.length - 2]
  if (end === undefined || before === undefined) return ''
  const length = Math.hypot(end.x - before.x, end.y - before.y) || 1
  const [ux, uy] = [(end.x - before.x) / length, (end.y - before.y) / length]
  const tip = { x: end.x - ux * arriveShort, y: end.y - uy * arriveShort }
  const wing = (side: number) => `${short(tip.x - ux * 8 - uy * 5 * side)} ${short(tip.y - uy * 8 + ux * 5 * side)}`
  return `M${wing(1)}L${short(tip.x)} ${short(tip.y)}L${wing(-1)}`
}

type ThreadsProps = {
  readonly threads: readonly ThreadWay[]
  readonly chosenChange: number | undefined
  readonly arriveShort: number
}
