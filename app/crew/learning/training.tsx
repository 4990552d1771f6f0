'use client'
// For staff, what the crew learns: who is not put to work yet, what comes next for whom, and whom to train, from what the
// season is short of. Gains are played in the season's own futures and never guessed.
import Link from 'next/link'
import { useState } from 'react'
import { isOfCrew, missingInduction, pathOf } from '#lib/rules'
import type { HelpsAnswer, SeasonAnswer, SeasonRefused } from '#lib/season'
import { isTold, shortOf } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { useAsk } from '../../_board/index.ts'
import { Button, buttonClass, Live, Row, Rows, Section } from '../../_parts/controls/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { namesIn } from '../../_text/index.ts'
import { useLastSeason } from '../../season/last-season.ts'
import { sayBottleneck, sayGain, sayRefused, sayRemedy } from '../../season/say.ts'
import { useSeasonOnce } from '../../season/use-season.ts'
import type { CrewAt } from '../use-crew-at.ts'
import { sayMissing, sayPathStep } from './say.ts'

/** The three of them; what is empty is not there. */
export function Training({ at }: { readonly at: CrewAt }) {
  useSeasonOnce(at.isStaff)
  const season = useLastSeason()
  const crew = [...at.records.person.values()].filter(isOfCrew)
  const waiting = crew.flatMap((person) => {
    const words = sayMissing(missingInduction(at.records, person, at.today))
    return words === '' ? [] : [{ person, words }]
  })
  const learning = crew.flatMap((person) => {
    const next = pathOf(at.records, person, at.today)?.next
    return next ? [{ person, words: `Next: ${sayPathStep(next, at.records)}` }] : []
  })
  const short = season ? shortOf(season) : null
  if (waiting.length + learning.length === 0 && short === null) return null
  return (
    <div className="no-print flex flex-col gap-8 pt-6 max-w-3xl">
      {short && season ? <Short key={short.dueId} at={at} season={season} short={short} /> : null}
      {waiting.length === 0 ? null : <PeopleRows title="Not put to work yet" mark="late" rows={waiting} />}
      {learning.length === 0 ? null : <PeopleRows title="Learning" mark="learner" rows={learning} />}
    </div>
  )
}

function PeopleRows({ title, mark, rows }: PeopleRowsProps) {
  return (
    <Section title={title}>
      <Rows label={title}>
        {rows.map(({ person, words }) => (
          <Row
            key={person.id}
            lead={<Mark name={mark} size={22} />}
            note={words}
            end={
              <Link className={buttonClass('quiet')} href={`/crew?person=${person.id}`}>
                Look<span className="sr-only"> at {person.name}</span>
              </Link>
            }
          >
            <b>{person.name}</b>
          </Row>
        ))}
      </Rows>
    </Section>
  )
}

type PeopleRowsProps = {
  readonly title: string
  readonly mark: 'late' | 'learner'
  readonly rows: readonly { readonly person: RecordOf<'person'>; readonly words: string }[]
}

function Short({ at, season, short }: ShortProps) {
  const [isWanted, setWanted] = useState(false)
  const name = sayBottleneck(short.bottleneck, at.records)
  const piece = namesIn(at.records).piece(short.pieceId)
  return (
    <Section title={`Short of hands: ${name.toLowerCase()}`}>
      <p className="pt-2">
        In the worst of the next {season.weeks} weeks {short.waits.toFixed(1)} dated pieces stand still for it in a
        usual half-day. {piece} waits most.
      </p>
      {isWanted ? (
        <Whom at={at} dueId={short.dueId} piece={piece} />
      ) : (
        <Button mark="mentor" className="mt-3" onClick={() => setWanted(true)}>
          Whom to train
        </Button>
      )}
    </Section>
  )
}

type ShortProps = {
  readonly at: CrewAt
  readonly season: SeasonAnswer
  readonly short: NonNullable<ReturnType<typeof shortOf>>
}

function Whom({ at, dueId, piece }: { readonly at: CrewAt; readonly dueId: string; readonly piece: string }) {
  const { answer, state } = useAsk<HelpsAnswer | SeasonRefused>('helps', { dueId })
  if (answer !== null && 'refused' in answer) return <p className="py-2 text-umber">{sayRefused[answer.refused]}</p>
  const tried = answer?.helps.flatMap((help) =>
    help.remedy.kind === 'train' ? [{ ...help, remedy: help.remedy }] : [],
  )
  const helps = (tried ?? []).filter(isTold)
  const isDone = state === 'done'
  const isNextOf = (personId: string, techniqueId: string) => {
    const person = at.records.person.get(personId)
    const next = person && pathOf(at.records, person, at.today)?.next
    return next?.kind === 'skill' && next.techniqueId === techniqueId
  }
  return (
    <>
      {isDone ? null : <p className="py-2 text-umber">Playing the season.</p>}
      <Live message={isDone ? `${helps.length} sign-offs would help ${piece}.` : ''} />
      {isDone && helps.length === 0 ? (
        <p className="named pt-2 text-say">
          {(tried ?? []).length === 0
            ? `Nobody is one level short of what ${piece} asks for.`
            : `No sign-off helps ${piece} by more than chance.`}
        </p>
      ) : null}
      <Rows label={`Whom to train for ${piece}`}>
        {helps.map((help) => (
          <Row
            key={JSON.stringify(help.remedy)}
            lead={<Mark name="learner" size={22} />}
            note={
              isNextOf(help.remedy.personId, help.remedy.techniqueId) ? 'It is the next step of their path.' : undefined
            }
            end={
              <Link className={buttonClass('quiet')} href={`/crew?person=${help.remedy.personId}`}>
                Look
              </Link>
            }
          >
            <b>{sayRemedy(help, at.records)}</b>: {piece} {sayGain(answer?.chance ?? 0, help.chance)}.
          </Row>
        ))}
      </Rows>
    </>
  )
}
