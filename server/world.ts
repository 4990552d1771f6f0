// What the server needs of the world: time, chance and a place for remarks. Everything that lives in time takes these
// as arguments, so that a simulation can run the real code over a clock and dice of its own.

/** Time that passes. */
export interface Clock {
  /** Milliseconds since 1970. */
  readonly now: () => number
  /** Runs once after `ms`; the result cancels it. */
  readonly after: (ms: number, run: () => void) => () => void
}

/** Dice that cannot be guessed, where a guess would matter (epochs, session keys). */
export interface Chance {
  readonly bytes: (count: number) => Uint8Array
}

/** A remark for whoever runs the server. Facts never hold private data. */
export type Log = (
  level: 'info' | 'warn' | 'error',
  what: string,
  facts?: Readonly<Record<string, string | number>>,
) => void

/** A short name that nobody can guess, of letters that are safe in an address. */
export function unguessable(chance: Chance, bytes = 12): string {
  return Array.from(chance.bytes(bytes), (byte) => byte.toString(36).padStart(2, '0')).join('')
}
