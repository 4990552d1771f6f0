// Jackets, specimens and their steps as the demo wants them to stand today: how much of each step is to be done by
// now, and in which weeks. The year that follows (year.ts) does the work; what it did is then written into the steps.
import { addDays } from '#lib/base'
import { type Find, finds, type Site, sites } from './catalogue.ts'
import { courses, groupOf, waitsFor } from './courses.ts'
import type { Dice, Draft } from './dice.ts'
import { jacketOf, openedJacket, sealedJacket } from './jackets.ts'
import { massOf, minutesOf, type PlannedStep, type Project, shelfFor, stepOf, waiting } from './plan.ts'
import { forceOf } from './techniques.ts'

export interface Sizes {
  readonly jackets: number
  readonly specimens: number
  /** Specimens that stand as listed; those beyond wait sealed, so that the crew of a larger lab can keep up. */
  readonly active: number
}

/** All pieces of the demo lab. */
export function demoPieces(sizes: Sizes, today: string, chance: Dice): Project[] {
  const projects: Project[] = []
  const next = new Map<string, number>()
  const numberFor = (site: Site, age: number, first: number): string => {
    const year = Number(today.slice(0, 4)) - age
    const key = `${site}${year}.${first}`
    const n = (next.get(key) ?? first) + 1
    next.set(key, n)
    return `${site}${String(year).slice(2)}-${String(n).padStart(3, '0')}`
  }
  // Specimens are numbered apart from jackets, above any number that the jackets of one place and year can reach.
  const firstSpecimen = sizes.jackets < 2000 ? 100 : 5000
  for (let i = 0; i < sizes.specimens; i++) {
    const listed = finds[i % finds.length]
    if (!listed) continue
    const find: Find = i < sizes.active ? listed : { ...listed, stage: 'sealed', donePct: 0 }
    const project = specimenOf(find, numberFor(find.site, find.age, firstSpecimen), today, chance)
    if (find.stage !== 'sealed') {
      const jacket = jacketOf(numberFor(find.site, find.age, 0), find, find.size, today, chance)
      const isEmpty = find.stage !== 'opened' && find.stage !== 'exposing'
      const opened = openedJacket(jacket, isEmpty, addDays(project.from, -12), addDays(project.from, -1), chance)
      projects.push(opened, { ...withJacket(project, jacket.id), waitsForId: jacket.id })
    } else projects.push(project)
  }
  const others = sizes.jackets - projects.filter(({ jacket }) => jacket).length
  for (let i = 0; i < others; i++) {
    const find = chance.pick(finds)
    const age = chance.between(1, 9)
    const grow = chance.around(0.9, 1.6)
    const size = [find.size[0] * grow, find.size[1] * grow, find.size[2] * grow] as const
    const jacket = jacketOf(numberFor(find.site, age, 0), find, size, today, chance)
    // A tenth was opened to see what is inside, a third is this season's choice, the rest waits in the archive.
    if (i % 10 === 3) {
      const from = addDays(today, -chance.between(30, 200))
      projects.push(openedJacket(jacket, false, from, addDays(from, 30), chance))
    } else projects.push(sealedJacket(jacket, i % 3 === 0, today, chance))
  }
  return projects
}

const withJacket = (project: Project, jacketId: string): Project => ({
  ...project,
  specimen: project.specimen && { ...project.specimen, jacketId },
})

const isWorked: readonly Find['stage'][] = ['exposing', 'joining']
const reached: Readonly<Record<Find['stage'], readonly string[]>> = {
  sealed: [],
  opened: ['opening'],
  exposing: ['opening'],
  joining: ['opening', 'exposing', 'consolidating'],
  stabilised: ['opening', 'exposing', 'consolidating', 'joining'],
  housed: ['opening', 'exposing', 'consolidating', 'joining', 'cradle'],
  released: ['opening', 'exposing', 'consolidating', 'joining', 'cradle', 'housing'],
}
/** The group in progress at a stage, of which `donePct` is done. */
const current: Partial<Record<Find['stage'], string>> = { exposing: 'exposing', joining: 'joining', housed: 'housing' }
/** What may have been begun in the last days at each stage without leaving it. */
const begins: Partial<Record<Find['stage'], readonly string[]>> = {
  exposing: ['exposing', 'consolidating'],
  joining: ['joining'],
  stabilised: ['cradle'],
  housed: ['housing'],
}
/** Hours in the courses are a quick hand's; this lab takes its time. */
const SLOWNESS = 1.7

