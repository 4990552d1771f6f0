// What stores must be able to hand to each other (carry.ts): their tables, row by row as they are kept. What is only derived
// (the index of subjects, the archive's words) is not among them; each store makes it anew.

type Column = 'text' | 'whole' | 'bytes'

export interface Table {
  readonly columns: Readonly<Record<string, Column>>
  /** Columns that name a row within its lab, in order. */
  readonly key: readonly string[]
  readonly isOfLab: boolean
}

/** What is kept, the same in every store; a lab's own rows without its number, which each store gives itself. */
export const tables = {
  entry: {
    columns: { seq: 'whole', id: 'text', kind: 'text', person: 'text', at: 'text', words: 'whole', body: 'text' },
    key: ['seq'],
    isOfLab: true,
  },
  record: {
    columns: { home: 'text', kind: 'text', id: 'text', words: 'whole', json: 'text' },
    key: ['home', 'kind', 'id'],
    isOfLab: true,
  },
  resting: {
    columns: { n: 'whole', id: 'text', number: 'text', words: 'whole', json: 'text' },
    key: ['n'],
    isOfLab: true,
  },
  text_update: {
    columns: { name: 'text', n: 'whole', client: 'whole', person: 'text', bytes: 'bytes' },
    key: ['name', 'n'],
    isOfLab: true,
  },
  text_base: {
    columns: { name: 'text', up_to: 'whole', epoch: 'text', holders: 'text', bytes: 'bytes' },
    key: ['name'],
    isOfLab: true,
  },
  door: {
    columns: { space: 'text', key: 'text', value: 'text', expires: 'whole' },
    key: ['space', 'key'],
    isOfLab: false,
  },
} as const satisfies Readonly<Record<string, Table>>
export type TableName = keyof typeof tables

export type Value = string | number | null | Uint8Array
/** Values in the order of the table's columns. */
export type Row = readonly Value[]

export interface PortableLab {
  readonly name: string
  readonly seq: number
  /** Numbers given to resting records so far. */
  readonly rests: number
}

/** A row for another store, with what it is found by there. */
export interface Carried {
  readonly row: Row
  /** Of an entry: whose history shows it. */
  readonly subjects: readonly string[]
  /** Of a resting record: its words. */
  readonly foundBy: string
}

export interface Portable {
  readonly labs: () => Promise<readonly PortableLab[]>
  /** Rows behind the one with this key, in the order of their keys; none at the end. Lab null for what is no lab's. */
  readonly page: (table: TableName, lab: string | null, after: Row | null) => Promise<readonly Row[]>
}

/** A store to be filled: all of it, or nothing. */
export interface Fillable extends Portable {
  /** Refuses when something is kept here. */
  readonly begin: () => Promise<void>
  readonly addLab: (lab: PortableLab) => Promise<void>
  readonly add: (table: TableName, lab: string | null, rows: readonly Carried[]) => Promise<void>
  readonly commit: () => Promise<void>
  /** Nothing of it shall be kept. */
  readonly drop: () => Promise<void>
}

/** Rows in one page. */
export const PAGE = 200

/** The columns by name. */
export const columnsOf = (table: TableName): readonly string[] => Object.keys(tables[table].columns)

/** The part of a row that names it. */
export const keyOf = (table: TableName, row: Row): Row => {
  const columns = columnsOf(table)
  return tables[table].key.map((name) => row[columns.indexOf(name)] ?? null)
}
