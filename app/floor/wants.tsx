'use client'
// What wants somebody, one row each with one act: who is missed, questions, sign-offs and dates asked for. The act is
// done here or leads to the place where it can be.
import Link from 'next/link'
import { type ReactNode, useState } from 'react'
import { type Floor, type Sitter, type Want, wantsOf } from '#lib/views'
import type { Finding, Records } from '#lib/words'
import { useAct, useWho } from '../_board/index.ts'
import { Button, buttonClass, FieldNumber, Notice, Row, Rows, Section } from '../_parts/controls/index.ts'
import { Mark, type MarkName } from '../_parts/marks/index.ts'
import { later } from '../_shell/later.tsx'
import { sayDate, sayDay, sayFindings } from '../_text/index.ts'
import { numberOf } from './number-of.ts'
import type { FloorAt } from './use-floor.ts'
import { names } from './words.ts'

const AnswerDialog = later(() => import('./answer-dialog.tsx').then((part) => part.AnswerDialog))

const MOST_WANTS = 6

/** All that waits for whoever looks. */
export function Wants({ at, floor }: { readonly at: FloorAt; readonly floor: Floor }) {
  const who = useWho()
  const [isWhole, setWhole] = useState(false)
  if (!who) return null
  const wants = wantsOf(at.records, floor, who, at)
  if (wants.length === 0) return null
  const shown = isWhole ? wants : wants.slice(0, MOST_WANTS)
  return (
    <Section title="Wants you" aside={wants.length > shown.length ? `${shown.length} of ${wants.length}` : undefined}>
      <Rows>
        {shown.map((want) => (
          <WantRow key={keyOf(want)} want={want} at={at} floor={floor} />
        ))}
      </Rows>
      {wants.length > shown.length ? (
        <Button kind="quiet" onClick={() => setWhole(true)}>
          All {wants.length}
        </Button>
      ) : null}
    </Section>
  )
}

function keyOf(want: Want): string {
  switch (want.kind) {
    case 'late':
    case 'away':
      return `${want.kind} ${want.personId}`
    case 'seatless':
      return want.kind
    case 'dropped':
      return `dropped ${want.date} ${want.shiftId}`
    case 'closed':
      return `closed ${want.placeId}`
    case 'clock':
      return `clock ${want.clock.id}`
    case 'question':
      return want.question.id
    case 'signOff':
      return want.ask.id
    case 'date':
      return want.due.id
  }
}

function WantRow({ want, at, floor }: { readonly want: Want; readonly at: FloorAt; readonly floor: Floor }) {
  const { records } = at
  const who = useWho()
  const name = (id: string) => records.person.get(id as never)?.name ?? 'Somebody'
  const code = (id: string | undefined) => (id ? (records.place.get(id as never)?.code ?? '') : '')
  switch (want.kind) {
    case 'late': {
      const kept = want.sitter ? `${code(want.sitter.placeId)} is kept` : ''
      const told = want.dueAt ? `says ${want.dueAt}; ${kept}` : kept
      return (
        <WantLine
          mark="late"
          note={told}
          end={
            <AttendButtons
              at={at}
              personId={want.personId}
              acts={[
                { word: 'Here', state: 'in' },
                { word: 'Away', state: 'away' },
              ]}
            />
          }
        >
          <b>{name(want.personId)}</b> {want.isTold ? 'is late' : 'is not here yet'}
        </WantLine>
      )
    }
    case 'away':
      return (
        <WantLine
          mark="away"
          note={withoutWords(code(want.sitter.placeId), matesOf(floor, want.sitter).map(name))}
          end={
            <RedrawOr at={at}>
              <Button kind="quiet" onClick={() => at.choose(want.sitter.placeId)}>
                Look
              </Button>
            </RedrawOr>
          }
        >
          <b>{name(want.personId)}</b> is away
        </WantLine>
      )
    case 'dropped': {
      const shift = records.lab.get('lab')?.shifts.find(({ id }) => id === want.shiftId)
      const isManager = who?.role === 'manager'
      return (
        <WantLine
          mark="away"
          note="posted already; their seats stand empty"
          end={
            <Link
              className={buttonClass('quiet')}
              href={`/?day=${want.date}&shift=${want.shiftId}${isManager ? '&draw=yes' : ''}`}
            >
              {isManager ? 'Redraw' : 'Look'}
            </Link>
          }
        >
          <b>{names(want.personIds.map(name), 3)}</b> {want.personIds.length === 1 ? 'is' : 'are'} away{' '}
          {sayDay(want.date, at.today)}, {shift?.name.toLowerCase()}
        </WantLine>
      )
    }
    case 'closed':
      return (
        <WantLine
          mark="leftout"
          note={`${names(want.personIds.map(name), 3)} ${want.personIds.length === 1 ? 'sits' : 'sit'} there`}
          end={
            <RedrawOr at={at}>
              <Button kind="quiet" onClick={() => at.choose(want.placeId)}>
                Look
              </Button>
            </RedrawOr>
          }
        >
          <b>{code(want.placeId)}</b> is out of use
        </WantLine>
      )
    case 'clock':
      return (
        <WantLine
          mark="clock"
          note="nobody is on it then"
          end={
            <RedrawOr at={at}>
              <Link className={buttonClass('quiet')} href={`/sheet/${want.clock.pieceId}#clocks`}>
                Look
              </Link>
            </RedrawOr>
          }
        >
          <FieldNumber>{numberOf(records, want.clock.pieceId)}</FieldNumber>: {want.clock.what} ends at{' '}
          <b>{want.time}</b>
        </WantLine>
      )
    case 'seatless': {
      const [first = ''] = want.personIds
      const isOne = want.personIds.length === 1
      return (
        <WantLine
          mark="seat"
          note={isOne ? 'in, without a seat' : 'a redraw would look for seats for them'}
          end={
            <RedrawOr at={at}>
              <Link className={buttonClass('quiet')} href={isOne ? `/crew?person=${first}` : '/crew'}>
                Look
              </Link>
            </RedrawOr>
          }
        >
          <b>{names(want.personIds.map(name), 3)}</b> {isOne ? 'has' : 'have'} no seat
        </WantLine>
      )
    }
    case 'question':
      return <QuestionRow want={want} records={records} name={name} />
    case 'signOff': {
      const technique = records.lab.get('lab')?.techniques.find((one) => one.id === want.ask.techniqueId)?.name ?? ''
      return (
        <WantLine
          mark="learner"
          note={want.ask.note || 'asks for the next level'}
          end={
            <Link
              className={buttonClass('quiet')}
              href={`/crew?person=${want.ask.personId}&technique=${want.ask.techniqueId}`}
            >
              Look
            </Link>
          }
        >
          <b>{name(want.ask.personId)}</b> asks sign-off: {technique.toLowerCase()}
        </WantLine>
      )
    }
    case 'date':
      return <DateRow want={want} records={records} name={name} />
  }
}

