/**
 * The same day written out as equations for a general MIP solver (HiGHS, from the registry), as a witness from
 * outside: what it proves optimal our search must not beat, and should reach. Written from the plain problem and
 * the words of the rules; it shares no code with the solver.
 *
 * Columns: x person × shift × job · y job × shift × place (a group is there) · n people of a group at a place (only
 * where more than one can be) · w learner × mentor × shift · z person is at place · c stays on · v piece brought to
 * place · u must kept.
 */
import type { Assignment, Problem, ProblemPiece, ProblemStep } from '#lib/lineup'
import { askHighs } from './ask-highs.ts'

interface Job {
  readonly piece: ProblemPiece
  readonly step: ProblemStep
  readonly key: string
}

type Term = readonly [coefficient: number, column: string]

interface Model {
  readonly rows: string[]
  readonly objective: Term[]
  readonly binaries: Set<string>
  readonly integers: Set<string>
  readonly turns: Map<string, Omit<Assignment, 'place' | 'mentor'>>
  readonly sites: Map<string, string>
  readonly guides: Map<string, string>
  /** Turns in which their person learns. */
  readonly learning: Set<string>
  readonly musts: string[]
}

export interface PeerAnswer {
  readonly isProven: boolean
  /** Null when nothing was found in time. */
  readonly score: number | null
  /** What no line-up exceeds, as far as the peer got; null when it does not know. */
  readonly bound: number | null
  readonly mustsKept: number
  readonly lineUp: readonly Assignment[]
  readonly columns: number
}

export interface PeerOptions {
  readonly seconds: number
}

/** Solves a day with HiGHS: musts first, then marks. Throws when its memory is not enough. */
export async function solveByPeer(problem: Problem, options: PeerOptions): Promise<PeerAnswer> {
  const model = write(problem)
  let mustsKept = 0
  if (model.musts.length > 0) {
    const most = await askHighs(text(model, countOf(model.musts)), options.seconds)
    mustsKept = Math.round(most.value ?? 0)
    model.rows.push(row(countOf(model.musts), '>=', mustsKept))
  }
  const { isProven, value, bound, isOn } = await askHighs(text(model, model.objective), options.seconds)
  const lineUp: Assignment[] = []
  if (value !== null) {
    for (const [column, turn] of model.turns) {
      if (!isOn(column)) continue
      const key = `${turn.piece}\n${turn.step}\n${turn.shift}`
      const place = [...model.sites].find(([site, of]) => of.startsWith(`${key}\n`) && isOn(site))?.[1].split('\n')[3]
      const mentor = [...model.guides]
        .find(([guide, of]) => of.startsWith(`${turn.person} ${turn.shift} `) && isOn(guide))?.[1]
        .split(' ')[2]
      const isLearning = model.learning.has(column)
      lineUp.push({ ...turn, place: place ?? '', mentor: isLearning ? (mentor ?? null) : null })
    }
  }
  return {
    ...{ isProven, score: value, bound, mustsKept, lineUp },
    columns: model.binaries.size + model.integers.size,
  }
}

const countOf = (columns: readonly string[]): Term[] => columns.map((column) => [1, column])

/**
 * The proven smallest number of people whose day differs from the posted one, over all line-ups that keep as many
 * musts and score at least `leastScore`; null when that was not proven in time.
 */
