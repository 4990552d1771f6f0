// The demo lab's room, drawn in metres from the inner top left corner: an air room behind a partition, microscopes
// under the windows, two bays under the hoist. A larger lab is the same room again, set side by side.
import { type Draft, round2 } from './dice.ts'

const ROOM_WIDTH_M = 16
const ROOM_DEPTH_M = 9.5
const ROOMS_A_ROW = 4

type Place = Draft<'place'>
type Sketch = Pick<Place, 'kind' | 'name' | 'xM' | 'yM' | 'widthM' | 'depthM' | 'seats' | 'features' | 'loadKgMax'> &
  Partial<Pick<Place, 'rotationDeg' | 'airLines' | 'isExclusive' | 'note'>> & { readonly letter: string }

const scope = {
  letter: 'M',
  kind: 'microscope bench',
  name: 'Microscope bench',
  widthM: 1.7,
  depthM: 0.85,
  seats: 1,
  features: ['microscope', 'good light'],
  loadKgMax: 90,
  isExclusive: true,
} as const
const air = {
  letter: 'A',
  kind: 'air-tool station',
  name: 'Air station',
  widthM: 1.4,
  depthM: 0.85,
  seats: 1,
  features: ['air line', 'extraction', 'good light'],
  loadKgMax: 90,
  airLines: 1,
  isExclusive: true,
} as const

const sketches: readonly Sketch[] = [
  { ...scope, features: [...scope.features], xM: 6.6, yM: 0.5 },
  { ...scope, features: [...scope.features], xM: 8.8, yM: 0.5 },
  { ...scope, features: [...scope.features], xM: 11, yM: 0.5 },
  { ...scope, features: [...scope.features], xM: 13.2, yM: 0.5, note: 'teaching head for a second pair of eyes' },
  { ...air, features: [...air.features], xM: 0.95, yM: 0.5 },
  { ...air, features: [...air.features], xM: 2.65, yM: 0.5 },
  { ...air, features: [...air.features], xM: 4.3, yM: 0.5 },
  {
    ...air,
    name: 'Blast cabinet',
    features: ['blast cabinet', 'air line', 'extraction'],
    loadKgMax: 80,
    xM: 0.55,
    yM: 3.1,
    widthM: 1.3,
    rotationDeg: 270,
  },
  {
    letter: 'B',
    kind: 'bay',
    name: 'Big bay',
    xM: 8.1,
    yM: 4.4,
    widthM: 3.6,
    depthM: 2.5,
    seats: 4,
    features: ['hoist', 'air line', 'extraction', 'sand tray', 'good light'],
    airLines: 2,
    loadKgMax: 3000,
    isExclusive: true,
  },
  {
    letter: 'B',
    kind: 'bay',
    name: 'Small bay',
    xM: 12.2,
    yM: 4.4,
    widthM: 2.8,
    depthM: 2.5,
    seats: 3,
    features: ['hoist', 'air line', 'extraction', 'sand tray', 'good light'],
    airLines: 1,
    loadKgMax: 1500,
    isExclusive: true,
  },
  {
    letter: 'F',
    kind: 'fume hood',
    name: 'Fume hood',
    xM: 15.5,
    yM: 2.1,
    widthM: 1.5,
    depthM: 0.9,
    rotationDeg: 90,
    seats: 1,
    features: ['fume hood', 'extraction'],
    loadKgMax: 60,
    isExclusive: true,
  },
  {
    letter: 'T',
    kind: 'acid tank',
    name: 'Acid tank',
    xM: 15.5,
    yM: 4.2,
    widthM: 1.6,
    depthM: 0.9,
    rotationDeg: 90,
    seats: 1,
    features: ['acid tank', 'sink'],
    loadKgMax: 120,
    isExclusive: true,
  },
  {
    letter: 'J',
    kind: 'joining table',
    name: 'Joining table',
    xM: 13.4,
    yM: 7.8,
    widthM: 2.6,
    depthM: 1.3,
    seats: 4,
    features: ['sand tray', 'good light'],
    loadKgMax: 300,
  },
  {
    letter: 'H',
    kind: 'housing bench',
    name: 'Housing bench',
    xM: 10.2,
    yM: 8.8,
    widthM: 2,
    depthM: 0.95,
    rotationDeg: 180,
    seats: 2,
    features: ['good light', 'extraction'],
    loadKgMax: 400,
  },
]

/** The room's outline for so many rooms side by side. */
export function demoRoom(rooms: number): Draft<'room'> {
  const room: Draft<'room'> = {
    id: 'room',
    widthM: ROOM_WIDTH_M * Math.min(rooms, ROOMS_A_ROW),
    depthM: ROOM_DEPTH_M * Math.ceil(rooms / ROOMS_A_ROW),
    partitions: [],
    doors: [],
    windows: [],
    compressor: { xM: 0.9, yM: 5.5 },
    racks: [],
  }
  for (let i = 0; i < rooms; i++) {
    const { x, y } = cornerOf(i)
    const point = (xM: number, yM: number) => ({ xM: round2(x + xM), yM: round2(y + yM) })
    const line = (x1: number, y1: number, x2: number, y2: number) => ({ from: point(x1, y1), to: point(x2, y2) })
    room.partitions.push(line(5.3, 0, 5.3, 1.7), line(5.3, 2.9, 5.3, 4.7), line(0, 4.7, 5.3, 4.7))
    room.doors.push(line(7.3, 9.5, 8.5, 9.5))
    room.windows.push(line(5.8, 0, 7.4, 0), line(8, 0, 9.6, 0), line(10.2, 0, 11.8, 0), line(12.4, 0, 14, 0))
    const rack = (code: string, xM: number, yM: number, widthM: number, depthM: number, loadKgMax: number) =>
      room.racks.push({ code: `${i * 4 + Number(code)}`, ...point(xM, yM), widthM, depthM, loadKgMax })
    // By their upper left corners, unlike places: two long racks on the lower wall, one on the left, one in front.
    rack('1', 0.4, 8.85, 3, 0.6, 1800)
    rack('2', 3.7, 8.85, 3, 0.6, 1800)
    rack('3', 0.05, 6.5, 0.6, 1.8, 900)
    rack('4', 2.2, 6.6, 3, 0.6, 1200)
  }
  return room
}

/** The places of so many rooms; one microscope is out of use until `backOn`. */
export function demoPlaces(rooms: number, backOn: string): Place[] {
  const places: Place[] = []
  const count = new Map<string, number>()
  for (let i = 0; i < rooms; i++) {
    const { x, y } = cornerOf(i)
    for (const { letter, ...sketch } of sketches) {
      const n = (count.get(letter) ?? 0) + 1
      count.set(letter, n)
      places.push({
        id: `${letter}${n}`.toLowerCase(),
        code: `${letter}${n}`,
        rotationDeg: 0,
        airLines: 0,
        isExclusive: false,
        closedUntil: null,
        closedReason: '',
        note: '',
        ...sketch,
        xM: round2(x + sketch.xM),
        yM: round2(y + sketch.yM),
      })
    }
  }
  const lamp = places.find((place) => place.code === 'M2')
  if (lamp) {
    lamp.closedUntil = backOn
    lamp.closedReason = 'lamp sent for repair'
  }
  return places
}

const cornerOf = (index: number) => ({
  x: (index % ROOMS_A_ROW) * ROOM_WIDTH_M,
  y: Math.floor(index / ROOMS_A_ROW) * ROOM_DEPTH_M,
})
