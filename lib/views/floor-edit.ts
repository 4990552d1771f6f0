// Changes of the room as drawn, for the editor: everything snaps to 5 cm and stays inside the walls, doors and windows
// stay on a wall, a new place gets a code nobody has. Plain rooms and places in, plain rooms and places out.
import type { Place, PlaceId, RecordOf } from '#lib/words'
import { boxOf, snapM } from './floor-shape.ts'

type Room = RecordOf<'room'>
type Point = Room['partitions'][number]['from']
type Line = Room['partitions'][number]
export type LineKind = 'partitions' | 'doors' | 'windows'
/** What of a line is moved: an end, or the whole. */
export type LinePart = 'from' | 'to' | 'both'

const clamp = (value: number, most: number): number => Math.min(Math.max(0, most), Math.max(0, value))
/** How near a wall a door or window must be dropped to stay on that partition; farther goes to the nearest outer wall. */
const WALL_REACH_M = 0.6

/** A place's centre kept inside the walls and on the grid. */
export function insideRoom<P extends Pick<Place, 'xM' | 'yM' | 'widthM' | 'depthM' | 'rotationDeg'>>(
  room: Pick<Room, 'widthM' | 'depthM'>,
  place: P,
): P {
  const { w, h } = boxOf(place)
  const xM = snapM(Math.min(Math.max(w / 2, place.xM), Math.max(w / 2, room.widthM - w / 2)))
  const yM = snapM(Math.min(Math.max(h / 2, place.yM), Math.max(h / 2, room.depthM - h / 2)))
  return { ...place, xM, yM }
}

/** Moves an end of a line, or all of it, by metres. Doors and windows come to rest on the nearest wall. */
export function moveLine(room: Room, kind: LineKind, index: number, part: LinePart, dxM: number, dyM: number): Room {
  const line = room[kind][index]
  if (!line) return room
  const moved = (point: Point): Point => ({
    xM: snapM(clamp(point.xM + dxM, room.widthM)),
    yM: snapM(clamp(point.yM + dyM, room.depthM)),
  })
  const next: Line = {
    from: part === 'to' ? line.from : moved(line.from),
    to: part === 'from' ? line.to : moved(line.to),
  }
  const rested = kind === 'partitions' ? next : onWall(room, next)
  return { ...room, [kind]: room[kind].map((one, at) => (at === index ? rested : one)) }
}

/** A line laid onto the nearest wall at its own length: a partition within reach, else an outer wall. */
export function onWall(room: Room, line: Line): Line {
  const { widthM: w, depthM: d } = room
  const outer: Line[] = [
    { from: { xM: 0, yM: 0 }, to: { xM: w, yM: 0 } },
    { from: { xM: 0, yM: d }, to: { xM: w, yM: d } },
    { from: { xM: 0, yM: 0 }, to: { xM: 0, yM: d } },
    { from: { xM: w, yM: 0 }, to: { xM: w, yM: d } },
  ]
  const middle = { xM: (line.from.xM + line.to.xM) / 2, yM: (line.from.yM + line.to.yM) / 2 }
  const inReach = room.partitions.filter((wall) => apart(wall, middle) <= WALL_REACH_M)
  const walls = inReach.length > 0 ? inReach : outer
  const wall = walls.reduce((best, one) => (apart(one, middle) < apart(best, middle) ? one : best))
  const length = Math.hypot(line.to.xM - line.from.xM, line.to.yM - line.from.yM)
  const wallLength = Math.hypot(wall.to.xM - wall.from.xM, wall.to.yM - wall.from.yM)
  if (wallLength === 0) return line
  const unit = { x: (wall.to.xM - wall.from.xM) / wallLength, y: (wall.to.yM - wall.from.yM) / wallLength }
  const along = (middle.xM - wall.from.xM) * unit.x + (middle.yM - wall.from.yM) * unit.y
  const half = Math.min(length, wallLength) / 2
  const centre = Math.min(wallLength - half, Math.max(half, along))
  const at = (distance: number): Point => ({
    xM: snapM(wall.from.xM + unit.x * distance),
    yM: snapM(wall.from.yM + unit.y * distance),
  })
  // The first end carries the hinge and stays the first along the way it was drawn.
  const isTurned = (line.to.xM - line.from.xM) * unit.x + (line.to.yM - line.from.yM) * unit.y < 0
  const ends = [at(centre - half), at(centre + half)] as const
  return isTurned ? { from: ends[1], to: ends[0] } : { from: ends[0], to: ends[1] }
}

