// The Floor's records turned into what the drawing of the room needs: places, pieces, sitters, stones on the racks,
// each with the one sentence a reader hears.
import type { Floor, PieceTag, PlaceOnFloor, Sitter } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import type { StoolState } from '../_parts/figures/index.ts'
import type { PieceShape, PlaceShape, RackStoneShape, SitterShape } from '../_parts/room/index.ts'
import { sayKg } from '../_text/index.ts'
import { names, tagDate } from './words.ts'

const forms: Record<RecordOf<'place'>['kind'], PlaceShape['form']> = {
  'microscope bench': 'bench',
  'air-tool station': 'bench',
  bench: 'bench',
  bay: 'bay',
  'fume hood': 'hood',
  'acid tank': 'tank',
  'joining table': 'table',
  'housing bench': 'bench',
}

/** A place as furniture, with its sentence. */
export function placeShape(entry: PlaceOnFloor): PlaceShape {
  const { place, isClosed } = entry
  return {
    id: place.id,
    code: place.code,
    form: forms[place.kind],
    xM: place.xM,
    yM: place.yM,
    widthM: place.widthM,
    depthM: place.depthM,
    rotationDeg: place.rotationDeg,
    seats: Math.max(place.seats, entry.sitters.length),
    airLines: place.airLines,
    closedWords: isClosed ? ['out of use', place.closedUntil ? `until ${tagDate(place.closedUntil)}` : ''] : undefined,
    label: placeSentence(entry),
  }
}

/** "M1, Microscope 1. Ines on OB24-017, needle, held. One seat free." */
function placeSentence({ place, isClosed, sitters, freeSeats, pieces }: PlaceOnFloor): string {
  const head = `${place.code}, ${place.name}.`
  if (isClosed) return `${head} Out of use${place.closedUntil ? ` until ${tagDate(place.closedUntil)}` : ''}.`
  const people = sitters.map((sitter) => {
    const piece = pieces.find((tag) => tag.pieceId === sitter.pieceId)
    return `${sitter.name} on ${piece?.number ?? 'a piece'}, ${sitter.technique}${stateWords(sitter)}.`
  })
  const lying = pieces.filter((piece) => !sitters.some((sitter) => sitter.pieceId === piece.pieceId))
  const more = lying.length > 0 ? [`${names(lying.map((piece) => piece.number))} lying here.`] : []
  const free = freeSeats > 0 ? [`${freeSeats} ${freeSeats === 1 ? 'seat' : 'seats'} free.`] : []
  return [head, ...people, ...more, ...free].join(' ')
}

function stateWords(sitter: Sitter): string {
  const words = [
    sitter.look === 'late' ? 'late' : sitter.look === 'away' ? 'away' : '',
    sitter.how === 'held' ? 'held' : sitter.how === 'claimed' ? 'claimed' : '',
  ].filter(Boolean)
  return words.length > 0 ? `, ${words.join(', ')}` : ''
}

/** How a stool is drawn. */
export function stoolState(sitter: Sitter): StoolState {
  if (sitter.look === 'late') return 'late'
  if (sitter.look === 'away') return 'away'
  if (sitter.mentorId !== null) return 'learner'
  return sitter.isMentor ? 'mentor' : 'in'
}

/** A sitter on the stool with its place in the row. */
function sitterShape(sitter: Sitter, seat: number): SitterShape {
  const note =
    sitter.look === 'late'
      ? sitter.dueAt
        ? `due ${sitter.dueAt}`
        : 'not here yet'
      : sitter.look === 'away'
        ? 'away'
        : sitter.technique
  return {
    key: sitter.personId,
    placeId: sitter.placeId,
    seat,
    state: stoolState(sitter),
    initial: sitter.name.slice(0, 1),
    name: sitter.name,
    note,
    isHeld: sitter.how === 'held',
    isClaimed: sitter.how === 'claimed',
    besideKey: sitter.mentorId ?? undefined,
  }
}

/** A piece at a place. */
export function pieceShape(piece: PieceTag, placeId: string): PieceShape {
  return {
    placeId,
    seed: piece.pieceId,
    number: piece.number,
    stage: piece.stage,
    lengthM: piece.lengthM,
    widthM: piece.widthM,
    words: [piece.name, sayKg(piece.massKg)].filter(Boolean).join(', '),
    date: piece.due ? { words: tagDate(piece.due.date), isAtRisk: piece.isAtRisk } : undefined,
  }
}

/** What lies on the racks: pieces at no place whose shelf names a rack of the room. */
export function rackStones(records: Records): readonly RackStoneShape[] {
  const room = records.room.get('room')
  if (!room) return []
  const codes = room.racks.map((rack) => rack.code)
  const stones: RackStoneShape[] = []
  for (const piece of [...records.jacket.values(), ...records.specimen.values()]) {
    if (piece.placeId !== null) continue
    const rackCode = rackOf(piece.shelf, codes)
    if (rackCode === null) continue
    const stage = 'stage' in piece ? piece.stage : piece.state === 'empty' ? null : piece.state
    if (stage === null || stage === 'released') continue
    stones.push({ rackCode, seed: piece.id, stage, lengthM: piece.lengthM, widthM: piece.widthM })
  }
  // The largest lie first, as one would stack them.
  return stones.toSorted((a, b) => b.lengthM - a.lengthM || (a.seed < b.seed ? -1 : 1))
}

/** The rack a shelf text names: "rack 1, shelf b" is rack 1. */
export function rackOf(shelf: string, codes: readonly string[]): string | null {
  const words = shelf.toLowerCase().split(/[^\p{L}\p{N}-]+/u)
  return codes.find((code) => words.includes(code.toLowerCase())) ?? null
}

/** All sitters of a Floor with their seats. */
export function sittersOf(floor: Floor): readonly SitterShape[] {
  return floor.places.flatMap((entry) => entry.sitters.map((sitter, seat) => sitterShape(sitter, seat)))
}
