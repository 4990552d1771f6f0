// A spreadsheet as jackets: read, told what its columns mean, planned. Nothing here changes a record.
export { columnsOf, type ImportField, importFields } from './columns.ts'
export { type Doubt, type ImportPlan, planImport } from './plan.ts'
export { readSheet, type SheetRead } from './read.ts'
export { type DateOrder, needsOrder, orderOf } from './values.ts'
