// The rules of the lab said once more, plainly and slowly, sharing nothing with lib/rules: a second opinion for the
// random histories. Each function returns what is wrong, in words for whoever reads a failed run.
import type { Op, Who } from '#lib/ops'
import type { RecordOf, Records } from '#lib/words'

type Assignment = RecordOf<'assignment'>

const minutes = (time: string) => Number(time.slice(0, 2)) * 60 + Number(time.slice(3))

function groups(assignments: readonly Assignment[], key: (one: Assignment) => string) {
  const found = new Map<string, Assignment[]>()
  for (const one of assignments) found.set(key(one), [...(found.get(key(one)) ?? []), one])
  return [...found.values()]
}

function stateOf(records: Records, one: Assignment): 'open' | 'running' | 'finished' {
  const works = [...records.work.values()].filter(
    (work) => work.date === one.date && work.shiftId === one.shiftId && work.personId === one.personId,
  )
  if (works.length === 0) return 'open'
  return works.every((work) => work.state === 'finished') ? 'finished' : 'running'
}

function techniqueOf(records: Records, one: Assignment) {
  const step = records.step.get(one.stepId)
  return records.lab.get('lab')?.techniques.find((technique) => technique.id === step?.techniqueId)
}

/** Dust and solvent that no cabinet or hood of the place takes. */
function escaping(technique: ReturnType<typeof techniqueOf>, features: readonly string[]): readonly string[] {
  const taken = [features.includes('blast cabinet') ? 'dust' : '', features.includes('fume hood') ? 'solvent' : '']
  return (technique?.hazards ?? []).filter((one) => (one === 'dust' || one === 'solvent') && !taken.includes(one))
}

function level(records: Records, one: Assignment, techniqueId: string): number {
  const skill = records.person.get(one.personId)?.skills.find((each) => each.techniqueId === techniqueId)
  if (!skill || (skill.expiresOn && skill.expiresOn < one.date)) return 0
  return skill.level
}

/** Distance of two upright places; the random labs turn none. */
function gap(records: Records, a: string, b: string): number {
  const one = records.place.get(a)
  const two = records.place.get(b)
  if (!one || !two) return Number.POSITIVE_INFINITY
  const dx = Math.max(0, Math.abs(one.xM - two.xM) - (one.widthM + two.widthM) / 2)
  const dy = Math.max(0, Math.abs(one.yM - two.yM) - (one.depthM + two.depthM) / 2)
  return Math.hypot(dx, dy)
}

/** Everything wrong with the turns from `today` on, except what only depends on how long work really took (R5). */
export function brokenRules(records: Records, today: string): readonly string[] {
  const lab = records.lab.get('lab')
  if (!lab) return ['no lab']
  const all = [...records.assignment.values()].filter((one) => one.date >= today)
  const wrong: string[] = []
  for (const one of all) {
    const been = new Set(records.person.get(one.personId)?.inducted?.map(({ itemId }) => itemId))
    const asked = (lab.induction ?? []).filter((item) => item.isRequired && one.date >= item.from)
    if (stateOf(records, one) === 'open' && asked.some(({ id }) => !been.has(id)))
      wrong.push(`O ${one.personId} is put to work without the induction`)
  }
  const anyOpen = (list: readonly Assignment[]) => list.some((one) => stateOf(records, one) !== 'finished')

  for (const list of groups(all, (one) => `${one.date} ${one.shiftId} ${one.personId}`)) {
    if (list.length > 1) wrong.push(`R1 ${list[0]?.personId} is at two places`)
  }
  for (const list of groups(all, (one) => `${one.date} ${one.shiftId} ${one.placeId}`)) {
    const place = records.place.get(list[0]?.placeId ?? '')
    if (!place) {
      if (anyOpen(list)) wrong.push('R1 a place that is not there')
      continue
    }
    if (list.length > place.seats && anyOpen(list)) wrong.push(`R1 ${list.length} people at ${place.id}`)
    const pieces = new Set(list.map((one) => one.pieceId))
    const air = new Set(list.flatMap((one) => escaping(techniqueOf(records, one), place.features)))
    if (air.size > 1 && anyOpen(list)) wrong.push(`O dust and solvent at ${place.id}`)
    const open = list.filter((one) => stateOf(records, one) !== 'finished')
    if (place.isInView && open.some((one) => escaping(techniqueOf(records, one), place.features).length > 0))
      wrong.push(`O something given off in view at ${place.id}`)
    if (place.isExclusive && pieces.size > 1 && anyOpen(list)) wrong.push(`R1 ${pieces.size} pieces at ${place.id}`)
  }
  for (const list of groups(all, (one) => `${one.date} ${one.shiftId} ${one.pieceId}`)) {
    if (new Set(list.map((one) => one.placeId)).size > 1) wrong.push(`R1 ${list[0]?.pieceId} is at two places`)
  }
  for (const list of groups(all, (one) => `${one.date} ${one.shiftId}`)) {
    wrong.push(...brokenInShift(records, list, lab))
  }
  return wrong
}

