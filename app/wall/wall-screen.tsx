'use client'
// Today on a screen in the room: the plan as high as the wall allows, six facts beside it, nothing to press. It turns
// itself to the next shift, comes back by itself after any cut, and dims with the room after hours.
import { useEffect, useMemo, useState } from 'react'
import { minuteOf, timeOfMinute } from '#lib/base'
import { floorOf, shiftsOn, wallFactsOf, wallShiftOf } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { useBoard, useGate, useNow, useSave } from '../_board/index.ts'
import { RoomPlan } from '../_parts/room/index.ts'
import { pieceShape, placeShape, rackStones, sittersOf } from '../floor/shapes.ts'
import { useChances } from '../floor/use-chances.ts'
import { WallSide } from './wall-side.tsx'
import './wall.css'

/** The screen. */
export function WallScreen() {
  const gate = useGate()
  const records = useBoard((board) => board)
  const now = useNow(10_000)
  const hasBoard = records.lab.has('lab') && now.ms > 0
  if (gate === 'out')
    return (
      <WallWords>This wall link has ended, or nobody made one yet. The manager makes a new one under Crew.</WallWords>
    )
  if (gate === 'reload') return <Reloading />
  if (!hasBoard) return <WallWords>Opening.</WallWords>
  return <Today records={records} date={now.date} minute={now.minute} />
}

function Today({
  records,
  date,
  minute,
}: {
  readonly records: Records
  readonly date: string
  readonly minute: number
}) {
  const save = useSave()
  const size = useWindow()
  const chances = useChances(records, date)
  const lab = records.lab.get('lab')
  const room = records.room.get('room')
  const shifts = useMemo(() => (lab ? shiftsOn(lab, date) : []), [lab, date])
  const shift = wallShiftOf(shifts, minute)
  const floor = useMemo(
    () => (shift ? floorOf(records, { date, shiftId: shift.id, today: date, minute }, chances) : null),
    [records, shift, date, minute, chances],
  )
  const isAfterHours = shift !== null && minute >= minuteOf(shift.end) + 60
  const stones = useMemo(() => rackStones(records), [records])
  if (!lab || !room || !shift || !floor)
    return <WallWords>{lab ? `${lab.name} is closed today.` : 'Nothing is set up yet.'}</WallWords>
  const { isWide, zoom, width, density } = wallLayout(size, room)
  return (
    <main className={`wall ${isWide ? 'wall-wide' : 'wall-tall'} ${isAfterHours ? 'wall-dim' : ''}`}>
      <h1 className="sr-only">
        {lab.name}, {shift.name}, {timeOfMinute(minute)}
      </h1>
      <div className="min-w-0">
        <RoomPlan
          room={room}
          places={floor.places.map(placeShape)}
          pieces={floor.places.flatMap((entry) => entry.pieces.map((piece) => pieceShape(piece, entry.place.id)))}
          sitters={sittersOf(floor)}
          rackStones={stones}
          width={width}
          zoom={zoom}
          density={density}
          label={`The room, ${shift.name.toLowerCase()}`}
        />
        {size.width < 700 ? <Seated floor={floor} /> : null}
      </div>
      <WallSide
        facts={wallFactsOf(records, floor)}
        shift={shift}
        date={date}
        minute={minute}
        isPosted={records.day.has(date)}
        isOffline={save.state === 'offline'}
      />
    </main>
  )
}

/** The grid a wall is laid out on: letters are those of 1920 px across, drawn as large as the screen is. */
const GRID = 1920
/** A screen that stands upright is narrower and is looked at from nearer. */
const UPRIGHT_GRID = 1560
/** Of that grid: the column beside the plan, the gap, the margins, and what walls and metre rule take. */
const SIDE = 304
const GAP = 32
const MARGIN = 24
const WALLS = 36
const RULE = 48

function wallLayout(size: { readonly width: number; readonly height: number }, room: RecordOf<'room'>) {
  const isWide = size.width > size.height * 1.2
  const isLarge = size.width >= (isWide ? 1200 : 900)
  const zoom = isLarge ? size.width / (isWide ? GRID : UPRIGHT_GRID) : 1
  const density = isLarge ? ('wall' as const) : size.width >= 700 ? ('name' as const) : ('dot' as const)
  const inside = { width: size.width / zoom - MARGIN * 2, height: size.height / zoom - MARGIN * 2 }
  if (!isWide) return { isWide, zoom, density, width: Math.max(280, Math.floor(inside.width)) }
  const byWidth = inside.width - SIDE - GAP
  const byHeight = ((inside.height - WALLS - RULE) / room.depthM) * room.widthM + WALLS
  return { isWide, zoom, density, width: Math.max(280, Math.floor(Math.min(byWidth, byHeight))) }
}

/** On a small screen the names stand in a list under the plan. */
function Seated({ floor }: { readonly floor: ReturnType<typeof floorOf> }) {
  return (
    <ul className="pt-3 text-say">
      {floor.places.flatMap((entry) =>
        entry.sitters.map((sitter) => (
          <li key={sitter.personId} className="border-b border-line py-1.5">
            <strong className="font-strong">{sitter.name}</strong> at {entry.place.code}, {sitter.technique}
          </li>
        )),
      )}
    </ul>
  )
}

function WallWords({ children }: { readonly children: React.ReactNode }) {
  return (
    <main className="flex min-h-dvh items-center justify-center p-10 text-center">
      <p className="heading text-wall" role="status">
        {children}
      </p>
    </main>
  )
}

/** Nobody presses a wall: a newer Talus is loaded by itself. */
function Reloading() {
  useEffect(() => {
    const timer = setTimeout(() => window.location.reload(), 5000)
    return () => clearTimeout(timer)
  }, [])
  return <WallWords>A newer Talus is coming up.</WallWords>
}

function useWindow(): { readonly width: number; readonly height: number } {
  const [size, setSize] = useState({ width: 1920, height: 1080 })
  useEffect(() => {
    const measure = () => setSize({ width: window.innerWidth, height: window.innerHeight })
    measure()
    window.addEventListener('resize', measure)
    return () => window.removeEventListener('resize', measure)
  }, [])
  return size
}
