// A socket as the rooms see it, so that they run the same over the real one and over a simulated wire.

export interface Socket {
  /** Sends one whole frame; never throws. The bytes must not change afterwards: many sockets may share them. */
  readonly send: (frame: Uint8Array) => void
  /** Says goodbye properly; frames sent before still arrive. */
  readonly close: (code: number, reason: string) => void
  /** Ends at once, throwing away what is unsent. */
  readonly drop: () => void
  /** Bytes that the reader has not taken yet. */
  readonly unsentBytes: () => number
  /** One listener each; set before anything arrives. */
  readonly onMessage: (listener: (bytes: Uint8Array) => void) => void
  readonly onClose: (listener: () => void) => void
}

/** Close codes. The provider gives up for good on 4400–4499 and comes again by itself after any other. */
export const CLOSE = {
  stopping: 1012,
  again: 4100,
  badMessage: 4400,
  signedOut: 4401,
  notForYou: 4403,
  tooMuch: 4529,
} as const
