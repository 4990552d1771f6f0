'use client'
// The room itself by numbers: its size, and every wall, door, window and rack with its ends in metres.
import { addLine, type LineKind, onWall, removeLine } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { useAct, useBoard } from '../_board/index.ts'
import { Button, Fold, Section } from '../_parts/controls/index.ts'
import { sayFindings } from '../_text/index.ts'
import { KeptNumber, KeptText } from './kept-field.tsx'

/** What is chosen in the editor. */
export type Picked =
  | { readonly what: 'place'; readonly id: string }
  | { readonly what: LineKind; readonly index: number }
  | { readonly what: 'racks'; readonly index: number }
  | { readonly what: 'compressor' }

type Room = RecordOf<'room'>

export type RoomFormProps = {
  readonly room: Room
  readonly picked: Picked | null
  readonly onPick: (picked: Picked | null) => void
}

const lineWords: readonly (readonly [LineKind, string, string])[] = [
  ['partitions', 'Inner walls', 'Inner wall'],
  ['doors', 'Doors', 'Door'],
  ['windows', 'Windows', 'Window'],
]

/** Size, lines, racks and compressor. */
export function RoomForm({ room, picked, onPick }: RoomFormProps) {
  const act = useAct()
  const records = useBoard((board) => board)
  const keep = (next: Room): string | undefined => {
    const done = act({ kind: 'setRoom', room: next })
    return done.ok ? undefined : sayFindings(done.findings, records)
  }
  return (
    <Section title="The room">
      <div className="grid grid-cols-2 gap-3 pt-3">
        <KeptNumber
          label="Inside width"
          unit="m"
          value={room.widthM}
          min={2}
          max={100}
          onKeep={(widthM) => keep({ ...room, widthM })}
        />
        <KeptNumber
          label="Inside depth"
          unit="m"
          value={room.depthM}
          min={2}
          max={100}
          onKeep={(depthM) => keep({ ...room, depthM })}
        />
      </div>
      {lineWords.map(([kind, many, one]) => (
        <Fold key={kind} title={`${many}, ${room[kind].length}`} isOpen={picked?.what === kind}>
          {room[kind].map((line, index) => (
            <LineRow
              key={index}
              name={`${one} ${index + 1}`}
              line={line}
              isChosen={picked?.what === kind && picked.index === index}
              onPick={() => onPick({ what: kind, index })}
              onKeep={(next) => {
                const rested = kind === 'partitions' ? next : onWall(room, next)
                return keep({ ...room, [kind]: room[kind].map((old, at) => (at === index ? rested : old)) })
              }}
              onRemove={() => {
                onPick(null)
                keep(removeLine(room, kind, index))
              }}
            />
          ))}
          <Button
            mark="add"
            onClick={() => {
              if (keep(addLine(room, kind)) === undefined) onPick({ what: kind, index: room[kind].length })
            }}
          >
            Add {one.toLowerCase()}
          </Button>
        </Fold>
      ))}
      <Racks room={room} picked={picked} onPick={onPick} keep={keep} />
      <Compressor room={room} keep={keep} />
    </Section>
  )
}

function LineRow({ name, line, isChosen, onPick, onKeep, onRemove }: LineRowProps) {
  const end = (part: 'from' | 'to', axis: 'xM' | 'yM', label: string) => (
    <KeptNumber
      label={label}
      unit="m"
      value={line[part][axis]}
      onKeep={(value) => onKeep({ ...line, [part]: { ...line[part], [axis]: value } })}
    />
  )
  return (
    <fieldset className={`mb-3 border-b border-b-line pb-3 ${isChosen ? 'row-chosen' : ''}`} onFocus={onPick}>
      <legend className="sr-only">{name}</legend>
      <p className="font-strong">{name}</p>
      <div className="grid grid-cols-2 gap-2">
        {end('from', 'xM', 'From left')}
        {end('from', 'yM', 'From above')}
        {end('to', 'xM', 'To left')}
        {end('to', 'yM', 'To above')}
      </div>
      <Button kind="quiet" onClick={onRemove}>
        Remove {name.toLowerCase()}
      </Button>
    </fieldset>
  )
}

