// What is promised, asked and followed: six dates of which one cannot be kept and one is easy, a date asked for,
// questions, watchers, one step above a force ceiling with its test patch, and what is private to the staff.
import { addDays, minuteOf } from '#lib/base'
import type { Change } from '#lib/words'
import { type Dice, type Draft, instant, record } from './dice.ts'
import type { Written } from './written.ts'

interface Around {
  readonly lab: Draft<'lab'>
  readonly people: readonly Draft<'person'>[]
  readonly today: string
}

/** Piece, days from today, for what, whether it is fixed, by whom, note, and its chance as noted a week ago. */
type DueSketch = readonly [string, number, Draft<'due'>['kind'], boolean, string, string, number]

const dues: readonly DueSketch[] = [
  ['Back with ribs', 19, 'exhibit', true, 'thea', 'opening of the new hall', 0.21],
  ['Skull in block', 125, 'exhibit', true, 'thea', 'case 3, spring exhibition', 0.96],
  ['Paddle in nodule', 98, 'loan', true, 'thea', 'courier booked', 0.99],
  ['Shell, many pieces', 145, 'thesis', false, 'tamsin', 'photographs for chapter two', 0.84],
  ['Hip, left half', 205, 'visit', false, 'ulrich', 'here for one week', 0.97],
  ['Thigh bone', 110, 'loan', true, 'thea', 'crate is ordered', 0.99],
]

/** Dates, questions, watchers and what else hangs on single pieces. */
export function demoDates(written: Written, { lab, people, today }: Around, chance: Dice): Change[] {
  const find = (name: string) => written.specimens.find((specimen) => specimen.name === name)
  const changes: Change[] = []
  const at = (daysAgo: number, time: string) => instant(lab.zone, addDays(today, -daysAgo), minuteOf(time))
  const due = (draft: Omit<Draft<'due'>, 'id'>) => changes.push(record('due', { id: `due-${draft.pieceId}`, ...draft }))
  const weekAgo = addDays(today, -7)
  for (const [name, days, kind, isHard, by, note, noted] of dues) {
    const piece = find(name)
    if (!piece) continue
    const date = addDays(today, days)
    due({ pieceId: piece.id, date, kind, isHard, state: 'accepted', by, note })
    const dueId = `due-${piece.id}`
    changes.push(
      record('outlook', {
        id: `${dueId}.${weekAgo}`,
        dueId,
        on: weekAgo,
        date,
        chance: noted,
        median: addDays(date, -30),
      }),
    )
  }
  const wanted = find('Ring of eye bones')
  if (wanted) {
    const note = 'would like to measure it during the visit'
    due({
      pieceId: wanted.id,
      date: addDays(today, 120),
      kind: 'visit',
      isHard: false,
      state: 'asked',
      by: 'ulrich',
      note,
    })
  }
  const follow = (personId: string, names: readonly string[]) => {
    for (const name of names) {
      const pieceId = find(name)?.id
      if (pieceId) changes.push(record('watch', { id: `${pieceId}.${personId}`, pieceId, personId }))
    }
  }
  follow('tamsin', ['Shell, many pieces', 'Skull in block', 'Turtle, underside'])
  follow('ulrich', ['Hip, left half', 'Ring of eye bones', 'Paddle in nodule'])
  follow('wanda', ['Flying reptile, one wing', 'Lizard, curled'])
  follow('amara', ['Skull in block'])
  follow('thea', ['Back with ribs', 'Skull in block'])

  const ask = (
    name: string,
    by: string,
    daysAgo: number,
    text: string,
    answer: readonly [string, number, string] | null,
  ) => {
    const pieceId = find(name)?.id
    if (!pieceId) return
    const id = `question-${pieceId}-${daysAgo}`
    const said = answer && { by: answer[0], at: at(answer[1], '11:10'), text: answer[2] }
    changes.push(record('question', { id, pieceId, by, at: at(daysAgo, '15:20'), text, answer: said }))
  }
  ask('Skull in block', 'tamsin', 3, 'Is the left cheek complete under the rim of rock?', null)
  ask('Paddle in nodule', 'farid', 1, 'Which face goes up in the tray for the courier?', null)
  ask('Hip, left half', 'ulrich', 20, 'May the inner face stay in rock?', [
    'thea',
    18,
    'Yes, that is the stop line now.',
  ])
  ask('Shell, many pieces', 'clio', 9, 'Two pieces fit in two ways. Glue or wait?', [
    'vigdis',
    8,
    'Wait. Lay them in the tray, photograph both fits.',
  ])
  changes.push(...escalation(written, at))
  const asks = (personId: string, techniqueId: string, note: string) =>
    changes.push(
      record('signOffAsk', { id: `${personId}.${techniqueId}`, personId, techniqueId, at: at(2, '12:45'), note }),
    )
  asks('esme', 'needle', 'four shifts beside Amara now')
  for (const person of people) {
    const email = person.role === 'researcher' ? `${person.id}@example.org` : ''
    const phone = `extension ${chance.between(110, 890)}`
    changes.push(record('contact', { id: person.id, phone, email, emergency: 'see the sealed card in the office' }))
  }
  const pieceId = find('Skull in block')?.id ?? null
  const private_ = { by: 'thea', at: at(5, '16:40') }
  changes.push(
    record('privateNote', {
      id: 'note-hamish',
      aboutPersonId: 'hamish',
      aboutPieceId: null,
      text: 'Good hands. Let him sit beside Zosia until the summer.',
      ...private_,
    }),
    record('privateNote', {
      id: 'note-skull',
      aboutPersonId: null,
      aboutPieceId: pieceId,
      text: 'The exhibition can live without the palate if it must. Do not say so yet.',
      ...private_,
    }),
  )
  return changes
}

/** One crust that no gentle tool moves: a test patch, a decision, and leave to go one rung higher. */
function escalation({ specimens }: Written, at: (daysAgo: number, time: string) => string): Change[] {
  const piece = specimens.find((specimen) => specimen.name === 'Eggs, a clutch of four')
  if (!piece) return []
  const testPatch = 'one square centimetre beside the third egg, on rock only'
  const entry = { pieceId: piece.id, by: 'zosia', techniqueId: 'needle', corrects: null }
  return [
    record('entry', {
      ...entry,
      id: `${piece.id}-e90`,
      kind: 'test patch',
      at: at(16, '10:50'),
      text: `Needle, ${testPatch}: crust lifts clean, shell film stays.`,
    }),
    record('entry', {
      ...entry,
      id: `${piece.id}-e91`,
      kind: 'decision',
      at: at(16, '11:30'),
      text: 'Needle allowed on the crust between the eggs, not on shell.',
    }),
    record('escalation', {
      id: `escalation-${piece.id}`,
      pieceId: piece.id,
      techniqueId: 'needle',
      testPatch,
      reason: 'the crust between the eggs does not move under quill',
      by: 'zosia',
      at: at(16, '11:30'),
      endedAt: null,
    }),
  ]
}
