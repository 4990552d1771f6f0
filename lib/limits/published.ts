// Published limits as data: each belongs to a jurisdiction, an edition and a date, and one substance has as many limits
// as there are regulators. A lab's own limits are its settings; this table is what they are compared with and chosen
// from. `isRead` false marks a value that was set down from memory and wants a look at the source before it is relied on.
import { CRITERION_DBA } from './noise.ts'
import { VIBRATION_ACTION_MS2, VIBRATION_LIMIT_MS2 } from './vibration.ts'

type Jurisdiction = 'eu' | 'uk' | 'us-osha' | 'us-niosh' | 'us-acgih' | 'us-ca'

export interface Edition {
  readonly jurisdiction: Jurisdiction
  /** As one would cite it. */
  readonly title: string
  /** Year or date from which this text holds, ISO 8601. */
  readonly date: string
}

/** The texts that limits are taken from. */
export const EDITIONS = {
  'eu-vibration': { jurisdiction: 'eu', title: 'Directive 2002/44/EC, Article 3(1)', date: '2002-06-25' },
  'uk-vibration': { jurisdiction: 'uk', title: 'Control of Vibration at Work Regulations 2005, reg. 4', date: '2005' },
  'eu-noise': { jurisdiction: 'eu', title: 'Directive 2003/10/EC, Article 3', date: '2003-02-06' },
  'uk-noise': { jurisdiction: 'uk', title: 'Control of Noise at Work Regulations 2005, reg. 4', date: '2005' },
  'osha-noise': { jurisdiction: 'us-osha', title: '29 CFR 1910.95(b), (c) and Table G-16', date: '1983' },
  'niosh-noise': { jurisdiction: 'us-niosh', title: 'NIOSH 98-126, section 1.1', date: '1998' },
  'osha-silica': { jurisdiction: 'us-osha', title: '29 CFR 1910.1053(b), (c)', date: '2016-03-25' },
  'niosh-silica': { jurisdiction: 'us-niosh', title: 'NIOSH 2002-129', date: '2002' },
  'uk-eh40': { jurisdiction: 'uk', title: 'EH40/2005, 4th edition', date: '2020' },
  'eu-silica': { jurisdiction: 'eu', title: 'Directive (EU) 2017/2398, Annex III', date: '2017-12-12' },
  'eu-solvents': { jurisdiction: 'eu', title: 'Directive 2000/39/EC, Annex', date: '2000-06-08' },
  acgih: { jurisdiction: 'us-acgih', title: 'ACGIH threshold limit values', date: '2020' },
  'osha-z': { jurisdiction: 'us-osha', title: '29 CFR 1910.1000, Tables Z-1 and Z-2', date: '1993' },
  'niosh-solvents': { jurisdiction: 'us-niosh', title: 'NIOSH recommended exposure limits', date: '2007' },
  'ca-ac1': { jurisdiction: 'us-ca', title: '8 CCR 5155, Table AC-1', date: '2020' },
} as const satisfies Readonly<Record<string, Edition>>

type EditionId = keyof typeof EDITIONS

/** What a limit asks for: an action level starts a programme, a limit is not to be passed, a ceiling not for a moment. */
type LimitKind = 'lower-action' | 'action' | 'limit' | 'short-term' | 'ceiling'

type LimitUnit = 'm/s² A(8)' | 'points' | 'dB(A)' | 'dB(C) peak' | '% dose' | 'ppm' | 'mg/m³' | 'µg/m³'

export interface PublishedLimit {
  /** Agent or substance; English names as in the tables. */
  readonly agent: string
  readonly kind: LimitKind
  readonly value: number
  readonly unit: LimitUnit
  /** Averaged over so many hours; 0 for a ceiling or a peak. */
  readonly overH: number
  readonly edition: EditionId
  readonly isRead: boolean
}

type Row = readonly [
  agent: string,
  kind: LimitKind,
  value: number,
  unit: LimitUnit,
  overH: number,
  edition: EditionId,
  isRead: boolean,
]

const QUARTER_HOUR = 0.25

