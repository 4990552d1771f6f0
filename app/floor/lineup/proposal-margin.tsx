'use client'
// The margin of a proposal: what changes, each with its reason and what may be wished instead; what is left out with
// what would change it; what every draw-up keeps. In reading order, whole without the plan.
import { useMemo, useState } from 'react'
import type { Proposal } from '#lib/lineup'
import {
  type Chances,
  type Floor,
  type LineUpChanges,
  notInductedOn,
  pieceTag,
  type Sitter,
  type Turn,
  type TurnChange,
} from '#lib/views'
import { Button, FieldNumber, Fold, Row, Rows, Section, TextArea } from '../../_parts/controls/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { later } from '../../_shell/later.tsx'
import { FirstDayLead } from '../first-day-lead.tsx'
import { inked } from '../inked.tsx'
import { numberOf } from '../number-of.ts'
import { useChances } from '../use-chances.ts'
import type { FloorAt } from '../use-floor.ts'
import { changesHeading, changeWords, few, firstHeading, plural } from '../words.ts'
import { ChangeRow, Wishes } from './change-row.tsx'
import { proposedOf, reasonOf } from './proposal.ts'
import { sayReason } from './say.ts'
import { sayLeftOut, sayNotInducted } from './say-left-out.ts'
import { WishesList } from './wishes-list.tsx'
import { Worth } from './worth.tsx'

const MixingOfTurns = later(async () => (await import('../../safety/mixing-notices.tsx')).MixingOfTurns)

export type ProposalMarginProps = {
  readonly at: FloorAt
  readonly floor: Floor
  readonly proposal: Proposal
  readonly changes: LineUpChanges
  readonly isRedraw: boolean
  /** Better ones may still come. */
  readonly isAsking: boolean
  readonly chosenChange: number | null
  readonly onChooseChange: (n: number | null) => void
  readonly onWish: () => void
  /** A word for everybody that goes out with the day. */
  readonly note: string
  readonly onNote: (note: string) => void
}

/** Changes of the chosen shift open, those of the other shifts folded. */
export function ProposalMargin(props: ProposalMarginProps) {
  const { at, proposal, changes, isRedraw, onWish } = props
  const { records, shift } = at
  const here = changes.changes.filter((change) => change.shiftId === shift?.id)
  const elsewhere = at.shifts.filter(
    (one) => one.id !== shift?.id && changes.changes.some((change) => change.shiftId === one.id),
  )
  const isFirst = !records.day.has(at.date)
  // Before the first post nobody can stay but who claimed a seat.
  const stayWords = isFirst
    ? `${few(changes.stay)} claimed already`
    : `${few(changes.stay)} ${plural(changes.stay, 'stays', 'stay')}${changes.held > 0 ? `, ${few(changes.held)} of them held` : ''}`
  return (
    <div className="flex flex-col gap-6">
      <Worth proposal={proposal} isAsking={props.isAsking} />
      <Section
        title={
          isFirst
            ? firstHeading(changes.changes.length)
            : changesHeading(changes.changes.length, changes.stay, isRedraw)
        }
        aside={(isRedraw && !isFirst) || changes.stay === 0 ? undefined : stayWords}
      >
        <ol>
          {here.map((change) => (
            <ChangeEntry key={change.n} change={change} {...props} />
          ))}
        </ol>
        {here.length === 0 && changes.changes.length > 0 ? (
          <p className="py-2">Nothing changes in this shift.</p>
        ) : null}
        {proposal.assignments.length === 0 ? <FirstDayLead /> : null}
        {elsewhere.map((one) => {
          const theirs = changes.changes.filter((change) => change.shiftId === one.id)
          return (
            <Fold key={one.id} title={`${one.name}: ${few(theirs.length)} more`}>
              <ol>
                {theirs.map((change) => (
                  <ChangeEntry key={change.n} change={change} {...props} />
                ))}
              </ol>
            </Fold>
          )
        })}
      </Section>
      <MixingOfTurns records={records} date={at.date} turns={proposal.assignments} />
      <LeftOutList at={at} proposal={proposal} />
      <StayList {...props} />
      <WishesList records={records} date={at.date} onWish={onWish} />
      <TextArea
        label="A word for everybody, posted with the day"
        rows={2}
        value={props.note}
        onChange={(event) => props.onNote(event.target.value)}
      />
    </div>
  )
}

function ChangeEntry(props: ProposalMarginProps & { readonly change: TurnChange }) {
  const { at, floor, change, chosenChange, onChooseChange, onWish } = props
  const { records } = at
  const chances = useChances(records, at.today)
  const isChosen = chosenChange === change.n
  const turn = change.to
  const wishes = (isQuick: boolean) =>
    turn && !proposedOf(props.proposal, turn)?.isKept ? (
      <Wishes
        records={records}
        date={at.date}
        turn={turn}
        beside={besideOf(floor, turn)}
        places={turn.shiftId === floor.shiftId ? floor.places : undefined}
        from={props.proposal.assignments}
        isQuick={isQuick}
        onWish={onWish}
      />
    ) : undefined
  const reasons = turn ? reasonsOf(props, turn, chances) : [leaveWords(props, change)]
  return (
    <ChangeRow
      n={change.n}
      title={changeWords(change, {
        person: records.person.get(change.personId)?.name ?? 'Somebody',
        code: (id) => records.place.get(id)?.code ?? 'a place',
        piece: (id) => numberOf(records, id),
      })}
      reasons={reasons}
      isChosen={isChosen}
      onChoose={() => {
        onChooseChange(isChosen ? null : change.n)
        if (change.shiftId !== at.shift?.id) at.chooseShift(change.shiftId)
      }}
      quick={wishes(true)}
    >
      {wishes(false)}
    </ChangeRow>
  )
}

