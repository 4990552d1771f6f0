// Comma separated values after RFC 4180, safe to open in a spreadsheet: a cell that one would take for a formula gets an
// apostrophe before it (CWE-1236), which `readSheet` of the import takes off again.

/** What a spreadsheet would reckon with, also behind spaces and in full-width letters, or behind such an apostrophe already. */
const formula = /^'*\s*[=+\-@\uff1d\uff0b\uff0d\uff20]/

/** One line with its end, CRLF. */
export const csvLine = (cells: readonly string[]): string => `${cells.map(cell).join(',')}\r\n`

function cell(text: string): string {
  const plain = formula.test(text) ? `'${text}` : text
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain
}

/** A number with a decimal point and without an exponent, letter by letter the same number again; empty for none. */
export function csvNumber(value: number | null | undefined): string {
  if (value === null || value === undefined) return ''
  const text = String(value)
  return text.includes('e') ? value.toFixed(20).replace(/\.?0+$/, '') : text
}
