// Incidents as a file for the safety officer.
import { csvLine } from '#lib/export'
import type { RecordOf, Records } from '#lib/words'

const columns = [
  'id',
  'kind',
  'date',
  'place',
  'piece',
  'about',
  'what',
  'done',
  'told by',
  'told at',
  'corrects',
] as const

/** One line for each, a heading first. */
export function incidentsAsCsv(incidents: readonly RecordOf<'incident'>[], records: Records): string {
  const nameOf = (id: string | null) => (id === null ? '' : (records.person.get(id)?.name ?? ''))
  const numberOf = (id: string | null) =>
    id === null ? '' : (records.specimen.get(id)?.number ?? records.jacket.get(id)?.fieldNumber ?? id)
  const lines = incidents.map((one) => [
    one.id,
    one.kind,
    one.date,
    one.placeId === null ? '' : (records.place.get(one.placeId)?.code ?? ''),
    numberOf(one.pieceId),
    nameOf(one.personId),
    one.what,
    one.done,
    nameOf(one.by),
    one.at,
    one.corrects ?? '',
  ])
  return [columns, ...lines].map(csvLine).join('')
}
