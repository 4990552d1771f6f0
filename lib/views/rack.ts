// The Rack: everything that waits, as rows one can sort, filter and search while typing. Rows are made once per state
// of the board; narrowing thousands of them must not be felt under a thumb.
import type { PieceId, RecordOf, Records, Stage } from '#lib/words'
import { folded } from './find.ts'
import type { Chances } from './floor-day.ts'

export type RackRow = {
  readonly pieceId: PieceId
  readonly kind: 'jacket' | 'specimen'
  readonly number: string
  readonly name: string
  readonly stage: Stage
  readonly shelf: string
  /** Code of the place it lies at; empty on the shelf. */
  readonly at: string
  readonly massKg: number
  readonly isWeighed: boolean
  readonly lengthM: number
  readonly widthM: number
  readonly locality: string
  /** First accepted date. */
  readonly dueOn: string | null
  readonly tenths: number | null
  readonly isAtRisk: boolean
  /** The next step that is open. */
  readonly next: { readonly stepId: string; readonly title: string; readonly techniqueId: string } | null
  /** Hours the steps still ask for by their estimates. */
  readonly hoursLeft: number
  readonly hazards: RecordOf<'jacket'>['hazards']
  readonly text: string
}

/** All that waits: jackets that are not empty, specimens not yet released. */
export function rackRows(records: Records, chances: Chances): readonly RackRow[] {
  const steps = stepsByPiece(records)
  const dates = firstDates(records)
  const riskBelow = records.lab.get('lab')?.riskBelowTenths ?? 7
  const related = relatedNumbers(records)
  const rows: RackRow[] = []
  const add = (
    piece: RecordOf<'jacket'> | RecordOf<'specimen'>,
    of: Pick<RackRow, 'kind' | 'number' | 'name' | 'stage' | 'locality' | 'hazards'>,
    more: string,
  ) => {
    const open = steps.get(piece.id) ?? []
    const next = open[0]
    const at = piece.placeId === null ? '' : (records.place.get(piece.placeId)?.code ?? '')
    const dueOn = dates.get(piece.id) ?? null
    const tenths = chances.get(piece.id) ?? null
    rows.push({
      ...of,
      pieceId: piece.id,
      shelf: piece.shelf,
      at,
      massKg: piece.mass.weighedKg ?? (piece.mass.lowKg + piece.mass.highKg) / 2,
      isWeighed: piece.mass.weighedKg !== null,
      lengthM: piece.lengthM,
      widthM: piece.widthM,
      dueOn,
      tenths,
      isAtRisk: dueOn !== null && tenths !== null && tenths < riskBelow,
      next: next ? { stepId: next.id, title: next.title, techniqueId: next.techniqueId } : null,
      hoursLeft: open.reduce((sum, step) => sum + Math.max(0, step.hours.likelyH - step.doneMinutes / 60), 0),
      text: folded(
        `${of.number} ${of.name} ${of.locality} ${piece.shelf} ${at} ${more} ${related.get(piece.id) ?? ''} ${next?.title ?? ''}`,
      ),
    })
  }
  for (const jacket of records.jacket.values()) {
    if (jacket.state === 'empty') continue
    const { fieldNumber: number, contents: name, state: stage, locality, hazards } = jacket
    add(
      jacket,
      { kind: 'jacket', number, name, stage, locality, hazards },
      `${jacket.horizon} ${jacket.collector} ${jacket.permit ?? ''}`,
    )
  }
  for (const specimen of records.specimen.values()) {
    if (specimen.stage === 'released') continue
    const { number, name, stage, locality } = specimen
    const words = `${specimen.catalogueNumber} ${specimen.taxon ?? ''} ${specimen.element ?? ''}`
    add(specimen, { kind: 'specimen', number, name, stage, locality, hazards: [] }, words)
  }
  return rows
}

/** Numbers of the pieces that one belongs with, so that a search for the one finds the other too. */
function relatedNumbers(records: Records): ReadonlyMap<string, string> {
  const all = [...records.relation.values()]
  const ended = new Set(all.map((one) => one.ends))
  const found = new Map<string, string>()
  for (const { id, ends, pieceIds } of all) {
    if (ends !== null || ended.has(id)) continue
    const numbers = pieceIds.map(
      (one) => records.specimen.get(one)?.number ?? records.jacket.get(one)?.fieldNumber ?? '',
    )
    for (const one of pieceIds) found.set(one, `${found.get(one) ?? ''} ${numbers.join(' ')}`)
  }
  return found
}

function stepsByPiece(records: Records): ReadonlyMap<string, readonly RecordOf<'step'>[]> {
  const found = new Map<string, RecordOf<'step'>[]>()
  for (const step of records.step.values()) {
    if (step.state === 'done' || step.state === 'dropped') continue
    const list = found.get(step.pieceId)
    if (list) list.push(step)
    else found.set(step.pieceId, [step])
  }
  for (const list of found.values()) list.sort((a, b) => a.rank - b.rank || order(a.id, b.id))
  return found
}

function firstDates(records: Records): ReadonlyMap<string, string> {
  const found = new Map<string, string>()
  for (const due of records.due.values()) {
    const known = found.get(due.pieceId)
    if (due.state === 'accepted' && (known === undefined || due.date < known)) found.set(due.pieceId, due.date)
  }
  return found
}

export type RackShow = 'all' | 'sealed' | 'opened' | 'specimens' | 'dated'
export type RackSort = 'number' | 'due' | 'lightest' | 'heaviest' | 'shortest' | 'shelf'

export type RackAsk = {
  readonly typed: string
  readonly show: RackShow
  readonly sort: RackSort
  /** Only these pieces; null for all. */
  readonly only: ReadonlySet<string> | null
}

/** The rows asked for, in the order asked for: every word typed must stand somewhere in the row. */
export function rackList(rows: readonly RackRow[], ask: RackAsk): readonly RackRow[] {
  const words = folded(ask.typed).split(/\s+/).filter(Boolean)
  const kept = rows.filter(
    (row) =>
      isShown(row, ask.show) &&
      (ask.only === null || ask.only.has(row.pieceId)) &&
      words.every((word) => row.text.includes(word)),
  )
  const compare = comparisons[ask.sort]
  return kept.sort((a, b) => compare(a, b) || order(a.number, b.number) || order(a.pieceId, b.pieceId))
}

function isShown(row: RackRow, show: RackShow): boolean {
  switch (show) {
    case 'all':
      return true
    case 'sealed':
      return row.stage === 'sealed'
    case 'opened':
      return row.kind === 'jacket' && row.stage === 'opened'
    case 'specimens':
      return row.kind === 'specimen'
    case 'dated':
      return row.dueOn !== null
  }
}

const last = '9999-12-31'
const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)
const comparisons: Readonly<Record<RackSort, (a: RackRow, b: RackRow) => number>> = {
  number: (a, b) => order(a.number, b.number),
  due: (a, b) => order(a.dueOn ?? last, b.dueOn ?? last),
  lightest: (a, b) => a.massKg - b.massKg,
  heaviest: (a, b) => b.massKg - a.massKg,
  shortest: (a, b) => a.hoursLeft - b.hoursLeft,
  shelf: (a, b) => order(a.shelf || '\uffff', b.shelf || '\uffff'),
}
