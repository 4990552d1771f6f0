// The lab's records as files for elsewhere. Nothing here reads or writes a file: records in, text out.
export { type ExportLine, LINES_FORMAT, parseLine, schemaLines } from './lines.ts'
