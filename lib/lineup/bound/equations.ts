/**
 * What is left of a day as equations for a general solver, in the LP text format: only the crew and sites of a field
 * from which everything that no better line-up has is already gone. Every lawful line-up of the field that is worth
 * more than `above` satisfies them, that a mentor is near included, which the prices do not see.
 *
 * Columns: x crew entry · y site entry (a group is there) · n people at a site where more than one can be · w learner's
 * entry × mentor's turn · z turn × place · c stays on · v piece brought to a place · d dust and no solvent at a place. All
 * but n are 0 or 1.
 */
import { at } from '#lib/base'
import { type Model, mayBeAt } from '../solve/model.ts'
import { type Field, LEADS, LEARNS } from './field.ts'
import type { Rows } from './rows.ts'

type Term = readonly [coefficient: number, column: string]

/** The equations of a field; the objective is the marks of a line-up. */
export function equationsOf(field: Field, rows: Rows, above: number): string {
  const model = field.model
  const page = newPage()
  const seats = seatsOf(field, page)
  const marks: Term[] = []
  turnsAndGroups(field, page, marks)
  roomOfPlaces(field, page)
  capsOfPeople(field, rows, page)
  mentorsNear(field, page, seats)
  stayingOn(field, page, marks)
  moves(field, page, marks)
  page.row(marks, '>=', above)
  for (const { entry, turn, job, site, place } of seats) {
    if (!mayBeAt(model, turn, job, place)) page.row([one(`x${entry}`), one(`y${site}`)], '<=', 1)
  }
  return page.text(marks)
}

/** Which crew entries and which place are on in an answer, as a job and a place by turn. */
export function turnsOf(
  field: Field,
  isOn: (column: string) => boolean,
): { readonly job: Int32Array; readonly place: Int32Array } {
  const { model, cells, crewStart, crewTurn, siteStart, sitePlace } = field
  const job = new Int32Array(model.persons * model.shifts).fill(-1)
  const place = new Int32Array(model.persons * model.shifts).fill(-1)
  for (let c = 0; c < cells.length; c++) {
    let there = -1
    for (let j = at(siteStart, c); j < at(siteStart, c + 1); j++) if (isOn(`y${j}`)) there = at(sitePlace, j)
    for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) {
      if (!isOn(`x${i}`)) continue
      job[at(crewTurn, i)] = Math.floor(at(cells, c) / model.shifts)
      place[at(crewTurn, i)] = there
    }
  }
  return { job, place }
}

const one = (column: string): Term => [1, column]
const minus = (column: string): Term => [-1, column]

interface Page {
  readonly row: (terms: readonly Term[], sense: '<=' | '>=' | '=', right: number) => void
  readonly binary: (column: string) => string
  readonly count: (column: string, most: number) => void
  readonly text: (objective: readonly Term[]) => string
}

function newPage(): Page {
  const lines: string[] = []
  const binaries = new Set<string>()
  const counts = new Map<string, number>()
  return {
    row(terms, sense, right) {
      const kept = terms.filter(([coefficient]) => coefficient !== 0)
      // Without columns a row says nothing, or that nothing can be.
      if (kept.length > 0) lines.push(` r${lines.length}: ${sum(kept)} ${sense} ${right}`)
      else if (sense === '<=' ? right < 0 : sense === '>=' ? right > 0 : right !== 0)
        lines.push(` r${lines.length}: nothing ${sense} ${right}`)
    },
    binary(column) {
      binaries.add(column)
      return column
    },
    count(column, most) {
      counts.set(column, most)
    },
    text: (objective) =>
      [
        'Maximize',
        ` obj: ${objective.length === 0 ? '0 nothing' : sum(objective)}`,
        'Subject To',
        ...lines,
        'Bounds',
        ' nothing = 0',
        ...[...counts].map(([column, most]) => ` 0 <= ${column} <= ${most}`),
        'Binary',
        ...[...binaries].map((column) => ` ${column}`),
        ...(counts.size > 0 ? ['General', ...[...counts.keys()].map((column) => ` ${column}`)] : []),
        'End',
      ].join('\n'),
  }
}

/** Terms in lines of a few, since the format limits a line's length. */
function sum(terms: readonly Term[]): string {
  const parts = terms.map(([k, column]) => `${k < 0 ? '-' : '+'} ${Math.abs(k)} ${column}`)
  const lines: string[] = []
  for (let i = 0; i < parts.length; i += 12) lines.push(parts.slice(i, i + 12).join(' '))
  return lines.join('\n ')
}

/** One crew entry at one of its cell's sites. */
interface Seat {
  readonly job: number
  readonly entry: number
  readonly turn: number
  readonly site: number
  readonly place: number
}

