// What the demo lab photographed of its pieces, with captions, and what was drawn on the photographs. The pictures are
// painted (`scenes.ts`); where they are kept gives them their name, so records are made when that is known.
import { addDays } from '#lib/base'
import { type Change, type RecordOf, STROKE_SPAN } from '#lib/words'
import { type Draft, instant, record } from './dice.ts'
import type { Painted } from './painted.ts'
import { barOf, boneIn, boneInCradle, boneInRock, fragmentsOf, jacketWith } from './scenes.ts'

/** What a picture shows; enough to paint it in another thread. */
export type Sketch = { readonly seed: number; readonly widthMm: number } & (
  | { readonly shows: 'rock'; readonly clearPct: number }
  | { readonly shows: 'cradle' }
  | { readonly shows: 'jacket'; readonly number: string }
  | { readonly shows: 'fragments'; readonly count: number }
)

/** A photograph that is to be: its picture, and its records once the file is kept. */
export interface DemoPhoto {
  readonly by: string
  readonly sketch: Sketch
  readonly records: (
    file: Pick<Draft<'photo'>, 'hash' | 'form' | 'widthPx' | 'heightPx' | 'bytes'>,
  ) => readonly Change[]
}

/** Paints a picture; about 100 ms of processor. */
export function paint(sketch: Sketch): Painted {
  const { seed, widthMm } = sketch
  if (sketch.shows === 'rock') return boneInRock(seed, widthMm, sketch.clearPct)
  if (sketch.shows === 'cradle') return boneInCradle(seed, widthMm)
  if (sketch.shows === 'jacket') return jacketWith(sketch.number, seed, widthMm)
  return fragmentsOf(sketch.count, seed, widthMm)
}

type Said = {
  readonly pieceId: string
  readonly view: Draft<'photo'>['view']
  readonly caption: string
  readonly daysAgo: number
}
type Drawn = Pick<Draft<'stroke'>, 'what' | 'points'>

/** All of them: two of the dated specimen that is needed first, and one each of what the lab has in hand otherwise. */
export function demoPhotographs(lab: readonly Change[], zone: string, today: string): readonly DemoPhoto[] {
  const all = <K extends 'specimen' | 'jacket' | 'due' | 'fragment'>(kind: K) =>
    lab.flatMap((one) => (one.kind === kind && one.record ? [one.record as RecordOf<K>] : []))
  const exposing = all('specimen').filter(({ stage }) => stage === 'exposing')
  const dues = all('due').toSorted((a, b) => (a.date < b.date ? -1 : 1))
  const dated = dues.flatMap(({ pieceId }) => exposing.filter(({ id }) => id === pieceId))
  const [first, second] = new Set([...dated, ...exposing])
  const housed = all('specimen').find(({ stage }) => stage === 'housed')
  const jacket = all('jacket').find(({ state, isInSeason }) => state === 'sealed' && isInSeason)
  const fragments = all('fragment')
  const wide = (lengthM: number) => Math.round(lengthM * 1400)
  const photo = (id: string, sketch: Sketch, said: Said, drawn: readonly Drawn[] = []): DemoPhoto => {
    const { daysAgo, ...words } = said
    const at = instant(zone, addDays(today, -daysAgo), 15 * 60 + 40)
    const by = 'zosia'
    return {
      by,
      sketch,
      records: (file) => [
        record('photo', {
          ...{ id: `demo-photo-${id}`, entryId: null, ...words, ...file, scaleBarMm: barOf(sketch.widthMm) },
          ...{ takenAt: at, takenBy: by, by, at, owner: '', licence: '', corrects: null, withdrawn: false },
        }),
        ...drawn.map((stroke, n) =>
          record('stroke', {
            ...{ id: `demo-stroke-${id}-${n}`, pieceId: said.pieceId, photoHash: file.hash, view: null, ...stroke },
            ...{ by, at, withdraws: null },
          }),
        ),
      ],
    }
  }
  return [
    ...(first
      ? [
          photo(
            'before',
            { shows: 'rock', seed: 2, widthMm: wide(first.lengthM), clearPct: 30 },
            {
              pieceId: first.id,
              view: 'dorsal',
              caption: 'First bone, before the rock over the shaft came off',
              daysAgo: 38,
            },
          ),
          photo(
            'now',
            { shows: 'rock', seed: 4, widthMm: wide(first.lengthM), clearPct: 85 },
            {
              pieceId: first.id,
              view: 'left lateral',
              caption: 'Both ends clear; rock stays over the middle',
              daysAgo: 2,
            },
            mapOn(4, first.stopLine !== ''),
          ),
        ]
      : []),
    ...(second
      ? [
          photo(
            'second',
            { shows: 'rock', seed: 3, widthMm: wide(second.lengthM), clearPct: 60 },
            { pieceId: second.id, view: 'dorsal', caption: 'As it lies after the last shift', daysAgo: 5 },
            mapOn(3, false),
          ),
        ]
      : []),
    ...(housed
      ? [
          photo(
            'cradle',
            { shows: 'cradle', seed: 5, widthMm: wide(housed.lengthM) },
            { pieceId: housed.id, view: 'whole', caption: 'In its cradle, as it goes on the shelf', daysAgo: 9 },
          ),
        ]
      : []),
    ...(jacket
      ? [
          photo(
            'jacket',
            { shows: 'jacket', seed: 6, widthMm: wide(jacket.lengthM), number: jacket.fieldNumber },
            { pieceId: jacket.id, view: 'label', caption: 'Number side up, as it came', daysAgo: 60 },
          ),
        ]
      : []),
    ...(fragments[0]
      ? [
          photo(
            'fragments',
            { shows: 'fragments', seed: 7, widthMm: 240, count: fragments.length },
            { pieceId: fragments[0].pieceId, view: 'whole', caption: 'Laid out and numbered', daysAgo: 1 },
          ),
        ]
      : []),
  ]
}

/** What a preparator draws on a bone that shows at both ends. */
function mapOn(seed: number, isEnding: boolean): readonly Drawn[] {
  const [[ax, ay], [bx, by]] = boneIn(seed)
  const on = (points: readonly (readonly [number, number])[]): [number, number][] =>
    points.map(([x, y]) => [Math.round((x * STROKE_SPAN) / 100), Math.round((y * STROKE_SPAN) / 75)])
  const round = (x: number, y: number, rx: number, ry: number): [number, number][] =>
    on(
      Array.from({ length: 19 }, (_, n) => [
        x + rx * Math.cos((n * Math.PI) / 9),
        y + ry * Math.sin((n * Math.PI) / 9) + Math.sin(n * 1.7) * 0.4,
      ]),
    )
  return [
    { what: 'bone shows', points: round(ax - 1, ay + 1, 10, 12) },
    {
      what: 'follow',
      points: on([
        [ax + 15, (2 * ay + by) / 3 - 0.8],
        [(ax + bx) / 2, (ay + by) / 2 - 2.4],
        [bx - 12, (ay + 2 * by) / 3 - 0.6],
        [bx - 3, by - 0.4],
      ]),
    },
    { what: 'keep off', points: round(bx + 3, by + 6, 5, 5) },
    {
      what: 'worked',
      points: on([
        [ax + 14, (2 * ay + by) / 3 + 6],
        [ax + 26, (ay + by) / 2 + 6],
      ]),
    },
    ...(isEnding
      ? [
          {
            what: 'stop line' as const,
            points: on([
              [ax - 6, ay + 17],
              [(ax + bx) / 2, (ay + by) / 2 + 12],
              [bx + 4, by + 16],
            ]),
          },
        ]
      : []),
  ]
}