/** The group of a step, with the cradle apart from the papers that follow it. */
const groupOfStep = (step: Draft<'step'>): string =>
  step.techniqueId === 'housing' ? 'cradle' : (groupOf[step.techniqueId] ?? '')

function specimenOf(find: Find, number: string, today: string, chance: Dice): Project {
  const id = number.toLowerCase()
  const site = sites[find.site]
  const list = [
    ...(find.stage === 'sealed' ? [['opening', 'Jacket opening', 6] as const] : []),
    ...courses[find.course].map(([technique, title, hours]) => gentleEnough(technique, find.ceiling, title, hours)),
  ]
  const techniques = list.map(([technique]) => technique)
  const steps = list.map(([technique, title, hours], index) => {
    const step = stepOf(id, index, technique, title, hours * find.share * SLOWNESS * chance.around(1, 1.2))
    step.after = waitsFor(techniques, index).map((i) => `${id}-s${i + 1}`)
    if (find.size[0] > 0.8 && groupOf[technique] !== 'consolidating') step.peopleMax = find.size[0] > 1.2 ? 3 : 2
    if (find.course === 'shell' && technique === 'joining') step.peopleMax = 2
    return step
  })
  const inCurrent = steps.filter((step) => groupOfStep(step) === current[find.stage])
  let left = (inCurrent.reduce((sum, step) => sum + step.hours.likelyH, 0) * find.donePct) / 100
  const planned = steps.map((step): PlannedStep => {
    const group = groupOfStep(step)
    if (reached[find.stage].includes(group)) {
      return {
        step,
        wantMinutes: minutesOf(step.hours.likelyH * chance.around(1.05, 1.35)),
        isFinal: true,
        mayBegin: false,
      }
    }
    const mayBegin = begins[find.stage]?.includes(group) ?? false
    if (!inCurrent.includes(step) || left <= 0) return { ...waiting(step), mayBegin }
    const hours = Math.min(left, step.hours.likelyH)
    left -= hours
    return { step, wantMinutes: minutesOf(hours), isFinal: hours >= step.hours.likelyH, mayBegin }
  })
  const totalH = planned.reduce((sum, { wantMinutes }) => sum + wantMinutes / 60, 0)
  const to = isWorked.includes(find.stage) ? addDays(today, -1) : addDays(today, -chance.between(8, 50))
  // Five hours a week are a well-kept piece; nothing in this lab was begun more than eleven months ago.
  const days = Math.min(300, Math.max(40, Math.round((totalH / chance.around(4.8, 1.4)) * 7)))
  const [lengthM, widthM, heightM] = find.size
  const mass = massOf(lengthM, widthM, heightM, site.densityKgM3 * 0.9)
  return {
    id,
    number,
    jacket: null,
    specimen: {
      id,
      number,
      catalogueNumber: find.stage === 'housed' || find.stage === 'released' ? `GY ${chance.between(1100, 1990)}` : '',
      name: find.name,
      jacketId: null,
      locality: site.locality,
      horizon: site.horizon,
      stage: find.stage,
      stageSince: today,
      forceCeiling: find.ceiling,
      ratings: {
        rockHardness: site.hardness,
        contrast: chance.between(2, 5),
        soundness: find.isPriority ? chance.between(1, 3) : chance.between(2, 5),
        breakage: find.course === 'shell' ? 5 : chance.between(1, 4),
        toExposeCm2: Math.round(lengthM * widthM * 10_000 * 0.8 * (1 - find.donePct / 100)),
        on: addDays(to, -days),
        by: 'zosia',
      },
      purpose: find.purpose ?? 'research',
      side: find.side ?? '',
      stopLine: find.purpose === 'exhibit' ? 'stop at the painted line; the far side stays in rock' : '',
      fragile: find.fragile ?? '',
      isPriority: find.isPriority ?? false,
      shelf: shelfFor(mass.highKg, chance),
      placeId: null,
      isTied: false,
      lengthM,
      widthM,
      heightM,
      mass,
      note: '',
    },
    steps: planned,
    from: addDays(to, -days),
    to,
    isTied: find.stage === 'exposing' && mass.highKg > 600,
    waitsForId: null,
  }
}

/** A step above the ceiling is done with the ceiling's technique instead, in half as many hours again. */
function gentleEnough(technique: string, ceiling: string, title: string, hours: number) {
  const force = forceOf.get(technique) ?? 0
  const most = forceOf.get(ceiling) ?? 0
  return force > most ? ([ceiling, title, hours * 1.5] as const) : ([technique, title, hours] as const)
}