export async function fewestChanges(
  problem: Problem,
  {
    leastScore,
    mustsKept,
    seconds,
  }: { readonly leastScore: number; readonly mustsKept: number; readonly seconds: number },
): Promise<number | null> {
  const model = write(problem)
  if (model.musts.length > 0) model.rows.push(row(countOf(model.musts), '>=', mustsKept))
  model.rows.push(row(model.objective, '>=', leastScore))
  const changed: Term[] = []
  for (const person of problem.people) {
    const column = `d_${person.id}`
    let isHere = false
    for (const shift of problem.shifts) {
      const own = [...model.turns].filter(([, turn]) => turn.person === person.id && turn.shift === shift.id)
      const isIn = person.presence.some(
        ({ shift: id, from, to }) => id === shift.id && Math.min(to, shift.end) - Math.max(from, shift.start) >= 15,
      )
      const posted = isIn
        ? problem.posted.find((turn) => turn.person === person.id && turn.shift === shift.id)
        : undefined
      isHere ||= own.length > 0 || posted !== undefined
      if (posted === undefined) {
        for (const [turn] of own)
          model.rows.push(
            row(
              [
                [1, column],
                [-1, turn],
              ],
              '>=',
              0,
            ),
          )
        continue
      }
      const key = `${posted.piece}_${posted.step}_${posted.shift}`
      const turn = `x_${person.id}_${shift.id}_${posted.piece}_${posted.step}`
      const site = `y_${key}_${posted.place}`
      for (const needed of [turn, site]) {
        if (model.binaries.has(needed))
          model.rows.push(
            row(
              [
                [1, column],
                [1, needed],
              ],
              '>=',
              1,
            ),
          )
        else model.rows.push(row([[1, column]], '>=', 1))
      }
    }
    if (!isHere) continue
    model.binaries.add(column)
    changed.push([-1, column])
  }
  const { isProven, value } = await askHighs(text(model, changed), seconds)
  return isProven && value !== null ? Math.round(Math.abs(value)) : null
}