/** What happened to a posted day is one press from its redraw, for whoever may draw; others look. */
function RedrawOr({ at, children }: { readonly at: FloorAt; readonly children: ReactNode }) {
  const isManager = useWho()?.role === 'manager'
  if (!isManager || !at.records.day.has(at.date)) return children
  return (
    <Button kind="quiet" onClick={() => at.draw(true)}>
      Redraw
    </Button>
  )
}

/** Who is in and works on the same piece at the same place. */
const matesOf = (floor: Floor, gone: Sitter): readonly string[] =>
  floor.places
    .flatMap((entry) => entry.sitters)
    .filter((one) => one.placeId === gone.placeId && one.pieceId === gone.pieceId)
    .filter((one) => one.look !== 'away')
    .map((one) => one.personId)

const withoutWords = (code: string, mates: readonly string[]): string =>
  mates.length === 0
    ? `${code} and its piece stand without hands`
    : `${names(mates, 2)} ${mates.length === 1 ? 'is' : 'are'} left at ${code}`

function QuestionRow({ want, records, name }: AskRowProps<'question'>) {
  const [isOpen, setOpen] = useState(false)
  const { question } = want
  return (
    <>
      <WantLine
        mark="question"
        note={`${short(question.text)} ${name(question.by)}`}
        end={
          <Button kind="quiet" aria-haspopup="dialog" onClick={() => setOpen(true)}>
            Answer
          </Button>
        }
      >
        Question on <FieldNumber>{numberOf(records, question.pieceId)}</FieldNumber>
      </WantLine>
      <AnswerDialog
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        question={question}
        number={numberOf(records, question.pieceId)}
        asker={name(question.by)}
      />
    </>
  )
}

function DateRow({ want, records, name }: AskRowProps<'date'>) {
  const act = useAct()
  const [findings, setFindings] = useState<readonly Finding[]>([])
  const answer = (accept: boolean) => {
    const done = act({ kind: 'answerDue', dueId: want.due.id, accept })
    setFindings(done.ok ? [] : done.findings)
  }
  return (
    <WantLine
      mark="plumb"
      note={
        <>
          <span className="block">
            {findings.length > 0 ? sayFindings(findings, records) : want.due.note || want.due.kind}
          </span>
          <span className="-ml-2 flex gap-4">
            <Button kind="quiet" onClick={() => answer(true)}>
              Accept
            </Button>
            <Button kind="quiet" onClick={() => answer(false)}>
              Decline
            </Button>
            <Link className={buttonClass('quiet')} href="/due">
              Look<span className="sr-only"> at the chance of it</span>
            </Link>
          </span>
        </>
      }
    >
      <b>{name(want.due.by)}</b> asks <FieldNumber>{numberOf(records, want.due.pieceId)}</FieldNumber> by{' '}
      {sayDate(want.due.date, 'short')}
    </WantLine>
  )
}

type AskRowProps<K extends Want['kind']> = {
  readonly want: Extract<Want, { kind: K }>
  readonly records: Records
  readonly name: (id: string) => string
}

/** One tap for who is here: used in the margin, in the dock and in lists. */
function AttendButtons({ at, personId, acts }: AttendProps) {
  const act = useAct()
  const [findings, setFindings] = useState<readonly Finding[]>([])
  if (!at.shift) return null
  const { shift } = at
  return (
    <>
      {acts.map(({ word, state }) => (
        <Button
          key={word}
          kind="quiet"
          onClick={() => {
            const done = act({
              kind: 'attend',
              personId: personId as never,
              date: at.date,
              shiftId: shift.id,
              state,
              dueAt: null,
            })
            setFindings(done.ok ? [] : done.findings)
          }}
        >
          {word}
        </Button>
      ))}
      {findings.length > 0 ? <Notice kind="error">{sayFindings(findings, at.records)}</Notice> : null}
    </>
  )
}

type AttendProps = {
  readonly at: FloorAt
  readonly personId: string
  readonly acts: readonly { readonly word: string; readonly state: 'in' | 'late' | 'away' | 'left' }[]
}

function WantLine({ mark, note, end, children }: WantLineProps) {
  return (
    <Row lead={<Mark name={mark} size={22} />} note={note} end={end}>
      {children}
    </Row>
  )
}

type WantLineProps = {
  readonly mark: MarkName
  readonly note: ReactNode
  readonly end?: ReactNode
  readonly children: ReactNode
}

const short = (text: string): string => (text.length > 60 ? `${text.slice(0, 57).trimEnd()}…` : text)
