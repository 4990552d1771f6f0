// Sentences for what the client and the gate themselves say, apart from any rule.
import type { Sentences } from './sentence.ts'

export const sessionSentences: Sentences = {
  'not-open': () => 'The board is still opening.',
  'changed-since': () => 'Somebody has changed this since, so it was not taken back.',
  'unknown-kind': () => 'This device runs an older or newer Talus than the server. Load the page again.',
  malformed: (_say, ids) =>
    ids.field
      ? `Something in “${fieldWords(ids.field)}” is missing, too long or not possible.`
      : 'Something is missing, too long or not possible.',
  fault: () => 'Something went wrong on the server while it looked at this. Nothing was changed.',
}

/** `jacket.rockHardness` as words: rock hardness. */
function fieldWords(path: string): string {
  const last = path.split('.').findLast((part) => !/^\d+$/.test(part)) ?? path
  return last
    .replace(/(H|Kg|M|Lpm|Dba|Ms2|Cm2|Pct)$/, '')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
}
