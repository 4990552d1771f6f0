/**
 * Reading and adding in Int32Array tables. The type checker cannot know that an index is in range, and a test of
 * every read would double the cost of the inner loops; these few functions hold the only casts, and they take one
 * array type so that the engine keeps them as single machine loads.
 */

/** The entry at `index`, which the caller knows to be inside the table. */
export function at(table: Int32Array, index: number): number {
  // In range by the caller's construction of its tables.
  return table[index] as number
}

/** Adds `amount` to the entry at `index`. */
export function add(table: Int32Array, index: number, amount: number): void {
  // In range by the caller's construction of its tables.
  table[index] = (table[index] as number) + amount
}

/** The entry of a table of doubles; kept apart from `at` so that each stays one machine load. */
export function atDouble(table: Float64Array, index: number): number {
  // In range by the caller's construction of its tables.
  return table[index] as number
}