function seatsOf(field: Field, page: Page): Seat[] {
  const { model, cells, crewStart, crewTurn, siteStart, sitePlace, siteMost } = field
  const seats: Seat[] = []
  for (let c = 0; c < cells.length; c++) {
    const job = Math.floor(at(cells, c) / model.shifts)
    for (let j = at(siteStart, c); j < at(siteStart, c + 1); j++) {
      page.binary(`y${j}`)
      if (at(siteMost, j) > 1) page.count(`n${j}`, at(siteMost, j))
    }
    for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) {
      page.binary(`x${i}`)
      for (let j = at(siteStart, c); j < at(siteStart, c + 1); j++) {
        seats.push({ job, entry: i, turn: at(crewTurn, i), site: j, place: at(sitePlace, j) })
      }
    }
  }
  return seats
}

/** How many people are at a site: a column of its own where more than one can be. */
const peopleAt = ({ siteMost }: Field, site: number): string => (at(siteMost, site) > 1 ? `n${site}` : `y${site}`)

const span = (start: Int32Array, c: number): number[] =>
  Array.from({ length: at(start, c + 1) - at(start, c) }, (_, i) => at(start, c) + i)

/** Pushes into the list of a key, made when first asked for. */
function into<Value>(lists: Map<number, Value[]>, key: number, value: Value): void {
  const list = lists.get(key)
  if (list === undefined) lists.set(key, [value])
  else list.push(value)
}

function turnsAndGroups(field: Field, page: Page, marks: Term[]): void {
  const { model, cells, crewStart, crewTurn, crewMarks, siteStart, siteMost } = field
  const turns = new Map<number, Term[]>()
  const groups = new Map<number, Term[]>()
  const jobs = new Map<number, Term[]>()
  for (let c = 0; c < cells.length; c++) {
    const [job, s] = [Math.floor(at(cells, c) / model.shifts), at(cells, c) % model.shifts]
    const crew = span(crewStart, c).map((i) => one(`x${i}`))
    const sites = span(siteStart, c)
    for (const i of span(crewStart, c)) {
      into(turns, at(crewTurn, i), one(`x${i}`))
      into(jobs, job, one(`x${i}`))
      marks.push([at(crewMarks, i), `x${i}`])
      page.row([one(`x${i}`), ...sites.map((j) => minus(`y${j}`))], '<=', 0)
    }
    for (const j of sites) {
      into(groups, at(model.jobPiece, job) * model.shifts + s, one(`y${j}`))
      if (at(siteMost, j) > 1) page.row([one(`n${j}`), [-at(siteMost, j), `y${j}`]], '<=', 0)
    }
    page.row([...crew, ...sites.map((j) => minus(peopleAt(field, j)))], '=', 0)
    page.row([...crew, ...sites.map((j): Term => [-at(model.jobMin, job), `y${j}`])], '>=', 0)
  }
  for (const terms of turns.values()) page.row(terms, '<=', 1)
  for (const terms of groups.values()) page.row(terms, '<=', 1)
  for (const [job, terms] of jobs) page.row(terms, '<=', at(model.jobTurns, job))
}

function roomOfPlaces(field: Field, page: Page): void {
  const { model, cells, siteStart, sitePlace } = field
  const S = model.shifts
  const seats = new Map<number, Term[]>()
  const lines = new Map<number, Term[]>()
  const load = new Map<number, Term[]>()
  const alone = new Map<number, Term[]>()
  const air = new Map<number, Term[]>()
  const dust = new Map<number, Term[]>()
  const solvent = new Map<number, Term[]>()
  for (let c = 0; c < cells.length; c++) {
    const [job, s] = [Math.floor(at(cells, c) / S), at(cells, c) % S]
    const piece = at(model.jobPiece, job)
    for (const j of span(siteStart, c)) {
      const place = at(sitePlace, j)
      const where = place * S + s
      into(seats, where, one(peopleAt(field, j)))
      into(load, where, [at(model.mass, piece), `y${j}`])
      if (at(model.exclusive, piece * model.places + place) === 1) into(alone, where, one(`y${j}`))
      const gives = at(model.givesOff, job * model.places + place)
      if (gives > 0) into(gives === 1 ? dust : solvent, where, one(`y${j}`))
      if (at(model.jobAir, job) === 0) continue
      into(lines, where, one(peopleAt(field, j)))
      into(air, s, [at(model.jobAir, job), peopleAt(field, j)])
    }
  }
  for (const [where, terms] of seats) page.row(terms, '<=', at(model.seats, Math.floor(where / S)))
  for (const [where, terms] of lines) page.row(terms, '<=', at(model.airLines, Math.floor(where / S)))
  for (const [where, terms] of load) page.row(terms, '<=', at(model.loadCap, Math.floor(where / S)))
  for (const terms of alone.values()) page.row(terms, '<=', 1)
  for (const [where, terms] of dust) {
    const others = solvent.get(where)
    if (others === undefined) continue
    const isDusty = page.binary(`d${where}`)
    for (const term of terms) page.row([term, minus(isDusty)], '<=', 0)
    for (const term of others) page.row([term, one(isDusty)], '<=', 1)
  }
  for (const [s, terms] of air) page.row(terms, '<=', at(model.airCap, s))
}