function brokenInShift(records: Records, list: readonly Assignment[], lab: RecordOf<'lab'>): readonly string[] {
  const wrong: string[] = []
  const air = list.reduce((sum, one) => sum + (techniqueOf(records, one)?.airLpm ?? 0), 0)
  const openAir = list.some(
    (one) => stateOf(records, one) !== 'finished' && (techniqueOf(records, one)?.airLpm ?? 0) > 0,
  )
  if (openAir && air > (lab.compressor.deliveryLpm * lab.compressor.dutyPct) / 100 + 1e-6) wrong.push(`R4 ${air} l/min`)

  const learners: { readonly mentors: readonly string[] }[] = []
  for (const one of list) {
    if (stateOf(records, one) === 'finished') continue
    const technique = techniqueOf(records, one)
    if (!technique) {
      wrong.push(`R2 ${one.id} names no technique`)
      continue
    }
    const own = level(records, one, technique.id)
    const specimen = records.specimen.get(one.pieceId)
    if (specimen?.isPriority && own < 3) wrong.push(`R2 ${one.personId} has ${own} on a priority piece`)
    else if (own === 0) wrong.push(`R2 ${one.personId} has no skill in ${technique.id}`)
    else if (own === 1) {
      const mentors = list.filter(
        (other) =>
          other.personId !== one.personId &&
          level(records, other, technique.id) === 4 &&
          gap(records, other.placeId, one.placeId) <= lab.limits.neighbourM + 1e-6,
      )
      learners.push({ mentors: mentors.map((mentor) => mentor.personId) })
    }
    if (specimen && technique.force !== null) {
      const force = (id: string) => lab.techniques.find((each) => each.id === id)?.force ?? 0
      const raised = [...records.escalation.values()].filter((each) => each.pieceId === specimen.id && !each.endedAt)
      const most = Math.max(force(specimen.forceCeiling), ...raised.map((each) => force(each.techniqueId)))
      if (technique.force > most) wrong.push(`R3 ${technique.id} on ${specimen.id}`)
    }
  }
  if (!canShare(learners, lab.limits.learnersPerMentor)) wrong.push('R2 a learner has no mentor of their own')
  return wrong
}

/** Tries every way of giving the learners to mentors: slow, plain, right. */
function canShare(learners: readonly { readonly mentors: readonly string[] }[], most: number): boolean {
  const taken = new Map<string, number>()
  const give = (i: number): boolean => {
    const learner = learners[i]
    if (!learner) return true
    return learner.mentors.some((mentor) => {
      const count = taken.get(mentor) ?? 0
      if (count >= most) return false
      taken.set(mentor, count + 1)
      const isDone = give(i + 1)
      taken.set(mentor, count)
      return isDone
    })
  }
  return give(0)
}

/** R5 for one person and day: planned for what is open, stated for what is finished. */
function overLimit(records: Records, date: string, personId: string): readonly string[] {
  const lab = records.lab.get('lab')
  if (!lab) return []
  let points = 0
  let energy = 0
  const count = (techniqueId: string, running: number) => {
    const technique = lab.techniques.find((each) => each.id === techniqueId)
    points += 2 * (technique?.vibrationMs2 ?? 0) ** 2 * (running / 60)
    if (technique?.noiseDba) energy += (running / 480) * 10 ** (technique.noiseDba / 10)
  }
  for (const work of records.work.values()) {
    if (work.personId === personId && work.date === date && work.state === 'finished') {
      count(work.techniqueId, work.runningMinutes)
    }
  }
  for (const one of records.assignment.values()) {
    if (one.personId !== personId || one.date !== date || stateOf(records, one) === 'finished') continue
    const technique = techniqueOf(records, one)
    const shift = lab.shifts.find((each) => each.id === one.shiftId)
    if (!technique || !shift) continue
    const planned = ((minutes(shift.end) - minutes(shift.start)) * technique.runningPct) / 100
    const stated = [...records.work.values()]
      .filter((work) => work.personId === personId && work.date === date && work.shiftId === one.shiftId)
      .reduce((sum, work) => sum + work.runningMinutes, 0)
    // What is stated of it already was counted above.
    count(technique.id, Math.max(0, planned - stated))
  }
  const wrong: string[] = []
  if (points > lab.limits.vibrationPoints + 1e-6) wrong.push(`R5 ${personId} has ${points} points`)
  if (energy > 0 && 10 * Math.log10(energy) > lab.limits.noiseDba + 1e-6) wrong.push(`R5 ${personId} is too loud`)
  return wrong
}

/** R5 for everybody whom a deciding act put on the day. */
export function overPlanned(after: Records, op: Op, who: Who): readonly string[] {
  if (op.kind !== 'post' && op.kind !== 'seat' && op.kind !== 'claim') return []
  const people =
    op.kind === 'post' ? op.assignments.map((one) => one.personId) : [op.kind === 'seat' ? op.personId : who.personId]
  // Hand work may follow a morning that air tools filled: it adds nothing.
  return people
    .filter((personId) => adds(after, op.date, personId))
    .flatMap((personId) => overLimit(after, op.date, personId))
}

function isOpen(records: Records, one: { readonly id: string }): boolean {
  const works = [...records.work.values()].filter((work) => `${work.date}.${work.shiftId}.${work.personId}` === one.id)
  return works.length === 0 || works.some((work) => work.state !== 'finished')
}

/** True when some open turn of the person adds vibration or noise. */
function adds(records: Records, date: string, personId: string): boolean {
  return [...records.assignment.values()].some((one) => {
    const step = records.step.get(one.stepId)
    const technique = records.lab.get('lab')?.techniques.find((each) => each.id === step?.techniqueId)
    return one.date === date && one.personId === personId && isOpen(records, one) && (technique?.runningPct ?? 0) > 0
  })
}
