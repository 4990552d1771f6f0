'use client'
// How somebody learns on: the path they follow with its next step, and what newcomers go through, ticked by staff. What
// the lab has not defined is not shown.
import { levelOf, missingInduction, pathOf } from '#lib/rules'
import type { RecordOf } from '#lib/words'
import { Button, Notice, Row, Rows, Section, Select } from '../../_parts/controls/index.ts'
import { SkillRing } from '../../_parts/figures/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { capital, sayDate } from '../../_text/index.ts'
import { type CrewAt, nameIn } from '../use-crew-at.ts'
import { sayMissing, sayPathStep, sayWayTo } from './say.ts'

type LearningProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** Path and induction. */
export function LearningSection({ at, person }: LearningProps) {
  const lab = at.records.lab.get('lab')
  return (
    <>
      {(lab?.paths ?? []).length > 0 ? <PathSection at={at} person={person} /> : null}
      {(lab?.induction ?? []).length > 0 ? <Induction at={at} person={person} /> : null}
    </>
  )
}

function PathSection({ at, person }: LearningProps) {
  const { attempt, problem } = useTry()
  const on = pathOf(at.records, person, at.today)
  const paths = at.records.lab.get('lab')?.paths ?? []
  return (
    <Section title="Learning path" aside={on?.path.name}>
      {on === null ? <p className="pt-2 text-umber">Follows none.</p> : null}
      {on?.next === null ? <p className="named pt-2 text-say">At the end of it.</p> : null}
      {on === null ? null : (
        <ol aria-label={`Steps of ${on.path.name}`}>
          {on.path.steps.map((step, index) => {
            const isReached = on.reached[index] ?? false
            const isNext = step === on.next
            const level = step.kind === 'skill' ? levelOf(person, step.techniqueId, at.today) : 0
            return (
              <Row
                key={JSON.stringify(step)}
                isChosen={isNext}
                isDone={isReached}
                lead={
                  isReached ? (
                    <Mark name="tick" size={22} />
                  ) : step.kind === 'skill' ? (
                    // The schema's levels of a step are 1 to 4.
                    <SkillRing level={step.level as 1 | 2 | 3 | 4} size={22} />
                  ) : (
                    <Mark name="document" size={22} />
                  )
                }
                note={isNext ? sayWayTo(step, level) : undefined}
              >
                {isNext ? <b>Next: </b> : null}
                {isNext ? sayPathStep(step, at.records) : capital(sayPathStep(step, at.records))}
                {isReached ? <span className="sr-only">, reached</span> : null}
              </Row>
            )
          })}
        </ol>
      )}
      {at.isManager ? (
        <div className="no-print pt-3">
          <Select
            label="Path they follow"
            value={person.pathId ?? ''}
            choices={[{ value: '', label: 'None' }, ...paths.map(({ id, name }) => ({ value: id, label: name }))]}
            onValue={(pathId) =>
              attempt({ kind: 'editPerson', personId: person.id, patch: { pathId: pathId === '' ? null : pathId } })
            }
          />
        </div>
      ) : null}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </Section>
  )
}

function Induction({ at, person }: LearningProps) {
  const { attempt, problem } = useTry()
  const items = at.records.lab.get('lab')?.induction ?? []
  const missing = sayMissing(missingInduction(at.records, person, at.today))
  return (
    <Section title="Induction">
      {missing === '' ? null : <Notice kind="stale">{missing}</Notice>}
      <Rows label={`Induction of ${person.name}`}>
        {items.map((item) => {
          const done = person.inducted?.find(({ itemId }) => itemId === item.id)
          const isDone = done !== undefined
          const note = done
            ? `${nameIn(at.records, done.by)}, ${sayDate(done.on)}`
            : item.isRequired
              ? `required${item.from > at.today ? ` from ${sayDate(item.from)}` : ''}`
              : undefined
          return (
            <Row
              key={item.id}
              lead={isDone ? <Mark name="tick" size={22} /> : <Mark name="seat" size={22} />}
              note={note}
              end={
                at.isStaff ? (
                  <Button
                    kind={isDone ? 'quiet' : 'line'}
                    mark={isDone ? 'undo' : undefined}
                    label={isDone ? `Take back ${item.name}` : `${person.name} has been through ${item.name}`}
                    onClick={() =>
                      attempt({ kind: 'tickInduction', itemId: item.id, personIds: [person.id], isDone: !isDone })
                    }
                  >
                    {isDone ? null : 'Tick'}
                  </Button>
                ) : undefined
              }
            >
              {item.name}
            </Row>
          )
        })}
      </Rows>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </Section>
  )
}