function capsOfPeople(field: Field, rows: Rows, page: Page): void {
  const { model, cells, crewStart, crewTurn } = field
  const caps = new Map<number, Term[]>()
  for (let c = 0; c < cells.length; c++) {
    const kind = at(model.jobClass, Math.floor(at(cells, c) / model.shifts))
    for (const i of span(crewStart, c)) {
      const person = Math.floor(at(crewTurn, i) / model.shifts)
      into(caps, rows.vibration + person, [at(field.crewVibration, i), `x${i}`])
      into(caps, rows.noise + person, [at(field.crewNoise, i), `x${i}`])
      if (kind >= 0) into(caps, rows.kind + person * model.classes + kind, [at(field.crewMinutes, i), `x${i}`])
    }
  }
  for (const [row, terms] of caps) page.row(terms, '<=', rows.room[row] ?? 0)
}

/** A learner has one mentor who works in reach of them and has room. */
function mentorsNear(field: Field, page: Page, seats: readonly Seat[]): void {
  const { model, crewKind } = field
  const S = model.shifts
  const byTurn = new Map<number, Seat[]>()
  const leads = new Map<number, Set<number>>()
  for (const seat of seats) {
    into(byTurn, seat.turn, seat)
    if (at(crewKind, seat.entry) !== LEADS) continue
    leads.set(seat.turn, (leads.get(seat.turn) ?? new Set()).add(seat.entry))
  }
  const lead = (turn: number): string[] => [...(leads.get(turn) ?? [])].map((i) => `x${i}`)
  const guided = new Map<number, Term[]>()
  const learners = new Map<number, Seat[]>()
  for (const seat of seats) if (at(crewKind, seat.entry) === LEARNS) into(learners, seat.entry, seat)
  for (const [entry, own] of learners) {
    const [first] = own
    if (first === undefined) continue
    const guides: Term[] = []
    for (const turn of leads.keys()) {
      if (turn % S !== first.turn % S || turn === first.turn) continue
      if (!knows(model, Math.floor(turn / S), first.job)) continue
      const guide = page.binary(`w${entry}_${turn}`)
      guides.push(minus(guide))
      into(guided, turn, one(guide))
      for (const { site, place } of own) {
        const near = Array.from({ length: model.places }, (_, other) => other).filter(
          (other) => at(model.near, other * model.places + place) === 1,
        )
        page.row([one(guide), one(`y${site}`), ...near.map((other) => minus(`z${turn}_${other}`))], '<=', 1)
      }
    }
    page.row([one(`x${entry}`), ...guides], '=', 0)
  }
  for (const [turn, guides] of guided) {
    page.row([...guides, ...lead(turn).map((x): Term => [-model.mentorMax, x])], '<=', 0)
    const own = [...new Set((byTurn.get(turn) ?? []).map((seat) => seat.entry))]
    const places = Array.from({ length: model.places }, (_, place) => page.binary(`z${turn}_${place}`))
    page.row([...own.map((i) => one(`x${i}`)), ...places.map(minus)], '=', 0)
    for (const seat of byTurn.get(turn) ?? [])
      page.row([one(`x${seat.entry}`), one(`y${seat.site}`), minus(`z${turn}_${seat.place}`)], '<=', 1)
  }
}

const knows = (model: Model, person: number, job: number): boolean =>
  at(model.levels, person * model.techniques + at(model.jobTechnique, job)) >= 4

function stayingOn(field: Field, page: Page, marks: Term[]): void {
  const { model, cells, crewStart, crewTurn } = field
  const on = new Map<number, Term[]>()
  const key = (turn: number, piece: number): number => turn * model.pieces + piece
  for (let c = 0; c < cells.length; c++) {
    const piece = at(model.jobPiece, Math.floor(at(cells, c) / model.shifts))
    for (const i of span(crewStart, c)) into(on, key(at(crewTurn, i), piece), minus(`x${i}`))
  }
  for (const [its, now] of on) {
    const [turn, piece] = [Math.floor(its / model.pieces), its % model.pieces]
    const before = turn % model.shifts === 0 ? undefined : on.get(key(turn - 1, piece))
    if (before === undefined) continue
    const stays = page.binary(`c${its}`)
    marks.push([model.stayValue, stays])
    page.row([one(stays), ...before], '<=', 0)
    page.row([one(stays), ...now], '<=', 0)
  }
}

function moves(field: Field, page: Page, marks: Term[]): void {
  const { model, cells, siteStart, sitePlace, siteMove } = field
  const costs = new Map<string, number>()
  for (let c = 0; c < cells.length; c++) {
    const piece = at(model.jobPiece, Math.floor(at(cells, c) / model.shifts))
    for (const j of span(siteStart, c)) {
      if (at(siteMove, j) === 0) continue
      const brought = page.binary(`v${piece}_${at(sitePlace, j)}`)
      costs.set(brought, at(siteMove, j))
      page.row([one(`y${j}`), minus(brought)], '<=', 0)
    }
  }
  for (const [brought, cost] of costs) marks.push([-cost, brought])
}