type LineRowProps = {
  readonly name: string
  readonly line: Room['doors'][number]
  readonly isChosen: boolean
  readonly onPick: () => void
  readonly onKeep: (line: Room['doors'][number]) => string | undefined
  readonly onRemove: () => void
}

function Racks({ room, picked, onPick, keep }: RacksProps) {
  const codes = room.racks.map((rack) => Number(rack.code)).filter(Number.isInteger)
  return (
    <Fold title={`Racks, ${room.racks.length}`} isOpen={picked?.what === 'racks'}>
      {room.racks.map((rack, index) => {
        const edit = (patch: Partial<typeof rack>) =>
          keep({ ...room, racks: room.racks.map((old, at) => (at === index ? { ...old, ...patch } : old)) })
        return (
          <fieldset
            key={index}
            className={`mb-3 border-b border-b-line pb-3 ${picked?.what === 'racks' && picked.index === index ? 'row-chosen' : ''}`}
            onFocus={() => onPick({ what: 'racks', index })}
          >
            <legend className="sr-only">Rack {rack.code}</legend>
            <div className="grid grid-cols-2 gap-2">
              <KeptText label="Code" value={rack.code} isInked onKeep={(code) => edit({ code })} />
              <KeptNumber
                label="Bears"
                unit="kg"
                step={10}
                value={rack.loadKgMax}
                onKeep={(loadKgMax) => edit({ loadKgMax })}
              />
              <KeptNumber label="Left edge" unit="m" value={rack.xM} onKeep={(xM) => edit({ xM })} />
              <KeptNumber label="Upper edge" unit="m" value={rack.yM} onKeep={(yM) => edit({ yM })} />
              <KeptNumber label="Width" unit="m" min={0.2} value={rack.widthM} onKeep={(widthM) => edit({ widthM })} />
              <KeptNumber label="Depth" unit="m" min={0.2} value={rack.depthM} onKeep={(depthM) => edit({ depthM })} />
            </div>
            <Button
              kind="quiet"
              onClick={() => {
                onPick(null)
                keep({ ...room, racks: room.racks.filter((_, at) => at !== index) })
              }}
            >
              Remove rack {rack.code}
            </Button>
          </fieldset>
        )
      })}
      <Button
        mark="add"
        onClick={() =>
          keep({
            ...room,
            racks: [
              ...room.racks,
              {
                code: String(Math.max(0, ...codes) + 1),
                xM: 0.1,
                yM: Math.max(0, room.depthM - 0.7),
                widthM: Math.min(3, room.widthM),
                depthM: 0.6,
                loadKgMax: 900,
              },
            ],
          })
        }
      >
        Add rack
      </Button>
    </Fold>
  )
}

type RacksProps = RoomFormProps & { readonly keep: (next: Room) => string | undefined }

function Compressor({ room, keep }: Pick<RacksProps, 'room' | 'keep'>) {
  const { compressor } = room
  return (
    <Fold title={compressor ? 'Compressor, one' : 'Compressor, none drawn'}>
      {compressor ? (
        <div className="grid grid-cols-2 gap-2">
          <KeptNumber
            label="From the left wall"
            unit="m"
            value={compressor.xM}
            onKeep={(xM) => keep({ ...room, compressor: { ...compressor, xM } })}
          />
          <KeptNumber
            label="From the upper wall"
            unit="m"
            value={compressor.yM}
            onKeep={(yM) => keep({ ...room, compressor: { ...compressor, yM } })}
          />
        </div>
      ) : null}
      <Button
        kind={compressor ? 'quiet' : 'line'}
        onClick={() => keep({ ...room, compressor: compressor ? null : { xM: 0.6, yM: 0.6 } })}
      >
        {compressor ? 'Take it off the plan' : 'Draw where it stands'}
      </Button>
    </Fold>
  )
}
