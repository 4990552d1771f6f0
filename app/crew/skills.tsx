'use client'
// What one person can do: a ring per technique with its words, who signed it off and when it runs out. Staff sign off;
// the person themselves asks for the next level.
import { useSearchParams } from 'next/navigation'
import { useState } from 'react'
import { addDays } from '#lib/base'
import { type SkillView, skillsOf, techniqueColumns } from '#lib/views'
import type { RecordOf, Technique } from '#lib/words'
import { ActForm, Button, Check, DialogButton, Notice, Section, Select, TextField } from '../_parts/controls/index.ts'
import { SkillRing } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, sayDate, sayLevel } from '../_text/index.ts'
import { numberOf, SignOffsBefore, seenPieces } from './signings.tsx'
import { type CrewAt, nameIn } from './use-crew-at.ts'
import { sayExpiry, sayLevelLong, saySignOff } from './words.ts'

type SkillsProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** The ladder first, then what stands apart from it. */
export function Skills({ at, person }: SkillsProps) {
  const { ladder, apart } = techniqueColumns(at.records.lab.get('lab'))
  return (
    <Section title="Skills">
      <Group at={at} person={person} techniques={ladder} label="On the ladder, gentlest first" />
      <h3 className="pt-4 pb-1 text-small font-firm text-umber">Apart from the ladder</h3>
      <Group at={at} person={person} techniques={apart} label="Apart from the ladder" />
    </Section>
  )
}

function Group({ at, person, techniques, label }: SkillsProps & GroupProps) {
  return (
    // biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told
    <ul role="list" aria-label={label}>
      {skillsOf(at.records, person, techniques, at.today).map((view) => (
        <SkillRow key={view.technique.id} at={at} person={person} view={view} />
      ))}
    </ul>
  )
}

type GroupProps = { readonly techniques: readonly Readonly<Technique>[]; readonly label: string }
type RowProps = SkillsProps & { readonly view: SkillView }

function SkillRow({ at, person, view }: RowProps) {
  const { technique, level, ask } = view
  const wanted = useSearchParams().get('technique')
  const isOwn = person.id === at.me
  const maySign = at.isManager || (at.isStaff && !isOwn)
  const words = level === 0 ? 'none' : sayLevel(level)
  const seenOn = numberOf(at.records, view.skill?.pieceId)
  const from = [saySignOff(view, (id) => nameIn(at.records, id), seenOn), sayExpiry(view)].filter(Boolean).join('; ')
  return (
    <li className={`skill-row ${ask ? 'skill-asked' : ''}`}>
      <SkillRing level={level} size={26} label={sayLevelLong(level)} />
      <span className="min-w-40 flex-1">
        <span className="font-strong">{technique.name}</span>
        <span className="text-wash"> {words}</span>
        {from === '' ? null : <span className="block text-small text-umber">{from}</span>}
        {ask ? (
          <span className="flex items-center gap-1.5 text-small">
            <Mark name="question" size={18} />
            {isOwn ? 'You ask' : 'Asks'} for a sign-off since {sayDate(ask.at.slice(0, 10), 'short')}
            {ask.note === '' ? '' : `: ${ask.note}`}
          </span>
        ) : null}
      </span>
      {maySign && person.isActive ? (
        <DialogButton
          kind={ask ? 'ink' : 'quiet'}
          word="Sign off…"
          label={`Sign off ${technique.name}`}
          title={`${person.name}: ${technique.name}`}
          isOpenAtFirst={wanted === technique.id}
          className="no-print"
        >
          {(close) => <SignOffForm at={at} person={person} view={view} onDone={close} />}
        </DialogButton>
      ) : isOwn ? (
        <OwnAsk view={view} />
      ) : null}
    </li>
  )
}

