// Secrets that a browser or a link carries: 32 random bytes. Only their hash is kept, so that whoever reads the store
// or a backup can open nothing with it. A plain hash is enough for 256 random bits; PINs are another matter (pins.ts).
import { createHash } from 'node:crypto'
import type { Chance } from '../world.ts'

/** A new secret, as it stands in a cookie or a link. */
export const newToken = (chance: Chance): string => Buffer.from(chance.bytes(32)).toString('base64url')

/** The key a secret is kept under. */
export const keyOf = (token: string): string => createHash('sha256').update(token).digest('base64url')

/** True for text that can be one of our secrets; anything else is not worth a hash. */
export const isToken = (text: string): boolean => /^[\w-]{43}$/.test(text)
