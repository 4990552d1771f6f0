'use client'
// The weekly pattern: which shifts of which weekdays somebody usually comes. Each press is kept at once and can be taken
// back; only the person and the manager change it.
import type { RecordOf } from '#lib/words'
import { Notice, Section } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { PatternTable } from './pattern-table.tsx'
import type { CrewAt } from './use-crew-at.ts'

/** The week as it usually is. */
export function Pattern({ at, person }: { readonly at: CrewAt; readonly person: RecordOf<'person'> }) {
  const { attempt, problem } = useTry()
  const shifts = at.records.lab.get('lab')?.shifts ?? []
  const mayChange = at.isManager || person.id === at.me
  return (
    <Section title="Comes usually">
      {shifts.length === 0 ? (
        <Notice kind="empty">The lab has no shifts yet.</Notice>
      ) : (
        <PatternTable
          shifts={shifts}
          pattern={person.pattern}
          onChange={mayChange ? (pattern) => attempt({ kind: 'setPattern', personId: person.id, pattern }) : undefined}
        />
      )}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </Section>
  )
}