function write(problem: Problem): Model {
  const model: Model = {
    rows: [],
    objective: [],
    binaries: new Set(),
    integers: new Set(),
    turns: new Map(),
    sites: new Map(),
    guides: new Map(),
    learning: new Set(),
    musts: [],
  }
  const shifts = [...problem.shifts].sort((a, b) => a.start - b.start || (a.id < b.id ? -1 : 1))
  const jobs: Job[] = problem.pieces.flatMap((piece) =>
    piece.steps.map((step) => ({ piece, step, key: `${piece.id}_${step.id}` })),
  )
  const isNear = (a: string, b: string): boolean => {
    const names = (from: string, to: string): boolean =>
      problem.places.find((place) => place.id === from)?.neighbours.includes(to) ?? false
    return a === b || names(a, b) || names(b, a)
  }
  const minutes = (p: string, s: string): number => {
    const shift = problem.shifts.find((entry) => entry.id === s)
    const presence = problem.people.find((entry) => entry.id === p)?.presence.find((entry) => entry.shift === s)
    if (shift === undefined || presence === undefined) return 0
    return Math.min(presence.to, shift.end) - Math.max(presence.from, shift.start)
  }
  const x = (p: string, s: string, job: Job): string => `x_${p}_${s}_${job.key}`
  const y = (job: Job, s: string, l: string): string => `y_${job.key}_${s}_${l}`
  const n = (job: Job, s: string, l: string): string => `n_${job.key}_${s}_${l}`
  const sum = (columns: readonly string[], coefficient = 1): Term[] => columns.map((column) => [coefficient, column])
  const forbidden = (p: string, s: string, job: Job, l: string | null): boolean =>
    problem.forbids.some(
      (forbid) =>
        (forbid.person === null || forbid.person === p) &&
        (forbid.shift === null || forbid.shift === s) &&
        (forbid.piece === null || forbid.piece === job.piece.id) &&
        (forbid.step === null || forbid.step === job.step.id) &&
        (forbid.place === null || forbid.place === l),
    )
  const exists = (column: string): boolean => model.binaries.has(column)
  const escaping = ({ step }: Job, l: Problem['places'][number]) =>
    step.givesOff.filter((kind) => !l.keepsIn.includes(kind))

  // Where a group may be, and how many of it.
  const most = (job: Job, l: Problem['places'][number]): number =>
    Math.min(job.step.people.max, l.seats, job.step.airLpm > 0 ? l.airLines : 99)
  for (const job of jobs) {
    if (job.step.force !== null && job.step.force > job.piece.ceiling && !job.step.isEscalated) continue
    for (const shift of shifts) {
      for (const l of problem.places) {
        const suits =
          !l.isCheckOverdue &&
          !l.closed.includes(shift.id) &&
          (job.piece.tiedTo === null || job.piece.tiedTo === l.id) &&
          (l.loadKgMax === null || job.piece.massKg <= l.loadKgMax) &&
          (l.lengthCmMax === null || job.piece.lengthCm <= l.lengthCmMax) &&
          job.step.features.every((feature) => l.features.includes(feature)) &&
          escaping(job, l).length + (l.isInView && escaping(job, l).length > 0 ? 1 : 0) <= 1 &&
          most(job, l) >= job.step.people.min
        if (!suits) continue
        model.binaries.add(y(job, shift.id, l.id))
        model.sites.set(y(job, shift.id, l.id), `${job.piece.id}\n${job.step.id}\n${shift.id}\n${l.id}`)
        if (most(job, l) > 1) {
          model.integers.add(n(job, shift.id, l.id))
          model.rows.push(
            row(
              [
                [1, n(job, shift.id, l.id)],
                [-most(job, l), y(job, shift.id, l.id)],
              ],
              '<=',
              0,
            ),
          )
        }
      }
    }
  }
  const people = (job: Job, s: string, l: Problem['places'][number]): string =>
    most(job, l) > 1 ? n(job, s, l.id) : y(job, s, l.id)
  const sitesOf = (job: Job, s: string): readonly string[] =>
    problem.places.map((l) => y(job, s, l.id)).filter((column) => exists(column))

  // Turns, with their worth.
  const levelOf = (p: Problem['people'][number], job: Job): number => p.levels[job.step.technique] ?? 0
  for (const person of problem.people) {
    for (const shift of shifts) {
      const quarters = Math.floor(minutes(person.id, shift.id) / 15)
      if (quarters < 1) continue
      const own: string[] = []
      for (const job of jobs) {
        const level = levelOf(person, job)
        const need = Math.max(job.step.level, job.piece.isDelicate ? 3 : 2)
        if (level < need && !(level === 1 && need === 2)) continue
        if (sitesOf(job, shift.id).length === 0 || forbidden(person.id, shift.id, job, null)) continue
        const column = x(person.id, shift.id, job)
        model.binaries.add(column)
        model.turns.set(column, { person: person.id, shift: shift.id, piece: job.piece.id, step: job.step.id })
        if (level === 1) model.learning.add(column)
        model.objective.push([marks(problem, person, job, level) * quarters, column])
        own.push(column)
        model.rows.push(row([[1, column], ...sum(sitesOf(job, shift.id), -1)], '<=', 0))
        for (const l of problem.places) {
          const site = y(job, shift.id, l.id)
          if (!exists(site) || !forbidden(person.id, shift.id, job, l.id)) continue
          model.rows.push(row(sum([column, site]), '<=', 1))
        }
      }
      model.rows.push(row(sum(own), '<=', 1))
    }
  }
  const turnsOf = (job: Job, s: string | null): readonly string[] =>
    problem.people
      .flatMap((p) => shifts.filter((shift) => s === null || shift.id === s).map((shift) => x(p.id, shift.id, job)))
      .filter(exists)

  for (const shift of shifts) {
    for (const job of jobs) {
      const here = problem.places.filter((l) => exists(y(job, shift.id, l.id)))
      const own = sum(turnsOf(job, shift.id))
      const there = here.map((l) => people(job, shift.id, l))
      model.rows.push(row([...own, ...sum(there, -1)], '=', 0))
      model.rows.push(row([...own, ...sum(sitesOf(job, shift.id), -job.step.people.min)], '>=', 0))
    }
    for (const piece of problem.pieces) {
      model.rows.push(
        row(sum(jobs.filter((job) => job.piece === piece).flatMap((job) => sitesOf(job, shift.id))), '<=', 1),
      )
    }
    for (const l of problem.places) {
      const here = jobs.filter((job) => exists(y(job, shift.id, l.id)))
      const column = (job: Job): string => y(job, shift.id, l.id)
      model.rows.push(row(sum(here.map((job) => people(job, shift.id, l))), '<=', l.seats))
      const air = here.filter((job) => job.step.airLpm > 0)
      model.rows.push(row(sum(air.map((job) => people(job, shift.id, l))), '<=', l.airLines))
      model.rows.push(row(sum(here.filter((job) => l.isExclusive || job.piece.isExclusive).map(column)), '<=', 1))
      // Two groups there whose dust and solvent would meet: at most one of them.
      for (const dusty of here.filter((job) => escaping(job, l).includes('dust'))) {
        for (const wet of here.filter((job) => escaping(job, l).includes('solvent'))) {
          model.rows.push(row(sum([column(dusty), column(wet)]), '<=', 1))
        }
      }
      if (l.loadKgMax !== null) {
        model.rows.push(
          row(
            here.map((job): Term => [job.piece.massKg, column(job)]),
            '<=',
            l.loadKgMax,
          ),
        )
      }
    }
    const drawn = jobs.flatMap((job) => turnsOf(job, shift.id).map((column): Term => [job.step.airLpm, column]))
    model.rows.push(row(drawn, '<=', shift.airLpm))
  }
  for (const job of jobs) model.rows.push(row(sum(turnsOf(job, null)), '<=', job.step.turnsLeft))

  // Caps of a person's day.
  for (const person of problem.people) {
    const day = (amount: (job: Job, length: number) => number): Term[] =>
      jobs.flatMap((job) =>
        shifts
          .filter((shift) => exists(x(person.id, shift.id, job)))
          .map((shift): Term => [amount(job, minutes(person.id, shift.id)), x(person.id, shift.id, job)]),
      )
    const points = (perHour: number, job: Job, length: number): number =>
      Math.ceil((perHour * job.step.triggerPercent * length) / 6000)
    if (person.vibrationPointsLeft !== null) {
      const terms = day((job, length) => points(job.step.vibrationPerHour, job, length))
      model.rows.push(row(terms, '<=', person.vibrationPointsLeft))
    }
    if (person.noisePointsLeft !== null) {
      model.rows.push(
        row(
          day((job, length) => points(job.step.noisePerHour, job, length)),
          '<=',
          person.noisePointsLeft,
        ),
      )
    }
    for (const [name, left] of Object.entries(person.classMinutesLeft)) {
      model.rows.push(
        row(
          day((job, length) => (job.step.techniqueClass === name ? length : 0)),
          '<=',
          left,
        ),
      )
    }
  }

  // Learners: each has one mentor, who works alone-able, in reach, with room.
  const lead = (m: string, s: string): readonly string[] => {
    const person = problem.people.find((entry) => entry.id === m)
    if (person === undefined) return []
    return jobs
      .filter((job) => job.step.people.min <= 1 && levelOf(person, job) !== 1)
      .map((job) => x(m, s, job))
      .filter(exists)
  }
  // One column a pair and shift, since a person learns at one job at most.
  for (const shift of shifts) {
    const guided = new Map<string, string[]>()
    const located = new Set<string>()
    const spot = (who: string, l: string): string => `z_${who}_${shift.id}_${l}`
    for (const learner of problem.people) {
      const learning = jobs.filter((job) => exists(x(learner.id, shift.id, job)) && levelOf(learner, job) === 1)
      const guides: string[] = []
      const able = new Map<Job, string[]>(learning.map((job) => [job, []]))
      for (const mentor of problem.people) {
        if (mentor.id === learner.id || lead(mentor.id, shift.id).length === 0) continue
        const taught = learning.filter((job) => levelOf(mentor, job) >= 4)
        if (taught.length === 0) continue
        const guide = `w_${learner.id}_${mentor.id}_${shift.id}`
        model.binaries.add(guide)
        model.guides.set(guide, `${learner.id} ${shift.id} ${mentor.id}`)
        guides.push(guide)
        for (const job of taught) able.get(job)?.push(guide)
        guided.set(mentor.id, [...(guided.get(mentor.id) ?? []), guide])
        model.rows.push(row([[1, guide], ...sum(lead(mentor.id, shift.id), -1)], '<=', 0))
        located.add(mentor.id).add(learner.id)
        for (const l of problem.places) {
          const near = problem.places.filter((other) => isNear(l.id, other.id)).map((o) => spot(mentor.id, o.id))
          model.rows.push(row([...sum([guide, spot(learner.id, l.id)]), ...sum(near, -1)], '<=', 1))
        }
      }
      model.rows.push(row(sum(guides), '<=', 1))
      for (const [job, own] of able) {
        model.rows.push(row([[1, x(learner.id, shift.id, job)], ...sum(own, -1)], '<=', 0))
      }
    }
    for (const [mentor, guides] of guided) {
      const most = problem.learnersPerMentorMax
      model.rows.push(row([...sum(guides), ...sum(lead(mentor, shift.id), -most)], '<=', 0))
    }
    for (const who of located) {
      const own = jobs.filter((job) => exists(x(who, shift.id, job)))
      const columns = own.map((job) => x(who, shift.id, job))
      const spots = problem.places.map((l) => spot(who, l.id))
      for (const column of spots) model.binaries.add(column)
      model.rows.push(row([...sum(columns), ...sum(spots, -1)], '=', 0))
      for (const job of own) {
        for (const l of problem.places) {
          const site = y(job, shift.id, l.id)
          if (!exists(site)) continue
          model.rows.push(row([...sum([x(who, shift.id, job), site]), [-1, spot(who, l.id)]], '<=', 1))
        }
      }
    }
  }

  // Staying on, and moves.
  for (let s = 1; s < shifts.length; s++) {
    for (const person of problem.people) {
      for (const piece of problem.pieces) {
        const own = jobs.filter((job) => job.piece === piece)
        const at = (shift: string | undefined): readonly string[] =>
          own.map((job) => x(person.id, shift ?? '', job)).filter(exists)
        const [before, now] = [at(shifts[s - 1]?.id), at(shifts[s]?.id)]
        if (before.length === 0 || now.length === 0) continue
        const stays = `c_${person.id}_${s}_${piece.id}`
        model.binaries.add(stays)
        model.objective.push([problem.weights.sameHands * 200, stays])
        model.rows.push(row([[1, stays], ...sum(before, -1)], '<=', 0), row([[1, stays], ...sum(now, -1)], '<=', 0))
      }
    }
  }
  for (const piece of problem.pieces) {
    if (piece.at === null || piece.moveCostPercent === 0) continue
    for (const l of problem.places) {
      if (l.id === piece.at) continue
      const brought = `v_${piece.id}_${l.id}`
      let isUsed = false
      for (const shift of shifts) {
        const here = jobs
          .filter((job) => job.piece === piece)
          .map((job) => y(job, shift.id, l.id))
          .filter(exists)
        if (here.length === 0) continue
        isUsed = true
        model.rows.push(row([...sum(here), [-1, brought]], '<=', 0))
      }
      if (!isUsed) continue
      model.binaries.add(brought)
      model.objective.push([-problem.weights.fewMoves * 4 * piece.moveCostPercent, brought])
    }
  }

  // Musts.
  for (const must of [...problem.begun, ...problem.holds, ...problem.claims]) {
    const own = jobs.filter((job) => job.piece.id === must.piece && (must.step === null || job.step.id === must.step))
    const kept = `u_${model.musts.length}`
    model.musts.push(kept)
    model.binaries.add(kept)
    const turns = own.map((job) => x(must.person, must.shift, job)).filter(exists)
    model.rows.push(row([[1, kept], ...sum(turns, -1)], '<=', 0))
    if (must.place !== null) {
      const sites = own.map((job) => y(job, must.shift, must.place ?? '')).filter(exists)
      model.rows.push(row([[1, kept], ...sum(sites, -1)], '<=', 0))
    }
  }
  for (const clock of problem.clocks) {
    const own = jobs.filter(
      (job) => job.piece.id === clock.piece && (clock.step === null || job.step.id === clock.step),
    )
    const there = problem.people.filter((person) => {
      const presence = person.presence.find((entry) => entry.shift === clock.shift)
      return presence !== undefined && presence.from <= clock.minute && clock.minute <= presence.to
    })
    const kept = `u_${model.musts.length}`
    model.musts.push(kept)
    model.binaries.add(kept)
    const turns = there
      .flatMap((p) => own.filter((job) => levelOf(p, job) !== 1).map((job) => x(p.id, clock.shift, job)))
      .filter(exists)
    model.rows.push(row([[1, kept], ...sum(turns, -1)], '<=', 0))
  }
  return model
}

