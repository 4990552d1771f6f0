// The lab's records as files for elsewhere. Nothing here reads or writes a file: records in, text out.
export { calendarOf } from './calendar.ts'
export { csvLine } from './csv.ts'
export {
  type DarwinTable,
  emlXml,
  type FoundPiece,
  headOf,
  lineOf,
  metaXml,
  occurrenceId,
  photoRow,
  photoTable,
  pieceTables,
} from './darwin-core.ts'
export { incidentsCsv } from './incidents.ts'
export { backlogCsv, type CsvForm, specimensCsv } from './pieces.ts'
export { type RecordForm, recordForm } from './record-form.ts'
