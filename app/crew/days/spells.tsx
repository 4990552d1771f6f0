'use client'
// Terms and holidays: stretches of dates with a week of their own. A holiday is a week without shifts; where two meet, the
// shorter holds. Only the person and the manager set them, and why is nobody's business.
import { useState } from 'react'
import { patternOn } from '#lib/rules'
import type { RecordOf, Spell } from '#lib/words'
import {
  ActForm,
  Button,
  Check,
  DialogButton,
  Notice,
  Row,
  Rows,
  Section,
  TextField,
} from '../../_parts/controls/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayDate } from '../../_text/index.ts'
import { PatternTable } from '../pattern-table.tsx'
import type { CrewAt } from '../use-crew-at.ts'
import { saySpell } from './say.ts'

type SpellsProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** The stretches that are not over, soonest first, and the way to add one. */
export function Spells({ at, person }: SpellsProps) {
  const { attempt, problem } = useTry()
  const spells = person.spells ?? []
  const ahead = spells.filter(({ to }) => to >= at.today).toSorted((a, b) => (a.from < b.from ? -1 : 1))
  const mayChange = at.isManager || person.id === at.me
  const keep = (all: readonly Spell[]) =>
    // What is over goes as the list is written anew.
    attempt({ kind: 'setSpells', personId: person.id, spells: all.filter(({ to }) => to >= at.today) })
  return (
    <Section title="Terms and holidays">
      {ahead.length === 0 ? <p className="py-2 text-umber">The usual week holds.</p> : null}
      <Rows label="Terms and holidays ahead">
        {ahead.map((spell) => (
          <Row
            key={`${spell.from} ${spell.to}`}
            lead={<Mark name={spell.pattern.length === 0 ? 'away' : 'clock'} size={22} />}
            note={saySpell(spell, at.records)}
            end={
              mayChange ? (
                <Button
                  kind="quiet"
                  label={`Take back ${sayDate(spell.from)} to ${sayDate(spell.to)}`}
                  mark="undo"
                  onClick={() => keep(spells.filter((one) => one !== spell))}
                />
              ) : undefined
            }
          >
            {sayDate(spell.from)} to {sayDate(spell.to)}
          </Row>
        ))}
      </Rows>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      {mayChange ? (
        <DialogButton mark="add" word="Term or holiday…" title={`${person.name}, for a while`} className="mt-3">
          {(close) => (
            <SpellForm
              at={at}
              person={person}
              onKeep={(spell) => {
                if (keep([...spells, spell])) close()
              }}
              problem={problem}
            />
          )}
        </DialogButton>
      ) : null}
    </Section>
  )
}

function SpellForm({ at, person, onKeep, problem }: SpellsProps & FormProps) {
  const [from, setFrom] = useState('')
  const [to, setTo] = useState('')
  const [isHoliday, setHoliday] = useState(true)
  const [pattern, setPattern] = useState<Spell['pattern']>([...patternOn(person, at.today)])
  const isWhole = from !== '' && to !== '' && from <= to
  return (
    <ActForm
      act="Keep it"
      problem={problem ?? (from !== '' && to !== '' && !isWhole ? 'The last day is before the first.' : undefined)}
      isOff={!isWhole}
      onAct={() => onKeep({ from, to, pattern: isHoliday ? [] : pattern })}
    >
      <fieldset className="flex flex-wrap gap-x-8">
        <legend className="sr-only">What holds</legend>
        <Check oneOf="spell" label="Holiday: does not come" isOn={isHoliday} onToggle={() => setHoliday(true)} />
        <Check oneOf="spell" label="Another week than usual" isOn={!isHoliday} onToggle={() => setHoliday(false)} />
      </fieldset>
      <div className="grid gap-4 tablet:grid-cols-2">
        <TextField label="First day" type="date" value={from} onChange={(event) => setFrom(event.target.value)} />
        <TextField
          label="Last day"
          type="date"
          min={from || at.today}
          value={to}
          onChange={(event) => setTo(event.target.value)}
        />
      </div>
      {isHoliday ? null : (
        <PatternTable shifts={at.records.lab.get('lab')?.shifts ?? []} pattern={pattern} onChange={setPattern} />
      )}
    </ActForm>
  )
}

type FormProps = { readonly onKeep: (spell: Spell) => void; readonly problem: string | undefined }
