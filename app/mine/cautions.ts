// The usual cautions for one turn, at the point of work: where the piece is fragile, what its jacket may carry, what
// the technique does to hands, ears, lungs and skin. Each names who decides; none says that something is without risk.
import { pieceOf, type Turn, techniqueOfStep } from '#lib/rules'
import type { MyTurn } from '#lib/views'
import type { Records, Technique } from '#lib/words'
import type { MarkName } from '../_parts/marks/index.ts'

export type Caution = {
  readonly key: string
  readonly mark: MarkName
  readonly bold?: string
  readonly text: string
}

const hazards: Readonly<Record<Technique['hazards'][number], { readonly mark: MarkName; readonly text: string }>> = {
  vibration: {
    mark: 'vibration',
    text: 'Vibrating tool: count the minutes it runs in the hand; keep warm, hold it loosely, change work often.',
  },
  noise: { mark: 'noise', text: 'Loud while it runs: wear the hearing protection the lab has chosen.' },
  dust: {
    mark: 'dust',
    text: 'Stone dust: extraction arm on and close, mask as the lab has fitted it; wipe, do not sweep.',
  },
  solvent: { mark: 'hood', text: 'Solvent vapour: work in the hood, no flame or spark, lid back on the jar.' },
  acid: { mark: 'acid', text: 'Acid: goggles, gloves and apron as the lab has laid down; know where the eyewash is.' },
  lift: { mark: 'lift', text: 'Heavy: agree who leads, use the hoist or trolley; do not turn a jacket alone.' },
  sharp: { mark: 'caution', text: 'Sharp point: work away from the other hand, cap it when you put it down.' },
}

export const fieldHazards = {
  wet: 'The jacket came in wet: bone and plaster may be soft.',
  mould: 'Mould was seen: ask before opening it further, mask on.',
  pyrite: 'Pyrite was seen: yellow or white powder is a sign of decay; tell a preparator.',
  'old plaster': 'Old jacket: fibre and mould are possible. Ask the safety officer before opening.',
  radioactive: 'Radioactive minerals are possible: the safety officer decides how long and how near.',
} as const

/** What is worked on, and with what. */
export type AtWork = Pick<MyTurn, 'piece' | 'technique'>

/** Cautions for a turn, the piece's own first. */
export function cautionsFor(records: Records, turn: AtWork): readonly Caution[] {
  const { piece, technique } = turn
  const found: Caution[] = []
  if ('fragile' in piece && piece.fragile !== '')
    found.push({ key: 'fragile', mark: 'fragile', bold: 'Fragile:', text: piece.fragile })
  if ('stopLine' in piece && piece.stopLine !== '')
    found.push({ key: 'stop', mark: 'ceiling', bold: 'Stop line:', text: piece.stopLine })
  if (piece.sampling === 'wanted')
    found.push({
      key: 'samples',
      mark: 'caution',
      bold: 'Samples first:',
      text: 'they are taken before any consolidant.',
    })
  const jacket = 'hazards' in piece ? piece : piece.jacketId === null ? undefined : records.jacket.get(piece.jacketId)
  for (const hazard of jacket?.hazards ?? [])
    found.push({ key: `field ${hazard}`, mark: 'caution', text: fieldHazards[hazard] })
  for (const hazard of technique.hazards) found.push({ key: hazard, ...hazards[hazard] })
  if (technique.hazards.includes('vibration') && technique.vibrationMs2 === null)
    found.push({
      key: 'vibration unknown',
      mark: 'why',
      text: 'Nobody has entered a vibration figure for this tool, so its minutes are not in your points. Ask for it.',
    })
  if (technique.hazards.includes('noise') && technique.noiseDba === null)
    found.push({
      key: 'noise unknown',
      mark: 'why',
      text: 'Nobody has entered how loud this tool is, so it is not in your noise of the day. Ask for it.',
    })
  const { wear = '', whenWrong = '' } = technique
  if (wear !== '') found.push({ key: 'wear', mark: 'caution', bold: 'Wear:', text: wear })
  if (whenWrong !== '') found.push({ key: 'wrong', mark: 'caution', bold: 'If it goes wrong:', text: whenWrong })
  const breakAfter = records.lab.get('lab')?.limits.scopeBreakMinutes
  if (breakAfter !== undefined && technique.needs.includes('microscope'))
    found.push({
      key: 'scope',
      mark: 'clock',
      text: `Microscope: look up and stand up every ${breakAfter} minutes, forearms supported.`,
    })
  if (found.length > 0) {
    const contact = records.lab.get('lab')?.safetyContact ?? ''
    const whom = contact === '' ? 'ask the safety officer' : contact
    found.push({
      key: 'decides',
      mark: 'caution',
      text: `In doubt: ${whom}. Local rules and the safety officer decide.`,
    })
  }
  return found
}

