// The lab's pieces as rows for a spreadsheet. The backlog's columns are those that the import knows by name, so that the
// file comes in again as the jackets it was made of. Where a sealed jacket lies today, and whether it was chosen for the
// season, is the lab's business of the day and not in it.
import type { RecordOf } from '#lib/words'
import { csvLine, csvNumber } from './csv.ts'

type Jacket = RecordOf<'jacket'>
type Specimen = RecordOf<'specimen'>
type Column<T> = readonly [name: string, cell: (piece: T) => string | null | undefined]

const measures: readonly Column<Pick<Jacket, 'lengthM' | 'widthM' | 'heightM' | 'mass'>>[] = [
  ['Length (m)', ({ lengthM }) => csvNumber(lengthM)],
  ['Width (m)', ({ widthM }) => csvNumber(widthM)],
  ['Height (m)', ({ heightM }) => csvNumber(heightM)],
  ['Weight (kg)', ({ mass }) => csvNumber(mass.weighedKg)],
  ['Weighed on', ({ mass }) => mass.weighedOn],
  ['Estimate, low (kg)', ({ mass }) => csvNumber(mass.lowKg)],
  ['Estimate, high (kg)', ({ mass }) => csvNumber(mass.highKg)],
]

const ofJackets: readonly Column<Jacket>[] = [
  ['Field number', ({ fieldNumber }) => fieldNumber],
  ['n of N', ({ partOf }) => partOf && `${partOf.n} of ${partOf.total}`],
  ['Container', ({ container }) => container],
  ['Contents', ({ contents }) => contents],
  ['Locality', ({ locality }) => locality],
  ['Horizon', ({ horizon }) => horizon],
  ['Collector', ({ collector }) => collector],
  ['Collected on', ({ collectedOn }) => collectedOn],
  ['Shelf', ({ shelf }) => shelf],
  ['Stands despite', ({ standsDespite }) => standsDespite],
  ...measures,
  ['Rock', ({ mass }) => mass.from?.rock],
  ['Rock, low (kg/m3)', ({ mass }) => csvNumber(mass.from?.lowKgM3)],
  ['Rock, high (kg/m3)', ({ mass }) => csvNumber(mass.from?.highKgM3)],
  ['Plaster (mm)', ({ mass }) => csvNumber(mass.from?.plasterMm)],
  ['Rock hardness', ({ rockHardness }) => csvNumber(rockHardness)],
  ['Hazards', ({ hazards }) => hazards.join('; ')],
  ['Hazard note', ({ hazardNote }) => hazardNote],
  ['Face up', ({ faceUp }) => faceUp],
  ['Sketch', ({ sketchNote }) => sketchNote],
  ['Field notes', ({ fieldNotes }) => fieldNotes],
  ['Permit', ({ permit }) => permit],
  ['Owner', ({ owner }) => owner],
  ['Note', ({ note }) => note],
  ['Talus id', ({ id }) => id],
]

const ofSpecimens: readonly Column<Specimen>[] = [
  ['Number', ({ number }) => number],
  ['Catalogue number', ({ catalogueNumber }) => catalogueNumber],
  ['Name', ({ name }) => name],
  ['Taxon', ({ taxon }) => taxon],
  ['Element', ({ element }) => element],
  ['Locality', ({ locality }) => locality],
  ['Horizon', ({ horizon }) => horizon],
  ['Stage', ({ stage }) => stage],
  ['Stage since', ({ stageSince }) => stageSince],
  ['Purpose', ({ purpose }) => purpose],
  ['Side', ({ side }) => side],
  ['Shelf', ({ shelf }) => shelf],
  ...measures,
  ['With housing (kg)', ({ housedKg }) => csvNumber(housedKg)],
  ['Fragile', ({ fragile }) => fragile],
  ['Note', ({ note }) => note],
  ['Jacket’s Talus id', ({ jacketId }) => jacketId],
  ['Talus id', ({ id }) => id],
]

/** Rows of one kind: the line of names, and the line of a piece. */
export interface CsvForm<T> {
  readonly head: string
  readonly line: (piece: T) => string
}

const formOf = <T>(columns: readonly Column<T>[]): CsvForm<T> => ({
  head: csvLine(columns.map(([name]) => name)),
  line: (piece) => csvLine(columns.map(([, cell]) => cell(piece) ?? '')),
})

/** Sealed jackets, as the import takes them in again. */
export const backlogCsv = formOf(ofJackets)
/** Specimens, for reading and sorting elsewhere. */
export const specimensCsv = formOf(ofSpecimens)
