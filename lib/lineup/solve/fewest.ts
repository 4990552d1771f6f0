/**
 * Exactly, on small changes: is there a line-up in which at most so many people's day differs from the posted one and
 * which is worth at least so much? Every set of people of that size is set free in turn while all others stay as
 * posted, and the days of the free ones are searched completely. A free turn can earn no more than the best that fits
 * beside those who stay, since more people never make more room; that bound cuts nearly everything off.
 *
 * Mentors are not part of a posted day (whoever is in reach will do), so they are matched anew for each line-up.
 */
import { at } from '#lib/base'
import { fits, suits } from './fits.ts'
import { isOption } from './guide.ts'
import { matchMentors } from './match-mentors.ts'
import { type Model, MUST_MARKS } from './model.ts'
import type { Snapshot } from './search.ts'
import { type Anchor, emptyState, isActive, put, type State, settle, take } from './state.ts'

export interface FewestOptions {
  readonly anchor: Anchor
  /** Worth that counts as good enough, musts included. */
  readonly least: number
  /** People that may change, at most. */
  readonly people: number
  /** Line-ups in the making that may be looked at. */
  readonly nodes: number
  readonly isCancelled?: () => boolean
}

export interface Fewest {
  /** The best line-up within the allowed changes, null when none was met. */
  readonly snapshot: Snapshot | null
  /** Whether all sets were gone through: a null then proves that there is none. */
  readonly isComplete: boolean
}

interface Site {
  readonly job: number
  readonly place: number
  /** Marks at most, musts included. */
  readonly gain: number
}

interface Search {
  readonly state: State
  least: number
  nodes: number
  best: Snapshot | null
  readonly isCancelled: () => boolean
}

/** The best line-up with at most `people` changed people that is worth `least`, if there is one. */
export function fewest(model: Model, options: FewestOptions): Fewest {
  const { anchor, people } = options
  const state = emptyState(model)
  const S = model.shifts
  const mustChange: number[] = []
  const mayStay: number[] = []
  for (let person = 0; person < model.persons; person++) {
    const canStay = stay(state, anchor, person)
    leave(state, person)
    const isIn = model.quarters.subarray(person * S, (person + 1) * S).some((quarters) => quarters > 0)
    if (isIn) (canStay ? mayStay : mustChange).push(person)
  }
  if (mustChange.length > people) return { snapshot: null, isComplete: true }
  for (const person of mayStay) if (!stay(state, anchor, person)) return { snapshot: null, isComplete: false }
  const search: Search = {
    state,
    least: options.least,
    nodes: options.nodes,
    best: null,
    isCancelled: options.isCancelled ?? (() => false),
  }
  const free = [...mustChange]
  const choose = (from: number, more: number): void => {
    if (search.nodes <= 0) return
    if (more === 0) {
      searchSet(search, free)
      return
    }
    for (let i = from; i <= mayStay.length - more; i++) {
      const person = mayStay[i] ?? 0
      leave(state, person)
      free.push(person)
      choose(i + 1, more - 1)
      free.pop()
      stay(state, anchor, person)
    }
  }
  choose(0, Math.min(people - mustChange.length, mayStay.length))
  return { snapshot: search.best, isComplete: search.nodes > 0 }
}

/** Puts a person's day as posted; false, with part of it put, when it does not fit beside the others. */
function stay(state: State, anchor: Anchor, person: number): boolean {
  const S = state.model.shifts
  for (let turn = person * S; turn < (person + 1) * S; turn++) {
    const [job, place] = [at(anchor.job, turn), at(anchor.place, turn)]
    if (job < 0) continue
    const isOpen = isOption(state.model, turn, job) && suits(state.model, job, place)
    if (!isOpen || !fits(state, turn, job, place)) return false
    put(state, turn, job, place, -1)
  }
  return true
}

function leave(state: State, person: number): void {
  const S = state.model.shifts
  for (let turn = person * S; turn < (person + 1) * S; turn++) if (at(state.job, turn) >= 0) take(state, turn)
}