/** The work of a turn; null where something of it is no longer on the board. */
export function atWork(records: Records, turn: Pick<Turn, 'pieceId' | 'stepId'>): AtWork | null {
  const piece = pieceOf(records, turn.pieceId)
  const technique = techniqueOfStep(records, turn.stepId)
  return piece && technique ? { piece, technique } : null
}

export type CautionsHere = Caution & {
  /** Codes of the places it holds for, in their order. */
  readonly codes: readonly string[]
}

/** The cautions of several turns, each said once with all places it holds for; a piece's own carry its number. */
export function cautionsOfTurns(records: Records, turns: readonly Turn[]): readonly CautionsHere[] {
  const found = new Map<string, Caution & { readonly codes: Set<string> }>()
  for (const turn of turns) {
    const work = atWork(records, turn)
    const code = records.place.get(turn.placeId)?.code
    if (!work || code === undefined) continue
    const { piece } = work
    for (const caution of cautionsFor(records, work)) {
      const isOwn = ofPiece.has(caution.key)
      const number = 'number' in piece ? piece.number : piece.fieldNumber
      const text = isOwn ? `${number}, ${caution.text}` : caution.text
      const one = found.get(`${caution.key} ${text}`) ?? { ...caution, text, codes: new Set<string>() }
      one.codes.add(code)
      found.set(`${caution.key} ${text}`, one)
    }
  }
  const last = (one: Caution) => Number(one.key === 'decides')
  return [...found.values()].map((one) => ({ ...one, codes: [...one.codes].sort() })).sort((a, b) => last(a) - last(b))
}

/** Of the piece itself: read each time, since it is what breaks. */
export const ofPiece: ReadonlySet<string> = new Set(['fragile', 'stop', 'samples'])

const marks: Readonly<Record<Technique['group'], MarkName>> = {
  opening: 'openjacket',
  exposing: 'needle',
  consolidating: 'consolidate',
  joining: 'joining',
  housing: 'housing',
  other: 'document',
}

const byWord: readonly (readonly [RegExp, MarkName])[] = [
  [/blower/i, 'blower'],
  [/brush/i, 'brush'],
  [/quill|whisker|pick, wood|wooden/i, 'quill'],
  [/needle|pin vi/i, 'needle'],
  [/scalpel|dental/i, 'scalpel'],
  [/abrasi/i, 'abrasion'],
  [/heavy.*scribe/i, 'heavyscribe'],
  [/scribe/i, 'scribe'],
  [/chisel|hammer|saw/i, 'chisel'],
  [/consolid/i, 'consolidate'],
  [/join/i, 'joining'],
  [/fill/i, 'fill'],
  [/acid/i, 'acid'],
  [/mould|cast/i, 'mould'],
  [/turn/i, 'turn'],
  [/hous|cradle/i, 'housing'],
  [/document|photo/i, 'document'],
]

/** The mark of a technique: by its name where the trade's words are in it, else by what it is for. */
export function techniqueMark(technique: Pick<Technique, 'name' | 'group'>): MarkName {
  return byWord.find(([word]) => word.test(technique.name))?.[1] ?? marks[technique.group]
}
