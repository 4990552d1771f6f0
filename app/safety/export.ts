// Incidents as a file for the safety officer: RFC 4180, with cells that a spreadsheet would take for a formula made plain.
import type { RecordOf, Records } from '#lib/words'

const columns = ['id', 'kind', 'date', 'place', 'what', 'done', 'told by', 'told at', 'corrects'] as const

/** One line for each, a heading first, CRLF between. */
export function incidentsAsCsv(incidents: readonly RecordOf<'incident'>[], records: Records): string {
  const lines = incidents.map((one) => [
    one.id,
    one.kind,
    one.date,
    one.placeId === null ? '' : (records.place.get(one.placeId)?.code ?? ''),
    one.what,
    one.done,
    records.person.get(one.by)?.name ?? '',
    one.at,
    one.corrects ?? '',
  ])
  return [columns, ...lines].map((line) => line.map(cell).join(',')).join('\r\n')
}

function cell(text: string): string {
  const plain = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain
}
