// The record of one piece as it stands on paper, part by part: who it is, how it was judged, what was done with it, its
// fragments, housing, hands and photographs. Words and figures only; how a page looks is whoever sets it.
import { localAt, timeOfMinute } from '#lib/base'
import { housingOf, massKgOf, oldestFirst, photosShown, techniqueOf } from '#lib/rules'
import type { Jar, RecordOf, Records } from '#lib/words'

/** A line of the record: when, who, what. */
interface FormLine {
  readonly when: string
  readonly who: string
  readonly text: string
}

export interface RecordForm {
  readonly number: string
  readonly name: string
  readonly facts: readonly (readonly [label: string, value: string])[]
  readonly parts: readonly { readonly title: string; readonly lines: readonly FormLine[] }[]
  readonly photos: readonly { readonly hash: string; readonly caption: string }[]
}

/**
 * The form of a piece; null where the records do not have it. `records` must hold its Sheet, as whoever gets the form
 * may read it. Times are the lab's, oldest first, as the work went.
 */
export function recordForm(records: Records, pieceId: string): RecordForm | null {
  const specimen = records.specimen.get(pieceId)
  const jacket = records.jacket.get(pieceId)
  const piece = specimen ?? jacket
  if (!piece) return null
  const zone = records.lab.get('lab')?.zone ?? 'UTC'
  const nameOf = (id: string) => records.person.get(id)?.name ?? 'somebody'
  const line = (at: string, by: string, text: string): FormLine => ({ when: moment(at, zone), who: nameOf(by), text })
  const of = <T extends { readonly pieceId: string; readonly id: string; readonly at: string }>(
    all: ReadonlyMap<string, T>,
  ) => [...all.values()].filter((one) => one.pieceId === pieceId).sort(oldestFirst)
  const housing = housingOf(records, pieceId)
  const photos = photosShown(records.photo.values(), pieceId)
  const parts = [
    {
      title: 'Assessments',
      lines: of(records.assessment).map((one) => line(one.at, one.by, assessed(records, one))),
    },
    { title: 'Treatment record', lines: treatment(records, pieceId, zone, nameOf) },
    {
      title: 'Joins',
      lines: of(records.join).map((one) =>
        line(one.at, one.by, `${one.pair.join(' + ')}: ${one.state}${one.adhesive === '' ? '' : `, ${one.adhesive}`}`),
      ),
    },
    { title: 'Housing', lines: housing ? [line(housing.at, housing.by, housed(housing))] : [] },
    {
      title: 'Whose hands',
      lines: of(records.custody).map((one) => line(one.at, one.by, handed(one))),
    },
    {
      title: 'Questions',
      lines: of(records.question).flatMap(({ at, by, text, answer }) => [
        line(at, by, text),
        ...(answer === null ? [] : [line(answer.at, answer.by, `Answer: ${answer.text}`)]),
      ]),
    },
  ]
  return {
    number: specimen?.number ?? jacket?.fieldNumber ?? '',
    name: specimen?.name ?? jacket?.contents ?? '',
    facts: factsOf(records, specimen ?? null, jacket ?? null).filter(([, value]) => value !== ''),
    parts: parts.filter(({ lines }) => lines.length > 0),
    photos: photos.map(({ photo }) => ({ hash: photo.hash, caption: captionOf(photo, zone) })),
  }
}

/** 2026-03-11 15:40, of the lab's clock. */
function moment(at: string, zone: string): string {
  const { date, minute } = localAt(zone, Date.parse(at))
  return `${date} ${timeOfMinute(minute)}`
}

const sentence = (parts: readonly (string | undefined)[]): string => parts.filter((one) => one).join(', ')
const sentences = (parts: readonly string[]): string => parts.filter((one) => one !== '').join(' ')
const capital = (words: string): string => `${words[0]?.toUpperCase()}${words.slice(1)}`