function marks(problem: Problem, person: Problem['people'][number], job: Job, level: number): number {
  const { weights } = problem
  const { piece, step } = job
  const open = piece.steps.filter(
    (entry) => entry.force !== null && (entry.force <= piece.ceiling || entry.isEscalated),
  )
  const gentlest = Math.min(...open.map((entry) => entry.force ?? 0))
  const turns = piece.hands.filter((hand) => hand.person === person.id).reduce((total, hand) => total + hand.turns, 0)
  return (
    weights.urgency * piece.urgencyPercent +
    weights.useful * 100 +
    weights.gentleness * (step.force === null ? 100 : Math.max(0, 100 - 12 * (step.force - gentlest))) +
    weights.sameHands * Math.min(100, 25 * turns) +
    weights.learning * (person.learnsNext === step.technique ? 150 : ({ 1: 100, 2: 40 }[level] ?? 0)) +
    weights.loves * (person.loves.includes(piece.id) ? 100 : person.loves.includes(step.technique) ? 60 : 0) +
    weights.fairness * (50 + Math.floor(((piece.appealPercent - 50) * (50 - person.goodSharePercent)) / 50)) +
    weights.notLast * step.neglectPercent
  )
}

function row(terms: readonly Term[], sense: '<=' | '>=' | '=', right: number): string {
  const kept = terms.filter(([coefficient]) => coefficient !== 0)
  // A row without columns still says something when it cannot hold.
  if (kept.length === 0) {
    const holds = sense === '<=' ? 0 <= right : sense === '>=' ? 0 >= right : right === 0
    return holds ? '' : `zero ${sense} ${right}`
  }
  return `${expression(kept)} ${sense} ${right}`
}

