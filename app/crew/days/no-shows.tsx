'use client'
// When somebody was expected and did not come: for managers alone, on nobody else's screen, and gone with the person. Days
// that are still on the board can be marked after the fact.
import { noShowsOf } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { Button, Notice, Row, Rows, Section } from '../../_parts/controls/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { namesIn, sayDate } from '../../_text/index.ts'
import { ManagersOnly } from '../managers-only.tsx'
import type { CrewAt } from '../use-crew-at.ts'

type NoShowsProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** The list, newest first. */
export function NoShows({ at, person }: NoShowsProps) {
  const { attempt, problem } = useTry()
  const { noted, open } = noShowsOf(at.records, person.id, { date: at.today, minute: at.minute })
  if (noted.length + open.length === 0) return null
  const names = namesIn(at.records)
  return (
    <Section title="Did not come" className="no-print" aside={<ManagersOnly />}>
      <Rows label={`When ${person.name} did not come`}>
        {[...open, ...noted].map((one) => {
          const isNoted = 'at' in one
          return (
            <Row
              key={`${one.date} ${one.shiftId}`}
              lead={<Mark name={isNoted ? 'away' : 'question'} size={22} />}
              note={isNoted ? undefined : 'posted, nothing logged, not ticked'}
              end={
                <Button
                  kind={isNoted ? 'quiet' : 'line'}
                  mark={isNoted ? 'undo' : undefined}
                  label={
                    isNoted
                      ? `Take back that ${person.name} did not come on ${sayDate(one.date)}`
                      : `${person.name} did not come on ${sayDate(one.date)}`
                  }
                  onClick={() => {
                    const { date, shiftId } = one
                    attempt({ kind: 'markNoShow', personId: person.id, date, shiftId, isNoShow: !isNoted })
                  }}
                >
                  {isNoted ? null : 'Did not come'}
                </Button>
              }
            >
              {sayDate(one.date)}, {names.shift(one.shiftId)}
            </Row>
          )
        })}
      </Rows>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </Section>
  )
}
