// Settings of the lab and the drawing of its room.
import { minuteOf } from '#lib/base'
import { type Finding, finding, type Lab, type PathStep, put, type Records, type Shift } from '#lib/words'
import { by, defineOp } from './op.ts'
import { formerOf, must, patched, unless } from './parts.ts'

export const setLab = defineOp<'setLab'>({
  kind: 'setLab',
  roles: by.manager,
  keepsDays: true,
  judge: (records, op) => {
    const lab = records.lab.get('lab')
    if (!lab) return [finding('O', 'unknown-lab')]
    const next = patched(lab, op.patch)
    return [
      ...judgeShifts(next.shifts),
      ...judgeTechniques(records, next),
      ...judgePaths(next),
      ...judgeAirLimits(next),
    ]
  },
  apply: (records, op) => [put('lab', patched(must(records.lab.get('lab'), 'a lab'), op.patch))],
  inverse: (records, op, id) => {
    const lab = records.lab.get('lab')
    // A patch cannot say that a list was not there.
    return lab
      ? { id, kind: 'setLab', patch: formerOf({ induction: [], paths: [], airLimits: [], ...lab }, op.patch) }
      : null
  },
})

/** Shifts have ids of their own and never overlap, so that one place a shift is one place at a time. */
function judgeShifts(shifts: readonly Readonly<Shift>[]): readonly Finding[] {
  return shifts.flatMap((shift, i) => {
    const findings: Finding[] = []
    if (minuteOf(shift.end) <= minuteOf(shift.start)) findings.push(finding('O', 'shift-span', { shift: shift.id }))
    for (const other of shifts.slice(0, i)) {
      if (other.id === shift.id) findings.push(finding('O', 'id-taken', { shift: shift.id }))
      const isSameDay = other.weekdays.some((weekday) => shift.weekdays.includes(weekday))
      const isMeeting = minuteOf(other.start) < minuteOf(shift.end) && minuteOf(shift.start) < minuteOf(other.end)
      if (isSameDay && isMeeting) findings.push(finding('O', 'shifts-overlap', { shift: shift.id, other: other.id }))
    }
    return findings
  })
}

/** A technique that steps, ceilings or escalations name cannot go, and a ceiling stays on the ladder. */
function judgeTechniques(records: Records, next: Readonly<Lab>): readonly Finding[] {
  const techniques = new Map(next.techniques.map((technique) => [technique.id, technique]))
  const findings: Finding[] = []
  if (techniques.size < next.techniques.length) findings.push(finding('O', 'technique-twice'))
  const missing = new Map<string, string>()
  for (const step of records.step.values()) {
    if (!techniques.has(step.techniqueId)) missing.set(step.techniqueId, step.pieceId)
  }
  for (const specimen of records.specimen.values()) {
    const ceiling = techniques.get(specimen.forceCeiling)
    if (!ceiling) missing.set(specimen.forceCeiling, specimen.id)
    else if (ceiling.force === null) {
      findings.push(finding('O', 'not-on-ladder', { technique: ceiling.id, piece: specimen.id }))
    }
  }
  for (const escalation of records.escalation.values()) {
    const isLive = escalation.endedAt === null
    if (isLive && !techniques.has(escalation.techniqueId)) missing.set(escalation.techniqueId, escalation.pieceId)
  }
  for (const [technique, piece] of missing) findings.push(finding('O', 'technique-in-use', { technique, piece }))
  return findings
}

/** Ids are each one's own, and a path leads over what the lab has. */
function judgePaths({ techniques, induction = [], paths = [] }: Readonly<Lab>): readonly Finding[] {
  const items = new Set(induction.map(({ id }) => id))
  const known = new Set<string>(techniques.map(({ id }) => id))
  const isKnown = (step: PathStep) => (step.kind === 'skill' ? known.has(step.techniqueId) : items.has(step.itemId))
  return [
    ...unless(items.size === induction.length, 'O', 'id-taken', {}),
    ...unless(new Set(paths.map(({ id }) => id)).size === paths.length, 'O', 'id-taken', {}),
    ...paths.flatMap(({ name, steps }) => unless(steps.every(isKnown), 'O', 'path-leads-nowhere', { path: name })),
  ]
}

/** One limit of a kind for each agent, so that it is plain which one holds. */
function judgeAirLimits({ airLimits = [] }: Readonly<Lab>): readonly Finding[] {
  return airLimits.flatMap(({ id, agent, kind, unit }, n) =>
    airLimits
      .slice(0, n)
      .some((one) => one.id === id || (one.agent === agent && one.kind === kind && one.unit === unit))
      ? [finding('O', 'air-limit-twice', { agent })]
      : [],
  )
}

export const setRoom = defineOp<'setRoom'>({
  kind: 'setRoom',
  roles: by.manager,
  judge: (_records, op) =>
    op.room.widthM > 0 && op.room.depthM > 0 ? [] : [finding('O', 'room-empty', {}, { widthM: op.room.widthM })],
  apply: (_records, op) => [put('room', op.room)],
  inverse: (records, _op, id) => {
    const room = records.room.get('room')
    return room ? { id, kind: 'setRoom', room } : null
  },
})