function apart(wall: Line, point: Point): number {
  const [dx, dy] = [wall.to.xM - wall.from.xM, wall.to.yM - wall.from.yM]
  const length2 = dx * dx + dy * dy
  const along =
    length2 === 0 ? 0 : clamp(((point.xM - wall.from.xM) * dx + (point.yM - wall.from.yM) * dy) / length2, 1)
  return Math.hypot(point.xM - wall.from.xM - along * dx, point.yM - wall.from.yM - along * dy)
}

/** A line of a kind in the middle of the room (or of its upper wall), one metre long. */
export function addLine(room: Room, kind: LineKind): Room {
  const x = snapM(room.widthM / 2)
  const y = kind === 'partitions' ? snapM(room.depthM / 2) : kind === 'doors' ? room.depthM : 0
  const half = kind === 'windows' ? 0.75 : 0.5
  const line: Line = { from: { xM: snapM(x - half), yM: y }, to: { xM: snapM(x + half), yM: y } }
  return { ...room, [kind]: [...room[kind], line] }
}

/** The room without one line. */
export const removeLine = (room: Room, kind: LineKind, index: number): Room => ({
  ...room,
  [kind]: room[kind].filter((_, at) => at !== index),
})

/** Codes go on counting after the highest of their letter: A1, A3 → A4. */
export function nextCode(codes: readonly string[], letter: string): string {
  const numbers = codes.flatMap((code) => (code.startsWith(letter) ? [Number(code.slice(letter.length))] : []))
  const highest = Math.max(0, ...numbers.filter((number) => Number.isInteger(number)))
  return `${letter}${highest + 1}`
}

/** What a new place of a kind usually is; every figure can be changed. */
const usual: Readonly<
  Record<
    Place['kind'],
    Pick<Place, 'widthM' | 'depthM' | 'seats' | 'features' | 'airLines' | 'loadKgMax' | 'isExclusive'>
  >
> = {
  'microscope bench': table(1.8, 0.9, 1, ['microscope', 'good light'], 0, 60, true),
  'air-tool station': table(1.4, 0.9, 1, ['air line', 'extraction', 'good light'], 1, 90, true),
  bench: table(1.8, 0.9, 2, ['good light'], 0, 120, false),
  bay: table(3.6, 2.5, 4, ['hoist'], 0, 1500, true),
  'fume hood': table(1.5, 0.9, 1, ['fume hood', 'extraction'], 0, 60, true),
  'acid tank': table(1.6, 0.9, 1, ['acid tank', 'extraction', 'sink'], 0, 120, true),
  'joining table': table(2.4, 1.2, 4, ['sand tray', 'good light'], 0, 200, false),
  'housing bench': table(2, 0.9, 2, ['good light'], 0, 400, false),
}

function table(
  widthM: number,
  depthM: number,
  seats: number,
  features: Place['features'],
  airLines: number,
  loadKgMax: number,
  isExclusive: boolean,
) {
  return { widthM, depthM, seats, features, airLines, loadKgMax, isExclusive }
}

const letters: Readonly<Record<Place['kind'], string>> = {
  'microscope bench': 'M',
  'air-tool station': 'A',
  bench: 'W',
  bay: 'B',
  'fume hood': 'F',
  'acid tank': 'T',
  'joining table': 'J',
  'housing bench': 'H',
}

/** A new place of a kind in the middle of the room. */
export function newPlace(room: Room, places: readonly RecordOf<'place'>[], kind: Place['kind'], id: PlaceId): Place {
  const code = nextCode(
    places.map((place) => place.code),
    letters[kind],
  )
  return insideRoom(room, {
    id,
    code,
    name: `${kind.charAt(0).toUpperCase()}${kind.slice(1)} ${code.slice(letters[kind].length)}`,
    kind,
    xM: room.widthM / 2,
    yM: room.depthM / 2,
    rotationDeg: 0,
    ...usual[kind],
    closedUntil: null,
    closedReason: '',
    note: '',
  })
}

/** The same place once more beside itself, with the next code. */
export function duplicatePlace(
  room: Room,
  places: readonly RecordOf<'place'>[],
  place: RecordOf<'place'>,
  id: PlaceId,
): Place {
  const letter = place.code.replace(/\d+$/u, '')
  const code = nextCode(
    places.map((one) => one.code),
    letter,
  )
  const { w } = boxOf(place)
  const isRightFree = place.xM + w * 1.5 + 0.3 <= room.widthM
  const xM = place.xM + (isRightFree ? w + 0.3 : -(w + 0.3))
  const name = place.name.replace(/\d+$/u, '').trim()
  return insideRoom(room, {
    ...place,
    id,
    code,
    name: `${name} ${code.slice(letter.length)}`,
    xM,
    closedUntil: null,
    closedReason: '',
  })
}
