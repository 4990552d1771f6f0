// A tray on the joining table: fifteen fragments of one undated specimen as measured, a few pairs tried, two fits, one of
// them held dry. The plate they come from is a grid of five by three whose breaks have lengths and courses of their own.
import { addDays } from '#lib/base'
import type { BreakEdge, Change } from '#lib/words'
import { type Dice, type Draft, instant, record } from './dice.ts'

const [COLUMNS, ROWS] = [5, 3] as const
const meeting = [
  ['straight', 'straight'],
  ['bowed out', 'bowed in'],
  ['bowed in', 'bowed out'],
  ['wavy', 'wavy'],
] as const

/** The tray of the first specimen that is being joined and has no date; nothing where there is none. */
export function demoTray(changes: readonly Change[], zone: string, today: string, chance: Dice): readonly Change[] {
  const dated = new Set(changes.flatMap((one) => (one.kind === 'due' && one.record ? [one.record.pieceId] : [])))
  const found = changes.find(
    (one) => one.kind === 'specimen' && one.record?.stage === 'joining' && !dated.has(one.record.id),
  )
  if (!found) return []
  const pieceId = found.id
  const edges = Array.from({ length: COLUMNS * ROWS }, (): BreakEdge[] => [])
  const breakBetween = (one: number, other: number) => {
    const [long, thick] = [chance.between(18, 46), 5 + 0.25 * (one + other)]
    const profiles = chance.pick(meeting)
    for (const [side, cell] of [one, other].entries())
      edges[cell]?.push({
        lengthMm: long + chance.between(-1, 1),
        thicknessMm: Math.round(10 * (thick + 0.1 * chance.between(-2, 2))) / 10,
        profile: profiles[side] ?? 'worn',
      })
  }
  for (let cell = 0; cell < COLUMNS * ROWS; cell++) {
    if (cell % COLUMNS < COLUMNS - 1) breakBetween(cell, cell + 1)
    if (cell < COLUMNS * (ROWS - 1)) breakBetween(cell, cell + COLUMNS)
  }
  // Numbers are inked as fragments come out of the bag: seven is coprime to fifteen.
  const numberOf = (cell: number) => 1 + ((cell * 7) % (COLUMNS * ROWS))
  const said = (minute: number) => ({ by: 'zosia', at: instant(zone, addDays(today, -1), minute) })
  const pair = (one: number, other: number): [number, number] =>
    numberOf(one) < numberOf(other) ? [numberOf(one), numberOf(other)] : [numberOf(other), numberOf(one)]
  const tried = (index: number, cells: readonly [number, number], result: Draft<'pairTry'>['result']) =>
    record('pairTry', { id: `${pieceId}-t${index}`, pieceId, pair: pair(...cells), result, ...said(620 + index) })
  return [
    ...edges.map((own, cell) =>
      record('fragment', {
        ...{ id: `${pieceId}-f${cell}`, pieceId, number: numberOf(cell), thicknessMm: Math.round(50 + 5 * cell) / 10 },
        ...{ texture: 3 + (cell % 2), shade: 3 + Math.floor(cell / COLUMNS), surface: cell < 8 ? 'smooth' : 'grooved' },
        ...{ edges: own, note: '', isGone: false, ...said(600) },
      }),
    ),
    tried(1, [0, 1], 'fit'),
    tried(2, [1, 6], 'fit'),
    tried(3, [0, 7], 'no fit'),
    tried(4, [3, 12], 'no fit'),
    tried(5, [4, 13], 'unsure'),
    record('join', {
      ...{ id: `${pieceId}-j1`, pieceId, pair: pair(0, 1), state: 'trial', adhesive: '', batchId: null, curedAt: null },
      ...said(640),
    }),
  ]
}
