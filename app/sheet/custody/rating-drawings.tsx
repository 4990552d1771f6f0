// One small drawing for each level of each rating, so that two people mean the same by "three": rock under a tool, bone
// against rock, bone sound to powder, bone whole to shattered. All drawn from a few numbers, 56 by 40.
import type { ReactNode } from 'react'
import type { RatingName } from '../../_text/index.ts'

type Drawn = { readonly name: RatingName; readonly value: number }

/** The drawing; the words beside it say the same, so it is hidden from readers. */
export function RatingDrawing({ name, value }: Drawn) {
  return (
    <svg className="pen rating-drawing" width={56} height={40} viewBox="0 0 56 40" aria-hidden="true">
      {drawings[name](value)}
    </svg>
  )
}

const bone = 'M7 21c-3-6 4-11 8-7 6 3 18 3 25-1 5-4 11 1 9 6 3 5-3 10-8 7-8-3-19-3-25 0-4 4-11 1-9-5z'

/** Points on a jittered grid, the same at every painting; `keep` of ten stay. */
function grains(step: number, keep: number): readonly (readonly [number, number])[] {
  const found: [number, number][] = []
  for (let y = 4, n = 0; y < 38; y += step)
    for (let x = 4; x < 54; x += step, n++)
      if ((n * 7) % 10 < keep) found.push([x + ((n * 13) % 5) - 2, y + ((n * 17) % 5) - 2])
  return found
}

const dots = (points: readonly (readonly [number, number])[], size = 1.4): ReactNode => (
  <path strokeWidth={size} d={points.map(([x, y]) => `M${x} ${y}h.1`).join('')} />
)

/** In the middle of the bone, where rock does not lie. */
const isInside = ([x, y]: readonly [number, number]): boolean => ((x - 28) / 22) ** 2 + ((y - 20) / 8) ** 2 < 1

const drawings: Readonly<Record<RatingName, (value: number) => ReactNode>> = {
  // The harder, the denser the rock and the shallower the groove that the same point leaves; the softest falls apart.
  rockHardness: (value) => (
    <>
      {value < 5 ? (
        <path
          d={`M4 12h12c4 ${22 - value * 5} 12 ${22 - value * 5} 18 0h18v24H4z`}
          strokeDasharray={value === 1 ? '2 4' : undefined}
        />
      ) : (
        <path d="M4 12h48v24H4z" strokeWidth={2.4} />
      )}
      {value === 5 ? (
        <path d="M4 24 16 12M10 36l24-24M28 36l24-24M46 36l6-6" />
      ) : (
        dots(grains(7, 3 + value * 2).filter(([, y]) => y > 30 - value))
      )}
      {value === 1 ? (
        dots(
          [
            [20, 8],
            [26, 4],
            [32, 7],
            [37, 3],
            [42, 8],
          ],
          2,
        )
      ) : (
        <path d="m24 9 8-8" strokeWidth={2.4} />
      )}
    </>
  ),
  // The better it stands out, the emptier the bone and the heavier its edge.
  contrast: (value) => (
    <>
      {dots(grains(6, 9).filter((point) => !isInside(point)))}
      {dots(grains(6, 10 - value * 2).filter(isInside))}
      <path d={bone} strokeWidth={0.5 + value * 0.45} strokeDasharray={value < 3 ? `${value * 2} 4` : undefined} />
    </>
  ),
  // From powder to something that rings.
  soundness: (value) =>
    value === 1 ? (
      dots(grains(4, 8).filter(isInside), 1.8)
    ) : (
      <>
        <path d={bone} strokeWidth={value === 5 ? 2.6 : 1.5} strokeDasharray={value === 2 ? '5 3' : undefined} />
        {value < 5 ? <path d={cracks.slice(0, (5 - value) * 2).join('')} strokeWidth={1} /> : null}
      </>
    ),
  // Whole, then broken into more and more pieces, the last ones apart.
  breakage: (value) => (
    <>
      {value < 5 ? <path d={bone} /> : null}
      {value < 5 ? (
        <path d={breaks.slice(0, [0, 1, 2, 4][value - 1]).join('')} strokeWidth={2} />
      ) : (
        <path d="m5 12 9-3 3 8-8 5zM20 9l9 1-1 8-9 1zM33 8l9-3 3 7-9 4zM47 12l6 2-1 7-6-1zM7 27l8-3 4 7-9 4zM22 24l8-2 4 8-9 4zM37 25l7-4 6 8-9 5z" />
      )}
    </>
  ),
}

const cracks = [
  'M14 17l5 4-2 4',
  'M36 16l-4 5 3 4',
  'M23 16l3 5-2 4',
  'M44 17l-3 4 3 4',
  'M29 15l1 5',
  'M19 25l4-3',
] as const
const breaks = ['M28 13l-3 5 4 4-2 4', 'M17 14l3 6-3 6', 'M39 13l-2 6 4 3-3 4', 'M11 14l2 6-3 5'] as const