function OwnAsk({ view }: { readonly view: SkillView }) {
  const { attempt, problem } = useTry()
  const { technique, ask, level, skill } = view
  if (ask)
    return (
      <Button kind="quiet" onClick={() => attempt({ kind: 'dropSignOffAsk', askId: ask.id })}>
        No longer ask
      </Button>
    )
  if (level === 4 && skill?.expiresOn === null) return null
  return (
    <>
      <DialogButton
        kind="quiet"
        word="Ask…"
        label={`Ask for a sign-off in ${technique.name}`}
        title={`A sign-off in ${technique.name.toLowerCase()}`}
        width="narrow"
      >
        {(close) => <AskForm techniqueId={technique.id} onDone={close} />}
      </DialogButton>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </>
  )
}

function AskForm({ techniqueId, onDone }: { readonly techniqueId: Technique['id']; readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const [note, setNote] = useState('')
  return (
    <ActForm
      act="Ask"
      problem={problem}
      onAct={() => {
        if (attempt({ kind: 'askSignOff', techniqueId, note: note.trim() })) onDone()
      }}
    >
      <TextField
        label="What you have done so far"
        hint="Such as: four shifts beside Odile."
        maxLength={240}
        value={note}
        onChange={(event) => setNote(event.target.value)}
      />
    </ActForm>
  )
}

const levels = [0, 1, 2, 3, 4] as const

function SignOffForm({ at, person, view, onDone }: RowProps & { readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const { technique, skill, ask } = view
  const held = skill?.level ?? 0
  const [level, setLevel] = useState(Math.min(4, held + (ask ? 1 : 0)))
  const [runsOut, setRunsOut] = useState(skill?.expiresOn ?? null)
  const [pieceId, setPiece] = useState<string>('')
  const [note, setNote] = useState('')
  const pieces = seenPieces(at.records, person.id, technique.id)
  return (
    <ActForm
      act={level === 0 && held > 0 ? 'Take it off' : 'Sign off'}
      // None stays none: a level is to be chosen first.
      isOff={level === 0 && held === 0}
      problem={problem}
      onAct={() => {
        const expiresOn = level === 0 ? null : runsOut
        const piece = pieces.find(({ id }) => id === pieceId)
        const seenOn = piece ? { pieceId: piece.id } : {}
        const body = { personId: person.id, techniqueId: technique.id, level, expiresOn, ...seenOn, note: note.trim() }
        if (attempt({ kind: 'signOff', ...body })) onDone()
      }}
    >
      {ask ? (
        <p className="border-l-[5px] border-ink pl-3">
          {person.name} asks{ask.note === '' ? '.' : `: ${ask.note}`}
        </p>
      ) : null}
      <fieldset>
        <legend className="font-firm">Level</legend>
        {levels.map((one) => (
          <Check
            key={one}
            oneOf="level"
            label={
              <span className="flex items-center gap-2">
                <span aria-hidden="true">
                  <SkillRing level={one} size={22} />
                </span>
                {one} {capital(sayLevel(one))}
              </span>
            }
            isOn={level === one}
            onToggle={() => setLevel(one)}
          />
        ))}
      </fieldset>
      {level === 0 ? null : (
        <>
          <Check
            label="It runs out"
            note="respirator fit, hoist, acid: as the lab and local codes ask"
            isOn={runsOut !== null}
            onToggle={(isOn) => setRunsOut(isOn ? addDays(at.today, 365) : null)}
          />
          {runsOut === null ? null : (
            <TextField
              label="Last day on which it counts"
              type="date"
              min={at.today}
              value={runsOut}
              onChange={(event) => setRunsOut(event.target.value)}
            />
          )}
        </>
      )}
      <Select
        label="Seen on which piece"
        value={pieceId}
        onValue={setPiece}
        choices={[
          { value: '', label: 'No single one' },
          ...pieces.map(({ id, number, name }) => ({ value: id as string, label: `${number} ${name}` })),
        ]}
      />
      <TextField
        label="A word on it, for staff"
        maxLength={240}
        value={note}
        onChange={(event) => setNote(event.target.value)}
      />
      <SignOffsBefore at={at} personId={person.id} techniqueId={technique.id} />
    </ActForm>
  )
}