/** Why somebody has no seat any more. */
function leaveWords({ floor, proposal, at }: ProposalMarginProps, change: TurnChange): string {
  const id = `${at.date}.${change.shiftId}.${change.personId}`
  const isToldOf = (one: { readonly id: string }) => one.id === id
  if (
    proposal.findings.some(({ ids }) => ids.claim === id || ids.hold === id) ||
    proposal.clashes.some(({ turns }) => turns.some(isToldOf))
  )
    return 'It could not be kept, as said above.'
  if (change.from?.how === 'claimed') return 'Claimed since this was drawn up. Redraw to keep it.'
  const state = floor.shiftId === change.shiftId ? floor.presence.get(change.personId)?.state : undefined
  if (state === 'away') return 'Away in this shift.'
  if (state === 'left') return 'Left already.'
  return 'Nothing suits as things stand; see what is left out.'
}

/** The sentences of a turn. */
function reasonsOf({ at, proposal }: ProposalMarginProps, turn: Turn, chances: Chances): readonly string[] {
  const reason = reasonOf(proposal, turn)
  const proposed = proposedOf(proposal, turn)
  if (!reason || !proposed) return []
  return sayReason(at.records, reason, {
    tag: pieceTag(at.records, turn.pieceId, at.today, chances),
    mentor: proposed.mentorId === null ? null : (at.records.person.get(proposed.mentorId)?.name ?? null),
    level: proposed.level,
    handTurns: proposed.handTurns,
  })
}

function sitterOf(floor: Floor, turn: Turn): Sitter | undefined {
  if (floor.shiftId !== turn.shiftId) return undefined
  return floor.places.flatMap((entry) => entry.sitters).find((sitter) => sitter.personId === turn.personId)
}

function besideOf(floor: Floor, turn: Turn): readonly string[] {
  if (floor.shiftId !== turn.shiftId) return []
  const entry = floor.places.find(({ place }) => place.id === turn.placeId)
  const mates = entry?.sitters.map((sitter) => sitter.personId).filter((id) => id !== turn.personId) ?? []
  const mentor = sitterOf(floor, turn)?.mentorId
  return mentor && !mates.includes(mentor) ? [...mates, mentor] : mates
}

/** Who stays where they are, folded: they can be held or forbidden too. */
function StayList(props: ProposalMarginProps) {
  const { at, floor, changes } = props
  const [chosen, setChosen] = useState<string | null>(null)
  const changed = new Set(
    changes.changes.filter((change) => change.shiftId === at.shift?.id).map((change) => change.personId),
  )
  const stay = floor.places.flatMap((entry) => entry.sitters).filter((sitter) => !changed.has(sitter.personId))
  if (stay.length === 0) return null
  return (
    <Fold title={`Who stays, ${few(stay.length)}`}>
      <ul>
        {stay.map((sitter) => (
          <ChangeRow
            key={sitter.personId}
            n={null}
            title={`${sitter.name} at ${at.records.place.get(sitter.placeId)?.code ?? ''}, on ${numberOf(at.records, sitter.pieceId)}`}
            reasons={[sitter.technique]}
            isChosen={chosen === sitter.personId}
            onChoose={() => setChosen(chosen === sitter.personId ? null : sitter.personId)}
          >
            {proposedOf(props.proposal, sitter)?.isKept ? undefined : (
              <Wishes
                records={at.records}
                date={at.date}
                turn={sitter}
                beside={besideOf(floor, sitter)}
                places={floor.places}
                from={props.proposal.assignments}
                onWish={props.onWish}
              />
            )}
          </ChangeRow>
        ))}
      </ul>
    </Fold>
  )
}

const MOST_LEFT = 6

function LeftOutList({ at, proposal }: { readonly at: FloorAt; readonly proposal: Proposal }) {
  const [isWhole, setWhole] = useState(false)
  const { records } = at
  const { leftOut } = proposal
  const waiting = useMemo(() => notInductedOn(records, at.date), [records, at.date])
  if (leftOut.length + waiting.length === 0) return null
  const shown = isWhole ? leftOut : leftOut.slice(0, MOST_LEFT)
  return (
    <Section title="Left out" aside={leftOut.length + waiting.length}>
      <Rows label="Left out">
        {waiting.map(({ person, items }) => (
          <Row key={`induction ${person.id}`} lead={<Mark name="leftout" size={22} />} note={sayNotInducted(items)}>
            <b>{person.name}</b>
          </Row>
        ))}
        {shown.map((left) => (
          <Row
            key={`${left.kind} ${left.id} ${left.shift ?? ''}`}
            lead={<Mark name="leftout" size={22} />}
            note={inked(sayLeftOut(records, left))}
          >
            {left.kind === 'person' ? (
              <b>
                {records.person.get(left.id)?.name ?? 'Somebody'}
                {left.shift && left.shift !== at.shift?.id ? `, ${shiftName(at, left.shift)}` : ''}
              </b>
            ) : (
              <>
                <FieldNumber>{numberOf(records, left.id)}</FieldNumber>{' '}
                <b>{records.specimen.get(left.id)?.name.toLowerCase() ?? ''}</b>
              </>
            )}
          </Row>
        ))}
      </Rows>
      {leftOut.length > shown.length ? (
        <Button kind="quiet" onClick={() => setWhole(true)}>
          All {leftOut.length}
        </Button>
      ) : null}
    </Section>
  )
}

const shiftName = (at: FloorAt, id: string): string =>
  at.shifts.find((shift) => shift.id === id)?.name.toLowerCase() ?? ''