/** All days of the free people beside those who stay. */
function searchSet(search: Search, free: readonly number[]): void {
  const { state } = search
  const { model } = state
  search.nodes--
  if (search.isCancelled()) search.nodes = 0
  const turns: number[] = []
  for (const person of free) {
    for (let s = 0; s < model.shifts; s++) {
      const turn = person * model.shifts + s
      if (at(model.quarters, turn) > 0) turns.push(turn)
    }
  }
  const sites = turns.map((turn) => sitesOf(state, turn))
  /** What the turns from here on can add at most: the best that fits now, and staying on from the shift before. */
  const most = (from: number): number => {
    let sum = 0
    for (let i = from; i < turns.length; i++) {
      const turn = turns[i] ?? 0
      const best = sites[i]?.find(({ job, place }) => fits(state, turn, job, place))
      if (best !== undefined) sum += best.gain + (turn % model.shifts > 0 ? model.stayValue : 0)
    }
    return sum
  }
  const descend = (i: number): void => {
    if (search.nodes <= 0) return
    search.nodes--
    const worth = settle(state)
    const turn = turns[i]
    if (turn === undefined) {
      if (worth >= search.least) conclude(search, worth)
      return
    }
    const sure = worth + pendingOf(state)
    const later = most(i + 1)
    const stays = turn % model.shifts > 0 ? model.stayValue : 0
    for (const { job, place, gain } of sites[i] ?? []) {
      if (sure + later + gain + stays < search.least) break
      if (!fits(state, turn, job, place)) continue
      put(state, turn, job, place, -1)
      descend(i + 1)
      take(state, turn)
    }
    if (sure + later >= search.least) descend(i + 1)
  }
  descend(0)
  settle(state)
}

/** Where a turn fits beside those who stay, best first. */
function sitesOf(state: State, turn: number): readonly Site[] {
  const { model } = state
  const sites: Site[] = []
  for (let o = at(model.optionsStart, turn); o < at(model.optionsStart, turn + 1); o++) {
    const job = at(model.options, o)
    const gain = gainOf(model, turn, job)
    for (let i = at(model.jobPlacesStart, job); i < at(model.jobPlacesStart, job + 1); i++) {
      const place = at(model.jobPlaces, i)
      if (fits(state, turn, job, place)) sites.push({ job, place, gain })
    }
  }
  return sites.sort((a, b) => b.gain - a.gain || a.job - b.job || a.place - b.place)
}

/** Marks of a turn on a job, with every must and clock that it could keep. */
function gainOf(model: Model, turn: number, job: number): number {
  const group = at(model.jobPiece, job) * model.shifts + (turn % model.shifts)
  const musts = (model.mustsOfTurn[turn] ?? []).filter((must) => must.group === group).length
  const clocks = model.clocksOfGroup.get(group)?.length ?? 0
  return at(model.value, turn * model.jobs + job) + (musts + clocks) * MUST_MARKS
}

/** What groups that are short of people would earn with enough of them. */
function pendingOf(state: State): number {
  const { model } = state
  let pending = 0
  for (let turn = 0; turn < model.persons * model.shifts; turn++) {
    const job = at(state.job, turn)
    if (job < 0 || at(model.jobMin, job) === 1) continue
    if (!isActive(state, at(model.jobPiece, job) * model.shifts + (turn % model.shifts)))
      // Whoever is idle for now may also stay on, before and after.
      pending += gainOf(model, turn, job) + 2 * model.stayValue
  }
  return pending
}

/** A whole line-up that is worth enough: kept when every group has its people and every learner a mentor. */
function conclude(search: Search, worth: number): void {
  const { state } = search
  const { model } = state
  const S = model.shifts
  for (let turn = 0; turn < model.persons * S; turn++) {
    const job = at(state.job, turn)
    if (job >= 0 && !isActive(state, at(model.jobPiece, job) * S + (turn % S))) return
  }
  const mentor = matchMentors(state)
  if (mentor === null) return
  const place = Int32Array.from(state.job, (job, turn) =>
    job < 0 ? -1 : at(state.groupPlace, at(model.jobPiece, job) * S + (turn % S)),
  )
  search.best = { job: Int32Array.from(state.job), place, mentor, worth }
  search.least = worth + 1
}
