// What volunteer hours amount to in posts: 2 080 h a year are one full-time equivalent (52 weeks of 40 h, the usual US
// count; 203 510 h are reported as 97.8, GSA 2007 abstract 128905).
import type { Hours } from './units.ts'

const POST_HOURS_A_YEAR: Hours = 2080

/** Full-time equivalents of hours given over so many years. */
export function fullTimeEquivalent(hours: Hours, years: number): number {
  return hours / (POST_HOURS_A_YEAR * years)
}
