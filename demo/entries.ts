// The treatment record of the replayed year: condition at the start, each stage when it was reached, what was put on
// the bone. The dates come from the logs, so that record and hours tell the same story.
import { addDays } from '#lib/base'
import { groupOf } from './courses.ts'
import { type Dice, type Draft, instant } from './dice.ts'

const stages = ['opened', 'exposing', 'joining', 'stabilised', 'housed', 'released'] as const

interface Around {
  readonly lab: Draft<'lab'>
  readonly today: string
}

/** The entries of one specimen, and the specimen with the day of its present stage. */
export function writeEntries(
  specimen: Draft<'specimen'>,
  steps: readonly Draft<'step'>[],
  logs: readonly Draft<'log'>[],
  opening: readonly Draft<'log'>[],
  { lab, today }: Around,
  chance: Dice,
): { specimen: Draft<'specimen'>; entries: Draft<'entry'>[] } {
  const entries: Draft<'entry'>[] = []
  const write = (date: string, minute: number, entry: Pick<Draft<'entry'>, 'by' | 'kind' | 'text' | 'techniqueId'>) =>
    entries.push({
      id: `${specimen.id}-e${entries.length + 1}`,
      pieceId: specimen.id,
      at: instant(lab.zone, date, minute),
      corrects: null,
      ...entry,
    })
  const dates = stageDates(logs, opening)
  let since = opening.at(-1)?.date ?? addDays(today, -chance.between(40, 400))
  if (specimen.stage !== 'sealed') {
    write(since, 12 * 60 + 40, {
      by: 'zosia',
      kind: 'condition',
      techniqueId: null,
      text: conditionText(specimen.ratings),
    })
    for (const stage of stages.slice(0, stages.indexOf(specimen.stage) + 1)) {
      since = [since, dates[stage] ?? since].toSorted().at(-1) ?? since
      const by = chance.pick(['zosia', 'vigdis', 'emeka'])
      write(since, 16 * 60 + 20, { by, kind: 'stage', techniqueId: null, text: stage })
    }
  }
  for (const log of logs.filter(({ techniqueId }) => techniqueId === 'consolidating').slice(0, 12)) {
    const text = `Acrylic resin, ${chance.pick(['5', '7', '10'])} % in acetone, ${chance.pick(['brush', 'pipette'])}, ${chance.between(1, 3)} coats. ${specimen.fragile === '' ? '' : `At ${specimen.fragile}.`}`
    write(log.date, 12 * 60 + 25, {
      by: log.personId,
      kind: 'treatment',
      techniqueId: 'consolidating',
      text: text.trim(),
    })
  }
  for (const log of logs.slice(0, 2)) {
    if (!chance.happens(60)) continue
    const title = steps.find((step) => step.id === log.stepId)?.title ?? ''
    write(log.date, 16 * 60 + 5, {
      by: log.personId,
      kind: 'note',
      techniqueId: log.techniqueId,
      text: `${title}: begun at the ${chance.pick(['left', 'right', 'upper', 'lower'])} edge, waste kept in bag ${chance.between(1, 9)}.`,
    })
  }
  return { specimen: { ...specimen, stageSince: since }, entries: entries.toSorted((a, b) => (a.at < b.at ? -1 : 1)) }
}

const groupOfLog = (log: Draft<'log'>): string => groupOf[log.techniqueId] ?? 'other'

/** The day each stage was reached, as far as the logs tell. */
function stageDates(logs: readonly Draft<'log'>[], opening: readonly Draft<'log'>[]) {
  const first = (group: string) => logs.find((log) => groupOfLog(log) === group)?.date
  const last = (...groups: string[]) => logs.findLast((log) => groups.includes(groupOfLog(log)))?.date
  return {
    opened: opening.at(-1)?.date,
    exposing: first('exposing'),
    joining: first('joining'),
    stabilised: last('joining', 'consolidating'),
    housed: logs.findLast((log) => log.techniqueId === 'housing')?.date,
    released: logs.at(-1)?.date,
  } as const satisfies Record<(typeof stages)[number], string | undefined>
}

const scale = ['very low', 'low', 'middling', 'high', 'very high']
const said = (rating: number): string => scale[rating - 1] ?? ''

function conditionText(ratings: Draft<'specimen'>['ratings']): string {
  return (
    `Before work: rock hardness ${said(ratings.rockHardness)}, contrast ${said(ratings.contrast)}, ` +
    `soundness of the bone ${said(ratings.soundness)}, breakage ${said(ratings.breakage)}. No old glue seen.`
  )
}