function factsOf(
  records: Records,
  specimen: RecordOf<'specimen'> | null,
  jacket: RecordOf<'jacket'> | null,
): readonly (readonly [string, string])[] {
  const piece = specimen ?? jacket
  if (!piece) return []
  const from = specimen?.jacketId ? records.jacket.get(specimen.jacketId) : jacket
  const { weighedKg, weighedOn } = piece.mass
  // An estimate is no better than two digits.
  const span = [piece.mass.lowKg, piece.mass.highKg].map((kg) => Number(kg.toPrecision(2))).join(' to ')
  const mass =
    weighedKg === null
      ? `${span} kg, estimated`
      : `${weighedKg} kg, weighed${weighedOn === null ? '' : ` ${weighedOn}`}; estimated ${span} kg before`
  const technique = (id: string) => techniqueOf(records, id)?.name.toLowerCase() ?? id
  return [
    ['Catalogue number', specimen?.catalogueNumber ?? ''],
    ['From', specimen && from ? from.fieldNumber : ''],
    ['Jacket', jacket?.partOf ? `${jacket.partOf.n} of ${jacket.partOf.total}` : ''],
    ['Animal, as guessed', specimen?.taxon ?? ''],
    ['Part, as guessed', specimen?.element ?? ''],
    ['Locality', sentence([piece.locality, piece.horizon])],
    ['Collected', from ? sentence([from.collectedOn ?? '', from.collector]) : ''],
    ['Hazards', from ? sentence([...from.hazards, from.hazardNote]) : ''],
    ['Permit, owner', from ? sentence([from.permit, from.owner]) : ''],
    ['Measures', `${piece.lengthM} × ${piece.widthM} × ${piece.heightM} m`],
    ['Mass', massKgOf(piece) > 0 ? mass : ''],
    ['Stage', specimen ? `${specimen.stage}, since ${specimen.stageSince}` : (jacket?.state ?? '')],
    ['Prepared for', specimen ? sentence([specimen.purpose, specimen.side]) : ''],
    ['No stronger than', specimen ? technique(specimen.forceCeiling) : ''],
    ['Stop line', specimen?.stopLine ?? ''],
    ['Fragile', specimen?.fragile ?? ''],
    ['Shelf', piece.shelf],
  ]
}

/** Work and entries in one order; what a correction corrects is named by its moment, and both stay. */
function treatment(
  records: Records,
  pieceId: string,
  zone: string,
  nameOf: (id: string) => string,
): readonly FormLine[] {
  const moments = new Map<string, string>()
  const logs = [...records.log.values()].filter((one) => one.pieceId === pieceId)
  const entries = [...records.entry.values()].filter((one) => one.pieceId === pieceId)
  for (const { id, startedAt } of logs) moments.set(`log ${id}`, moment(startedAt, zone))
  for (const { id, at } of entries) moments.set(`entry ${id}`, moment(at, zone))
  const corrects = (key: string | null): string =>
    key === null || !moments.has(key) ? '' : `Corrects ${moments.get(key)}. `
  const done = logs.map((log) => ({
    at: log.writtenAt ?? log.finishedAt,
    when: moment(log.startedAt, zone),
    who: nameOf(log.personId),
    text: `${corrects(log.corrects && `log ${log.corrects}`)}${worked(records, log)}`,
  }))
  const written = entries.map((entry) => ({
    at: entry.at,
    when: moment(entry.at, zone),
    who: nameOf(entry.by),
    text: `${corrects(entry.corrects && `entry ${entry.corrects}`)}${entryText(entry, nameOf)}`,
  }))
  return [...done, ...written]
    .toSorted((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0))
    .map(({ when, who, text }) => ({ when, who, text }))
}

function worked(records: Records, log: RecordOf<'log'>): string {
  const technique = techniqueOf(records, log.techniqueId)?.name.toLowerCase() ?? log.techniqueId
  return sentences([
    `${log.minutes} min with ${technique}.`,
    log.closedBy === 'day' ? 'Closed by the next day, not by hand.' : '',
    log.movedRock === undefined ? '' : moved(log.movedRock),
    log.note,
    log.jar ? `${jarText(log.jar)}.` : '',
    log.despite ? `Asked about, and done all the same: ${log.despite}.` : '',
  ])
}

