/**
 * From the plain problem to the tables of a model. Whatever can be decided once is decided here: who may do which
 * job, where, and what a turn is worth; what cannot be (who is there already) is left to the search.
 */
import { assert, at } from '#lib/base'
import type { MustRef, Problem, ProblemPiece, ProblemStep } from '../problem.ts'
import { type Model, MUST_MARKS, type Must, NO_CAP, type PlaceForbid } from './model.ts'
import { standingValue, turnValue } from './worth.ts'

const byId = (a: { readonly id: string }, b: { readonly id: string }): number =>
  a.id < b.id ? -1 : a.id > b.id ? 1 : 0

/** Tables a problem. The problem must be free of findings. */
export function compile(problem: Problem): Model {
  const people = [...problem.people].sort(byId)
  const shiftList = [...problem.shifts].sort((a, b) => a.start - b.start || byId(a, b))
  const placeList = [...problem.places].sort(byId)
  const pieceList = [...problem.pieces].sort(byId).map((piece) => ({ ...piece, steps: [...piece.steps].sort(byId) }))
  const [P, S, L, K] = [people.length, shiftList.length, placeList.length, pieceList.length]
  const personIndex = indexOf(people)
  const shiftIndex = indexOf(shiftList)
  const placeIndex = indexOf(placeList)
  const pieceIndex = indexOf(pieceList)
  const jobs: { readonly piece: ProblemPiece; readonly pieceAt: number; readonly step: ProblemStep }[] = []
  const firstJob = new Int32Array(K + 1)
  pieceList.forEach((piece, k) => {
    firstJob[k] = jobs.length
    for (const step of piece.steps) jobs.push({ piece, pieceAt: k, step })
  })
  firstJob[K] = jobs.length
  const J = jobs.length
  const techniqueIndex = numbering(jobs.map(({ step }) => step.technique))
  const classIndex = numbering(jobs.flatMap(({ step }) => (step.techniqueClass === null ? [] : [step.techniqueClass])))
  const [T, C] = [techniqueIndex.size, classIndex.size]

  const from = new Int32Array(P * S)
  const to = new Int32Array(P * S)
  people.forEach((person, p) => {
    for (const presence of person.presence) {
      const s = shiftIndex.get(presence.shift) ?? -1
      const shift = shiftList[s]
      if (shift === undefined) continue
      from[p * S + s] = Math.max(presence.from, shift.start)
      to[p * S + s] = Math.max(Math.min(presence.to, shift.end), Math.max(presence.from, shift.start))
    }
  })
  const minutes = Int32Array.from(from, (start, turn) => at(to, turn) - start)
  const quarters = Int32Array.from(minutes, (length) => Math.floor(length / 15))
  const levels = new Int32Array(P * T)
  const classLeft = new Int32Array(P * C).fill(NO_CAP)
  people.forEach((person, p) => {
    for (const [technique, t] of techniqueIndex) levels[p * T + t] = person.levels[technique] ?? 0
    for (const [name, c] of classIndex) classLeft[p * C + c] = person.classMinutesLeft[name] ?? NO_CAP
  })

  const closed = new Int32Array(L * S)
  const near = new Int32Array(L * L)
  placeList.forEach((place, l) => {
    for (let s = 0; s < S; s++) if (place.isCheckOverdue) closed[l * S + s] = 1
    for (const shift of place.closed) closed[l * S + (shiftIndex.get(shift) ?? 0)] = 1
    near[l * L + l] = 1
    for (const neighbour of place.neighbours) {
      const other = placeIndex.get(neighbour) ?? l
      near[l * L + other] = 1
      near[other * L + l] = 1
    }
  })
  const exclusive = new Int32Array(K * L)
  pieceList.forEach((piece, k) => {
    placeList.forEach((place, l) => {
      if (piece.isExclusive || place.isExclusive) exclusive[k * L + l] = 1
    })
  })

  const givesOff = new Int32Array(J * L)
  const suits: number[] = []
  const jobPlacesStart = new Int32Array(J + 1)
  jobs.forEach(({ piece, step }, j) => {
    jobPlacesStart[j] = suits.length
    placeList.forEach((place, l) => {
      if (piece.tiedTo !== null && piece.tiedTo !== place.id) return
      if (place.loadKgMax !== null && piece.massKg > place.loadKgMax) return
      if (place.lengthCmMax !== null && piece.lengthCm > place.lengthCmMax) return
      if (step.people.min > place.seats || (step.airLpm > 0 && place.airLines < step.people.min)) return
      if (!step.features.every((feature) => place.features.includes(feature))) return
      const air = step.givesOff.filter((kind) => !place.keepsIn.includes(kind))
      // Both at once mix by themselves, and in open view nothing is given off.
      if (air.includes('dust') && air.includes('solvent')) return
      if (place.isInView && air.length > 0) return
      givesOff[j * L + l] = air[0] === undefined ? 0 : air[0] === 'dust' ? 1 : 2
      suits.push(l)
    })
  })
  jobPlacesStart[J] = suits.length
  const suitsTable = new Int32Array(J * L)
  for (let j = 0; j < J; j++) {
    for (let i = at(jobPlacesStart, j); i < at(jobPlacesStart, j + 1); i++) suitsTable[j * L + (suits[i] ?? 0)] = 1
  }
  const reach: number[] = []
  const reachStart = new Int32Array(L + 1)
  for (let l = 0; l < L; l++) {
    reachStart[l] = reach.length
    reach.push(l)
    for (let other = 0; other < L; other++) if (other !== l && at(near, l * L + other) === 1) reach.push(other)
  }
  reachStart[L] = reach.length

  const stepAt = (pieceId: string, stepId: string | null): number => {
    if (stepId === null) return -1
    const k = pieceIndex.get(pieceId) ?? -1
    const offset = pieceList[k]?.steps.findIndex((step) => step.id === stepId) ?? -1
    return offset < 0 ? -2 : at(firstJob, k) + offset
  }
  const musts: Must[] = []
  for (const kind of ['begun', 'hold', 'claim'] as const) {
    const list = kind === 'begun' ? problem.begun : kind === 'hold' ? problem.holds : problem.claims
    list.forEach((turn, index) => {
      const s = shiftIndex.get(turn.shift) ?? 0
      musts.push({
        ref: { kind, index },
        turn: (personIndex.get(turn.person) ?? 0) * S + s,
        group: (pieceIndex.get(turn.piece) ?? 0) * S + s,
        job: stepAt(turn.piece, turn.step),
        place: turn.place === null ? -1 : (placeIndex.get(turn.place) ?? -1),
        minute: -1,
      })
    })
  }
  problem.clocks.forEach((clock, index) => {
    const group = (pieceIndex.get(clock.piece) ?? 0) * S + (shiftIndex.get(clock.shift) ?? 0)
    const ref: MustRef = { kind: 'clock', index }
    musts.push({ ref, turn: -1, group, job: stepAt(clock.piece, clock.step), place: -1, minute: clock.minute })
  })
  const mustsOfTurn: Must[][] = Array.from({ length: P * S }, () => [])
  const clocksOfGroup = new Map<number, Must[]>()
  for (const must of musts) {
    if (must.turn >= 0) mustsOfTurn[must.turn]?.push(must)
    else clocksOfGroup.set(must.group, [...(clocksOfGroup.get(must.group) ?? []), must])
  }

  const value = new Int32Array(P * S * J).fill(-1)
  const learner = new Int32Array(P * S * J)
  people.forEach((person, p) => {
    jobs.forEach(({ piece, step }, j) => {
      const level = at(levels, p * T + (techniqueIndex.get(step.technique) ?? 0))
      const need = Math.max(step.level, piece.isDelicate ? 3 : 2)
      const learns = level === 1 && need === 2 && problem.learnersPerMentorMax > 0
      if (level < need && !learns) return
      if (step.force !== null && step.force > piece.ceiling && !step.isEscalated) return
      const perQuarter = turnValue(problem, person, piece, step, level)
      for (let s = 0; s < S; s++) {
        if (at(quarters, p * S + s) < 1) continue
        value[(p * S + s) * J + j] = perQuarter * at(quarters, p * S + s)
        if (learns) learner[(p * S + s) * J + j] = 1
      }
    })
  })
  dropUnmentored(
    value,
    learner,
    Int32Array.from(jobs, ({ step }) => techniqueIndex.get(step.technique) ?? 0),
    {
      levels,
      persons: P,
      shifts: S,
      techniques: T,
    },
  )
  const placeForbids: PlaceForbid[] = []
  for (const forbid of problem.forbids) {
    const compiled: PlaceForbid = {
      person: forbid.person === null ? -1 : (personIndex.get(forbid.person) ?? -2),
      shift: forbid.shift === null ? -1 : (shiftIndex.get(forbid.shift) ?? -2),
      piece: forbid.piece === null ? -1 : (pieceIndex.get(forbid.piece) ?? -2),
      job: -1,
      place: forbid.place === null ? -1 : (placeIndex.get(forbid.place) ?? -2),
    }
    const matchesStep = (j: number): boolean => forbid.step === null || jobs[j]?.step.id === forbid.step
    for (let j = 0; j < J; j++) {
      if (!matchesStep(j) || (compiled.piece !== -1 && compiled.piece !== jobs[j]?.pieceAt)) continue
      if (compiled.place !== -1) {
        placeForbids.push({ ...compiled, job: j })
        continue
      }
      for (let turn = 0; turn < P * S; turn++) {
        if (compiled.person !== -1 && compiled.person !== Math.floor(turn / S)) continue
        if (compiled.shift !== -1 && compiled.shift !== turn % S) continue
        value[turn * J + j] = -1
      }
    }
  }

  const options: number[] = []
  const optionsStart = new Int32Array(P * S + 1)
  for (let turn = 0; turn < P * S; turn++) {
    optionsStart[turn] = options.length
    const open: number[] = []
    for (let j = 0; j < J; j++) {
      if (at(value, turn * J + j) < 0) continue
      let opens = false
      for (let i = at(jobPlacesStart, j); i < at(jobPlacesStart, j + 1) && !opens; i++) {
        opens = at(closed, (suits[i] ?? 0) * S + (turn % S)) === 0
      }
      if (opens) open.push(j)
    }
    options.push(...open)
  }
  optionsStart[P * S] = options.length

  let most = 0
  for (let turn = 0; turn < P * S; turn++) {
    let best = 0
    for (let j = 0; j < J; j++) best = Math.max(best, at(value, turn * J + j))
    most += best + standingValue(problem)
  }
  assert(most + K * S * problem.weights.fewMoves * 400 < MUST_MARKS, 'the marks of a day stay below one must')
  assert((musts.length + 1) * MUST_MARKS < Number.MAX_SAFE_INTEGER / 2, 'all musts together are counted exactly')

  const ints = (
    map: (job: { readonly piece: ProblemPiece; readonly pieceAt: number; readonly step: ProblemStep }) => number,
  ): Int32Array => Int32Array.from(jobs, map)
  return {
    problem,
    personIds: people.map((person) => person.id),
    shiftIds: shiftList.map((shift) => shift.id),
    placeIds: placeList.map((place) => place.id),
    pieceIds: pieceList.map((piece) => piece.id),
    steps: jobs.map(({ step }) => step),
    persons: P,
    shifts: S,
    places: L,
    pieces: K,
    jobs: J,
    techniques: T,
    classes: C,
    minutes,
    quarters,
    from,
    to,
    levels,
    vibrationLeft: Int32Array.from(people, (person) => person.vibrationPointsLeft ?? NO_CAP),
    noiseLeft: Int32Array.from(people, (person) => person.noisePointsLeft ?? NO_CAP),
    classLeft,
    airCap: Int32Array.from(shiftList, (shift) => shift.airLpm),
    seats: Int32Array.from(placeList, (place) => place.seats),
    airLines: Int32Array.from(placeList, (place) => place.airLines),
    loadCap: Int32Array.from(placeList, (place) => place.loadKgMax ?? NO_CAP),
    closed,
    near,
    mass: Int32Array.from(pieceList, (piece) => piece.massKg),
    standsAt: Int32Array.from(pieceList, (piece) => (piece.at === null ? -1 : (placeIndex.get(piece.at) ?? -1))),
    moveCost: Int32Array.from(pieceList, (piece) => problem.weights.fewMoves * 4 * piece.moveCostPercent),
    jobPiece: ints(({ pieceAt }) => pieceAt),
    jobTechnique: ints(({ step }) => techniqueIndex.get(step.technique) ?? 0),
    jobClass: ints(({ step }) => (step.techniqueClass === null ? -1 : (classIndex.get(step.techniqueClass) ?? -1))),
    jobMin: ints(({ step }) => step.people.min),
    jobMax: ints(({ step }) => step.people.max),
    jobAir: ints(({ step }) => step.airLpm),
    jobTurns: ints(({ step }) => step.turnsLeft),
    jobVibration: ints(({ step }) => step.vibrationPerHour * step.triggerPercent),
    jobNoise: ints(({ step }) => step.noisePerHour * step.triggerPercent),
    firstJob,
    jobPlaces: Int32Array.from(suits),
    jobPlacesStart,
    suits: suitsTable,
    reach: Int32Array.from(reach),
    reachStart,
    exclusive,
    givesOff,
    value,
    learner,
    stayValue: standingValue(problem),
    mentorMax: problem.learnersPerMentorMax,
    options: Int32Array.from(options),
    optionsStart,
    musts,
    mustsOfTurn,
    clocksOfGroup,
    placeForbids,
    posted: problem.posted,
  }
}