/** Terms in lines of a few, since the format limits a line's length. */
function expression(terms: readonly Term[]): string {
  const lines: string[] = []
  for (let i = 0; i < terms.length; i += 12) {
    const part = terms.slice(i, i + 12).map(([k, column]) => `${k < 0 ? '-' : '+'} ${Math.abs(k)} ${column}`)
    lines.push(part.join(' '))
  }
  return lines.join('\n ')
}

function text(model: Model, objective: readonly Term[]): readonly string[] {
  const rows = model.rows.filter((line) => line !== '')
  const used = [...model.binaries]
  const lines = ['Maximize', ` obj: ${objective.length === 0 ? '0 zero' : expression(objective)}`, 'Subject To']
  rows.forEach((line, index) => {
    lines.push(` r${index}: ${line}`)
  })
  lines.push('Bounds', ' zero = 0')
  for (const column of model.integers) lines.push(` 0 <= ${column} <= 99`)
  lines.push('Binary')
  for (const part of chunks(used)) lines.push(part)
  if (model.integers.size > 0) lines.push('General')
  for (const part of chunks([...model.integers])) lines.push(part)
  lines.push('End')
  return lines
}

function chunks(names: readonly string[]): readonly string[] {
  const lines: string[] = []
  for (let i = 0; i < names.length; i += 12) lines.push(` ${names.slice(i, i + 12).join(' ')}`)
  return lines
}
