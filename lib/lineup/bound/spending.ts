/** What a chosen crew and site use of every row: the slope of the bound. `chosen` counts the crew entries. */
import { at, atDouble } from '#lib/base'
import type { Cells } from './cells.ts'
import { type Field, LEADS, LEARNS } from './field.ts'
import type { Rows } from './rows.ts'

export interface Spending {
  readonly spendCrew: (c: number, i: number, used: Float64Array) => void
  /** `isFixed`: this site and no other; else those that cost the same share what is used. */
  readonly spendSites: (c: number, site: number, crew: number, isFixed: boolean, used: Float64Array) => void
}

export function spendingOf(
  field: Field,
  rows: Rows,
  { extras, seatCost, siteCost }: Cells,
  chosen: Float64Array,
): Spending {
  const { model, cells, crewTurn, siteStart, sitePlace } = field
  const { shifts: S, techniques: T, classes: C } = model
  const isSplit = S > 2
  const spread = new Int32Array(model.places)
  let spreads = 0
  return { spendCrew, spendSites }

  /** Sites that cost the same, or nearly, share what is used: else all would run from one seat to the next. */
  function spendSites(c: number, site: number, crew: number, isFixed: boolean, used: Float64Array): void {
    const cell = at(cells, c)
    const s = cell % S
    const job = (cell - s) / S
    const piece = at(model.jobPiece, job)
    const air = at(model.jobAir, job)
    spreads = 0
    const most = crew * atDouble(seatCost, site) + atDouble(siteCost, site)
    if (isFixed) spread[spreads++] = site
    else {
      for (let i = at(siteStart, c); i < at(siteStart, c + 1); i++) {
        if (at(field.siteMost, i) < crew) continue
        if (crew * atDouble(seatCost, i) + atDouble(siteCost, i) <= most) spread[spreads++] = i
      }
    }
    const share = 1 / spreads
    for (let n = 0; n < spreads; n++) {
      const place = at(sitePlace, at(spread, n))
      const where = place * S + s
      raise(used, rows.seats + where, crew * share)
      if (air > 0) raise(used, rows.lines + where, crew * share)
      raise(used, rows.load + where, at(model.mass, piece) * share)
      if (at(model.exclusive, piece * model.places + place) === 1) raise(used, rows.exclusive + where, share)
    }
    if (air > 0) raise(used, rows.air + s, air * crew)
  }

  function spendCrew(c: number, i: number, used: Float64Array): void {
    const cell = at(cells, c)
    const s = cell % S
    const job = (cell - s) / S
    const turn = at(crewTurn, i)
    const person = (turn - s) / S
    const t = at(model.jobTechnique, job)
    raise(chosen, i, 1)
    raise(used, rows.turn + turn, 1)
    raise(used, rows.vibration + person, at(field.crewVibration, i))
    raise(used, rows.noise + person, at(field.crewNoise, i))
    if (at(model.jobClass, job) >= 0)
      raise(used, rows.kind + person * C + at(model.jobClass, job), at(field.crewMinutes, i))
    if (isSplit) raise(used, rows.jobTurns + job, 1)
    if (at(field.crewKind, i) === LEARNS) {
      raise(used, rows.learner + turn * T + t, 1)
      raise(used, rows.mentor + t * S + s, 1)
      raise(used, rows.mentorAll + s, 1)
    } else if (at(field.crewKind, i) === LEADS) {
      raise(used, rows.mentorAll + s, -model.mentorMax)
      for (let technique = 0; technique < T; technique++) {
        if (at(model.levels, person * T + technique) < 4) continue
        raise(used, rows.mentor + technique * S + s, -model.mentorMax)
        for (const row of extras.learners[s * T + technique] ?? []) raise(used, rows.learner + row, -1)
      }
    }
  }
}

function raise(used: Float64Array, row: number, amount: number): void {
  used[row] = atDouble(used, row) + amount
}