/** A learner's turn is none when nobody else in the shift could mentor its technique. */
function dropUnmentored(
  value: Int32Array,
  learner: Int32Array,
  techniqueOf: Int32Array,
  size: { readonly levels: Int32Array; readonly persons: number; readonly shifts: number; readonly techniques: number },
): void {
  const { levels, persons, shifts, techniques } = size
  const jobs = techniqueOf.length
  // Whoever has work at all in a shift could mentor in it; more than that depends on the line-up.
  const hasWork = Int32Array.from({ length: persons * shifts }, (_, turn) =>
    value.subarray(turn * jobs, (turn + 1) * jobs).some((worth) => worth >= 0) ? 1 : 0,
  )
  const mentors = new Int32Array(techniques * shifts)
  for (let turn = 0; turn < persons * shifts; turn++) {
    if (at(hasWork, turn) === 0) continue
    for (let t = 0; t < techniques; t++) {
      if (at(levels, Math.floor(turn / shifts) * techniques + t) >= 4) {
        mentors[t * shifts + (turn % shifts)] = at(mentors, t * shifts + (turn % shifts)) + 1
      }
    }
  }
  for (let cell = 0; cell < value.length; cell++) {
    if (at(learner, cell) === 0) continue
    const shift = Math.floor(cell / jobs) % shifts
    // A learner is at level 1 and so never counts among the mentors of the same technique.
    if (at(mentors, at(techniqueOf, cell % jobs) * shifts + shift) > 0) continue
    value[cell] = -1
    learner[cell] = 0
  }
}

function indexOf(entries: readonly { readonly id: string }[]): ReadonlyMap<string, number> {
  return new Map(entries.map((entry, index) => [entry.id, index]))
}

function numbering(names: readonly string[]): ReadonlyMap<string, number> {
  return new Map([...new Set(names)].sort().map((name, index) => [name, index]))
}
