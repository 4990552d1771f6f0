// Maps in words: for readers, for the list of strokes, for the key.
import type { Stroke, StrokeKind, StrokePoint } from '#lib/words'
import { sayCount } from '../../_text/index.ts'
import type { Drawable } from './grounds.ts'

export const sayStroke: Readonly<Record<StrokeKind, string>> = {
  'bone shows': 'Bone shows here',
  follow: 'Follow it this way',
  'keep off': 'Do not go here',
  'stop line': 'Stop line',
  worked: 'Worked here',
  outline: 'Outline',
}

const thirds = (value: number, [low, middle, high]: readonly [string, string, string]) =>
  value < 3334 ? low : value > 6666 ? high : middle

function sayPlace([x, y]: StrokePoint): string {
  const [across, down] = [thirds(x, ['left', '', 'right']), thirds(y, ['upper', '', 'lower'])]
  return across === '' && down === '' ? 'the middle' : `the ${[down, across].filter(Boolean).join(' ')}`
}

/** Where a stroke runs: `from the upper left to the middle`. */
export function sayRun({ points }: Pick<Stroke, 'points'>): string {
  const [from, to] = [points[0], points.at(-1)]
  if (!from || !to) return ''
  return sayPlace(from) === sayPlace(to) ? `at ${sayPlace(from)}` : `from ${sayPlace(from)} to ${sayPlace(to)}`
}

/** A whole map for readers. */
export function sayMap({ name, strokes }: Drawable): string {
  const counts = (Object.keys(sayStroke) as StrokeKind[]).flatMap((what) => {
    const count = strokes.filter((stroke) => stroke.what === what).length
    return count === 0 ? [] : [`${sayStroke[what].toLowerCase()}: ${sayCount(count, 'stroke')}`]
  })
  return `Exposure map, ${name}. ${counts.length === 0 ? 'Nothing is drawn yet' : counts.join('; ')}.`
}
