// Incidents and near misses as a spreadsheet for the safety officer.
import type { RecordOf, Records } from '#lib/words'
import { csvLine } from './csv.ts'

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

/** One line for each, a heading first; people under the name that the records have for them today, also after they left. */
export function incidentsCsv(incidents: readonly RecordOf<'incident'>[], records: Records): string {
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
