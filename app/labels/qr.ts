// A QR code (ISO/IEC 18004) as one path: a square for each dark module, with the quiet zone of four modules that a
// scanner needs. Level M: a label gets dusty, and 15 % of it may be unreadable.
import { encode } from 'uqr'

const QUIET_MODULES = 4

/** The path of the dark modules in a square of `size` modules, quiet zone included. */
export function qrPath(text: string): { readonly size: number; readonly path: string } {
  const { data, size } = encode(text, { ecc: 'M', border: QUIET_MODULES })
  const squares = data.flatMap((row, y) => row.flatMap((isDark, x) => (isDark ? `M${x} ${y}h1v1h-1z` : [])))
  return { size, path: squares.join('') }
}
