'use client'
// Where one sits, beside whom, with which piece, how gently, and what to mind. Place first, piece second, force third.
import Link from 'next/link'
import { useMemo } from 'react'
import { clocksRunning, forceOf } from '#lib/rules'
import { besideOf, type MyTurn, rowOf } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { useNow } from '../_board/index.ts'
import { FieldNumber } from '../_parts/controls/index.ts'
import { ForceComb } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { Stone } from '../_parts/stone/index.ts'
import { later } from '../_shell/later.tsx'
import { sayClockWhat } from '../_text/index.ts'
import { names } from '../floor/words.ts'
import { techniqueMark } from './cautions.ts'
import { Mind } from './mind.tsx'

const TriedWords = later(async () => (await import('./tried-words.tsx')).TriedWords)
const TurnMap = later(async () => (await import('./turn-map.tsx')).TurnMap)
const HeldPhotos = later(async () => (await import('../sheet/photos/held-photos.tsx')).HeldPhotos)
const CheckRows = later(async () => (await import('../safety/check-rows.tsx')).CheckRows)

type TurnViewProps = { readonly records: Records; readonly turn: MyTurn; readonly personId: string }

/** The turn in the order of its questions. */
export function TurnView({ records, turn, personId }: TurnViewProps) {
  const { place, piece, step, technique } = turn
  const now = useNow(60_000)
  const number = 'number' in piece ? piece.number : piece.fieldNumber
  const name = 'number' in piece ? piece.name : piece.contents
  const stage = 'stage' in piece ? piece.stage : piece.state === 'sealed' ? 'sealed' : 'opened'
  return (
    <section>
      <h2 className="heading text-title">
        <span className="font-strong [font-family:var(--font-plain)]">{place.code}</span> {place.name}
      </h2>
      <Beside records={records} turn={turn} />
      <BenchStrip records={records} turn={turn} personId={personId} />
      <div className="flex flex-wrap items-center gap-4 border-b border-ink py-3">
        <Stone seed={piece.id} stage={stage} size={126} lengthM={piece.lengthM} widthM={piece.widthM} />
        <div className="min-w-0 flex-1 basis-40">
          <Link href={`/sheet/${piece.id}`} className="flex min-h-11 items-center underline-offset-4 hover:underline">
            <FieldNumber className="text-page">{number}</FieldNumber>
          </Link>
          <p className="named text-section">{name}</p>
          {piece.shelf === '' ? null : <p className="text-small text-umber">{piece.shelf}</p>}
        </div>
      </div>
      <div className="border-b border-ink py-3">
        <p className="flex items-start gap-3">
          <Mark name={techniqueMark(technique)} size={28} className="mt-0.5 flex-none" />
          <span>
            <strong className="block text-say font-strong">{technique.name}</strong>
            <span className="block text-small text-umber">{step.title}</span>
            {clocksRunning(records, piece.id)
              .filter(({ ends }) => ends.date === turn.assignment.date)
              .map((clock) => (
                <span key={clock.id} className="block font-firm">
                  {sayClockWhat(clock)} ends at {clock.ends.time}: be there.
                </span>
              ))}
          </span>
        </p>
        <HowGently records={records} turn={turn} />
      </div>
      <TurnMap turn={turn} />
      <HeldPhotos pieceId={piece.id} />
      <Mind records={records} turn={turn} personId={personId} />
      <CheckRows records={records} now={now} shiftId={turn.assignment.shiftId} placeId={place.id} />
    </section>
  )
}

/** Learning goes by two: who is beside whom is said before anything else. */
function Beside({ records, turn }: Omit<TurnViewProps, 'personId'>) {
  const { mentor, learners } = useMemo(() => besideOf(records, turn.assignment), [records, turn.assignment])
  if (mentor === null && learners.length === 0) return null
  const words = [
    mentor === null
      ? ''
      : `Learning, beside ${mentor.name}${mentor.code === turn.place.code ? '' : ` at ${mentor.code}`}.`,
    learners.length === 0 ? '' : `${names(learners)} ${learners.length === 1 ? 'is' : 'are'} learning beside you.`,
  ]
  return (
    <p className="flex items-center gap-2 pt-1 text-say font-firm">
      <Mark name="learner" size={24} className="flex-none" />
      {words.filter(Boolean).join(' ')}
    </p>
  )
}

function HowGently({ records, turn }: { readonly records: Records; readonly turn: MyTurn }) {
  const { piece, technique } = turn
  const ladder = (records.lab.get('lab')?.techniques ?? [])
    .filter((one) => one.force !== null)
    .toSorted((a, b) => (a.force ?? 0) - (b.force ?? 0))
  if (!('forceCeiling' in piece)) return null
  const ceiling = ladder.findIndex((one) => one.id === piece.forceCeiling)
  const at = ladder.findIndex((one) => one.id === technique.id)
  if (ceiling < 0) return null
  const isAbove = (forceOf(records, technique.id) ?? 0) > (forceOf(records, piece.forceCeiling) ?? 0)
  const words = `no stronger than ${ladder[ceiling]?.name.toLowerCase() ?? ''}`
  return (
    <div className="pt-2">
      <ForceComb
        count={ladder.length}
        ceiling={ceiling}
        now={at < 0 ? undefined : at}
        width={326}
        words={isAbove ? `${words}; today above it, by a recorded decision` : words}
      />
      <TriedWords records={records} turn={turn} />
    </div>
  )
}

/** Two names at most under a bench, oneself first. */
function few(names: readonly string[]): readonly string[] {
  const sorted = names.toSorted((a, b) => Number(b === 'you') - Number(a === 'you'))
  return sorted.length <= 2 ? sorted : [...sorted.slice(0, 1), `and ${sorted.length - 1} more`]
}

/** The benches beside one's own, with who sits there. */
function BenchStrip({ records, turn, personId }: TurnViewProps) {
  const row = rowOf(records, turn.place)
  const { date, shiftId } = turn.assignment
  const here = [...records.assignment.values()].filter((one) => one.date === date && one.shiftId === shiftId)
  const namesAt = (placeId: string) =>
    here
      .filter((one) => one.placeId === placeId)
      .map((one) => (one.personId === personId ? 'you' : (records.person.get(one.personId)?.name ?? '')))
  const beside = row.flatMap((place) => namesAt(place.id)).filter((name) => name !== 'you' && name !== '')
  return (
    <div className="py-3">
      <p className="sr-only">
        {turn.place.code}. {beside.length === 0 ? 'Nobody beside you.' : `Beside you: ${beside.join(', ')}.`}
      </p>
      <ol className="flex gap-2 border-t-[6px] border-ink pt-2" aria-hidden="true">
        {row.map((place: RecordOf<'place'>) => {
          const isOwn = place.id === turn.place.id
          return (
            <li key={place.id} className="min-w-0 flex-1">
              <span
                className={`block rounded-furniture border border-ink py-1 text-center font-strong ${isOwn ? 'bg-ink text-paper' : ''}`}
              >
                {place.code}
              </span>
              <span className="block truncate pt-1 text-center text-small">
                {few(namesAt(place.id)).map((name) => (
                  <span key={name} className={`block truncate ${name === 'you' ? 'font-strong' : ''}`}>
                    {name}
                  </span>
                ))}
              </span>
            </li>
          )
        })}
      </ol>
    </div>
  )
}