const moved = (isMoved: boolean): string => (isMoved ? 'It moved the rock.' : 'It did not move the rock.')

function entryText({ kind, text, detail }: RecordOf<'entry'>, nameOf: (id: string) => string): string {
  const { tool, setting, area, material, batch, strength, movedRock, agreed, jar, despite } = detail ?? {}
  const particulars = sentence([
    tool ?? '',
    setting === undefined ? '' : `set to ${setting}`,
    jar ? jarText(jar) : '',
    material ?? '',
    batch === undefined ? '' : `batch ${batch}`,
    strength ? strengthText(strength) : '',
    area === undefined ? '' : `at ${area}`,
    agreed === undefined ? '' : `agreed by ${agreed.map(nameOf).join(', ')}`,
  ])
  return sentences([
    kind === 'note' ? '' : `${capital(kind)}:`,
    text,
    particulars === '' ? '' : `(${particulars})`,
    movedRock === undefined ? '' : moved(movedRock),
    despite ? `Asked about, and done all the same: ${despite}.` : '',
  ])
}

function jarText({ material, solvent, strength, number, lot }: Jar): string {
  return sentence([
    solvent === '' ? material : `${material} in ${solvent.toLowerCase()}`,
    strength === null ? '' : strengthText(strength),
    `batch B ${number}`,
    lot === '' ? '' : `lot ${lot}`,
  ])
}

const conventions = { wv: '% w/v of finished solution', ww: '% w/w', per100ml: 'g in 100 ml of solvent' } as const

const strengthText = ({ amount, convention }: NonNullable<Jar['strength']>): string =>
  `${amount} ${conventions[convention]}`

function assessed(records: Records, one: RecordOf<'assessment'>): string {
  const ceiling = techniqueOf(records, one.forceCeiling)?.name.toLowerCase() ?? one.forceCeiling
  const ratings = `rock hardness ${one.rockHardness}, contrast ${one.contrast}, soundness ${one.soundness}, breakage ${one.breakage} of 5`
  return sentences([
    `${capital(one.why)}: ${sentence([one.element, one.taxon, ratings])};`,
    `shows ${one.exposedCm2} cm², to expose ${one.toExposeCm2} cm²; no stronger than ${ceiling}.`,
    one.stopLine === '' ? '' : `Stop line: ${one.stopLine}.`,
    one.note,
  ])
}

const housed = (one: RecordOf<'housing'>): string =>
  `${sentence([
    one.form === 'cradle' ? 'Cradle' : 'Two-part clamshell',
    one.materials.join(', '),
    one.liftPoints === '' ? '' : `lifted at ${one.liftPoints}`,
    one.side === '' ? '' : `${one.side} side to study`,
    `${one.massKg} kg with the specimen, ${one.isWeighed ? 'weighed' : 'estimated'}`,
    `made for ${one.bearsKg} kg`,
    one.shelf,
  ])}.`

const handed = (one: RecordOf<'custody'>): string =>
  `${sentence([
    one.to === 'lab' ? 'Back in the lab' : `To ${one.to}: ${one.holder}`,
    one.receivedBy === '' ? '' : `received by ${one.receivedBy}`,
    one.until === null ? '' : `until ${one.until}`,
    one.condition === '' ? '' : `condition: ${one.condition}`,
    one.missing.length === 0 ? '' : `signed although ${one.missing.length} missing: ${one.reason}`,
  ])}.`

function captionOf(photo: RecordOf<'photo'>, zone: string): string {
  const view = capital(photo.view)
  const words = sentence([
    photo.caption === '' ? view : `${view}: ${photo.caption}`,
    photo.scaleBarMm === null ? 'no scale bar' : `scale bar ${photo.scaleBarMm} mm`,
  ])
  return `${words}. ${photo.takenAt === null ? moment(photo.at, zone) : moment(photo.takenAt, zone)}`
}