const ROWS: readonly Row[] = [
  ['hand-arm vibration', 'action', VIBRATION_ACTION_MS2, 'm/s² A(8)', 8, 'eu-vibration', true],
  ['hand-arm vibration', 'limit', VIBRATION_LIMIT_MS2, 'm/s² A(8)', 8, 'eu-vibration', true],
  ['hand-arm vibration', 'action', VIBRATION_ACTION_MS2, 'm/s² A(8)', 8, 'uk-vibration', true],
  ['hand-arm vibration', 'limit', VIBRATION_LIMIT_MS2, 'm/s² A(8)', 8, 'uk-vibration', true],
  ['hand-arm vibration', 'action', 100, 'points', 8, 'uk-vibration', true],
  ['hand-arm vibration', 'limit', 400, 'points', 8, 'uk-vibration', true],

  ['noise', 'lower-action', 80, 'dB(A)', 8, 'eu-noise', true],
  ['noise', 'action', 85, 'dB(A)', 8, 'eu-noise', true],
  ['noise', 'limit', 87, 'dB(A)', 8, 'eu-noise', true],
  ['noise', 'lower-action', 135, 'dB(C) peak', 0, 'eu-noise', true],
  ['noise', 'action', 137, 'dB(C) peak', 0, 'eu-noise', true],
  ['noise', 'limit', 140, 'dB(C) peak', 0, 'eu-noise', true],
  ['noise', 'lower-action', 80, 'dB(A)', 8, 'uk-noise', true],
  ['noise', 'action', 85, 'dB(A)', 8, 'uk-noise', true],
  ['noise', 'limit', 87, 'dB(A)', 8, 'uk-noise', true],
  ['noise', 'lower-action', 135, 'dB(C) peak', 0, 'uk-noise', true],
  ['noise', 'action', 137, 'dB(C) peak', 0, 'uk-noise', true],
  ['noise', 'limit', 140, 'dB(C) peak', 0, 'uk-noise', true],
  ['noise', 'action', 85, 'dB(A)', 8, 'osha-noise', true],
  ['noise', 'action', 50, '% dose', 8, 'osha-noise', true],
  ['noise', 'limit', CRITERION_DBA.osha, 'dB(A)', 8, 'osha-noise', true],
  ['noise', 'ceiling', 115, 'dB(A)', 0, 'osha-noise', true],
  ['noise', 'limit', CRITERION_DBA.niosh, 'dB(A)', 8, 'niosh-noise', true],
  ['noise', 'ceiling', 140, 'dB(A)', 0, 'niosh-noise', false],

  ['respirable crystalline silica', 'action', 25, 'µg/m³', 8, 'osha-silica', true],
  ['respirable crystalline silica', 'limit', 50, 'µg/m³', 8, 'osha-silica', true],
  ['respirable crystalline silica', 'limit', 50, 'µg/m³', 10, 'niosh-silica', false],
  ['respirable crystalline silica', 'limit', 100, 'µg/m³', 8, 'uk-eh40', false],
  ['respirable crystalline silica', 'limit', 100, 'µg/m³', 8, 'eu-silica', false],
  ['respirable crystalline silica', 'limit', 25, 'µg/m³', 8, 'acgih', false],
  ['particulates not otherwise regulated, total', 'limit', 15, 'mg/m³', 8, 'osha-z', false],
  ['particulates not otherwise regulated, respirable', 'limit', 5, 'mg/m³', 8, 'osha-z', false],
  ['plaster of Paris, gypsum, limestone, total', 'limit', 15, 'mg/m³', 8, 'osha-z', false],
  ['plaster of Paris, gypsum, limestone, respirable', 'limit', 5, 'mg/m³', 8, 'osha-z', false],

  ['acetone', 'limit', 1000, 'ppm', 8, 'osha-z', true],
  ['acetone', 'limit', 250, 'ppm', 10, 'niosh-solvents', true],
  ['acetone', 'limit', 250, 'ppm', 8, 'acgih', true],
  ['acetone', 'limit', 500, 'ppm', 8, 'eu-solvents', true],
  ['acetone', 'limit', 500, 'ppm', 8, 'uk-eh40', true],
  ['acetone', 'short-term', 1500, 'ppm', QUARTER_HOUR, 'uk-eh40', false],
  ['acetone', 'limit', 500, 'ppm', 8, 'ca-ac1', true],
  ['acetone', 'short-term', 750, 'ppm', QUARTER_HOUR, 'ca-ac1', true],
  ['acetone', 'ceiling', 3000, 'ppm', 0, 'ca-ac1', true],
  ['acetic acid', 'limit', 10, 'ppm', 8, 'osha-z', true],
  ['acetic acid', 'limit', 10, 'ppm', 8, 'uk-eh40', false],
  ['acetic acid', 'short-term', 20, 'ppm', QUARTER_HOUR, 'uk-eh40', false],
  ['acetic acid', 'limit', 10, 'ppm', 8, 'ca-ac1', true],
  ['acetic acid', 'short-term', 15, 'ppm', QUARTER_HOUR, 'ca-ac1', true],
  ['acetic acid', 'ceiling', 40, 'ppm', 0, 'ca-ac1', true],
  ['formic acid', 'limit', 5, 'ppm', 8, 'osha-z', false],
  ['formic acid', 'limit', 5, 'ppm', 8, 'uk-eh40', false],
  ['ethanol', 'limit', 1000, 'ppm', 8, 'osha-z', true],
  ['ethanol', 'limit', 1000, 'ppm', 8, 'uk-eh40', false],
  ['isopropanol', 'limit', 400, 'ppm', 8, 'osha-z', true],
  ['methanol', 'limit', 200, 'ppm', 8, 'osha-z', true],
  ['2-butanone (MEK)', 'limit', 200, 'ppm', 8, 'osha-z', false],
  ['ethyl acetate', 'limit', 400, 'ppm', 8, 'osha-z', false],
  ['toluene', 'limit', 200, 'ppm', 8, 'osha-z', true],
  ['toluene', 'ceiling', 300, 'ppm', 0, 'osha-z', false],
  ['toluene', 'limit', 50, 'ppm', 8, 'uk-eh40', false],
  ['toluene', 'short-term', 100, 'ppm', QUARTER_HOUR, 'uk-eh40', false],
  ['xylenes', 'limit', 100, 'ppm', 8, 'osha-z', false],
  ['ethyl cyanoacrylate', 'short-term', 0.3, 'ppm', QUARTER_HOUR, 'uk-eh40', false],
]

/** All of them, in the order of agents. */
export const PUBLISHED_LIMITS: readonly PublishedLimit[] = ROWS.map(
  ([agent, kind, value, unit, overH, edition, isRead]) => ({ agent, kind, value, unit, overH, edition, isRead }),
)
