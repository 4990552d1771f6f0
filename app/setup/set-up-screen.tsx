'use client'
// The first run of a real lab: five short parts in the order one meets them. Each can be done now or left for later;
// nothing here can be done only here.
import Link from 'next/link'
import { type ReactNode, useState } from 'react'
import type { RecordOf, Records } from '#lib/words'
import { useBoard, useWho } from '../_board/index.ts'
import { Button, buttonClass, Notice, PageHeading } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { capital, sayCount } from '../_text/index.ts'
import { FirstDayLead } from '../floor/first-day-lead.tsx'
import { few } from '../floor/words.ts'
import { CompressorForm } from '../settings/compressor-form.tsx'
import { Problem } from '../settings/problem.tsx'
import { ShiftsForm } from '../settings/shifts-form.tsx'
import { type LabInHand, useLab } from '../settings/use-lab.ts'
import { PeopleStep } from './people-step.tsx'

type Part = RecordOf<'lab'>['setUp'][number]

const parts: readonly (readonly [Part, string])[] = [
  ['room', 'The room and its places'],
  ['shifts', 'The parts of your day'],
  ['compressor', 'The compressor'],
  ['people', 'The people'],
  ['jackets', 'The first jackets'],
]

/** The lead through the first set-up. */
export function SetUpScreen() {
  const role = useWho()?.role
  const hand = useLab()
  const [chosen, setChosen] = useState<Part | null>(null)
  const [later, setLater] = useState<readonly Part[]>([])
  const [problem, setProblem] = useState<string>()
  const blank: Partial<Record<Part, boolean>> = useBoard(blankParts)
  if (!hand) return null
  const { lab, keep } = hand
  if (role !== 'manager')
    return (
      <div className="margin-page py-6">
        <Notice kind="empty">The manager sets the lab up.</Notice>
      </div>
    )
  const left = parts.filter(([part]) => !lab.setUp.includes(part)).map(([part]) => part)
  const open = chosen ?? left.find((part) => !later.includes(part)) ?? null
  const finish = (part: Part) => {
    setProblem(keep({ setUp: [...new Set([...lab.setUp, part])] }))
    setChosen(null)
  }
  return (
    <div className="margin-page mx-auto max-w-4xl pb-16">
      <PageHeading title={`Setting up ${lab.name}`} />
      <Problem say={problem} />
      {open === null ? (
        <Notice
          kind="empty"
          action={
            <Link className={buttonClass('ink')} href="/">
              To the Floor
            </Link>
          }
        >
          {left.length === 0
            ? 'All five parts are done.'
            : `${capital(few(left.length))} of five ${left.length === 1 ? 'part waits' : 'parts wait'} for later. They stay here.`}
        </Notice>
      ) : null}
      {open === null ? <FirstDayLead /> : null}
      <ol>
        {parts.map(([part, title], index) => (
          <SetUpPart
            key={part}
            n={index + 1}
            title={title}
            isDone={lab.setUp.includes(part)}
            isOpen={part === open}
            onOpen={() => setChosen(part)}
            isBlank={blank[part] === true}
            onDone={() => finish(part)}
            onLater={() => {
              setLater((before) => [...before, part])
              setChosen(null)
            }}
          >
            <PartBody part={part} hand={hand} />
          </SetUpPart>
        ))}
      </ol>
    </div>
  )
}

const blankParts = (records: Records) => ({ room: records.place.size === 0, jackets: records.jacket.size === 0 })

function SetUpPart({ n, title, isDone, isOpen, onOpen, isBlank, onDone, onLater, children }: SetUpPartProps) {
  return (
    <li className="border-b border-line py-3">
      <h2>
        <button
          type="button"
          className="flex min-h-11 w-full items-center gap-3 text-left"
          aria-expanded={isOpen}
          onClick={onOpen}
        >
          <span className="grid size-8 flex-none place-items-center rounded-full border-[1.6px] border-ink font-strong">
            {isDone ? <Mark name="tick" size={20} label="done" /> : n}
          </span>
          <span className="heading text-section">{title}</span>
        </button>
      </h2>
      {isOpen ? (
        <div className="pt-2 pb-3 pl-11">
          {children}
          <div className="mt-5 flex flex-wrap gap-3">
            <Button kind={isBlank ? 'line' : 'ink'} onClick={onDone}>
              {isDone ? 'Go on' : 'Done, go on'}
            </Button>
            {isDone ? null : (
              <Button kind="quiet" onClick={onLater}>
                Leave it for later
              </Button>
            )}
          </div>
        </div>
      ) : null}
    </li>
  )
}

type SetUpPartProps = {
  readonly n: number
  readonly title: string
  readonly isDone: boolean
  readonly isOpen: boolean
  readonly onOpen: () => void
  /** Nothing entered in it yet: then what one presses is inside. */
  readonly isBlank: boolean
  readonly onDone: () => void
  readonly onLater: () => void
  readonly children: ReactNode
}

function PartBody({ part, hand }: { readonly part: Part; readonly hand: LabInHand }) {
  switch (part) {
    case 'room':
      return <RoomPart />
    case 'shifts':
      return <ShiftsForm {...hand} />
    case 'compressor':
      return <CompressorForm {...hand} />
    case 'people':
      return <PeopleStep />
    case 'jackets':
      return <JacketsPart />
  }
}

function RoomPart() {
  const places = useBoard((records) => records.place.size)
  return (
    <div className="flex flex-col items-start gap-3">
      <p>
        Draw the room to scale: its walls, and every bench, bay, hood and table one can work at. A tape measure and ten
        minutes are enough to begin.
      </p>
      <p className="font-strong">{places === 0 ? 'No place is drawn yet.' : `Drawn: ${sayCount(places, 'place')}.`}</p>
      <Link className={buttonClass(places === 0 ? 'ink' : 'line')} href="/room">
        Open the plan
      </Link>
    </div>
  )
}

function JacketsPart() {
  const jackets = useBoard((records) => records.jacket.size)
  return (
    <div className="flex flex-col items-start gap-3">
      <p>
        Take in the jackets that wait: the field number as it is inked on the plaster, three measures with the tape, and
        where it is shelved. The rest can follow.
      </p>
      <p className="font-strong">
        {jackets === 0 ? 'No jacket is taken in yet.' : `Taken in: ${sayCount(jackets, 'jacket')}.`}
      </p>
      <Link className={buttonClass(jackets === 0 ? 'ink' : 'line')} href="/rack?intake=jacket">
        Take in a jacket
      </Link>
    </div>
  )
}
