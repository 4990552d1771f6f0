// A name for what a text says: the same text has it in every browser and year.

/** 128 bits of a text as 28 letters, the same everywhere: four 32-bit FNV-1a sums with different beginnings. */
export function hashOf(text: string): string {
  let [a, b, c, d] = [0x811c9dc5, 0x9e3779b9, 0x85ebca6b, 0xc2b2ae35]
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    a = Math.imul(a ^ code, 0x01000193)
    b = Math.imul(b ^ (code + 131), 0x01000193)
    c = Math.imul(c ^ (code + 262), 0x01000193)
    d = Math.imul(d ^ (code + 393), 0x01000193)
  }
  return [a, b, c, d].map((sum) => (sum >>> 0).toString(36).padStart(7, '0')).join('')
}
