// How a piece would be lifted by hand, as it was measured. Only the inputs are kept, with the version of the formula they were
// first put into: what the equation says of them, or that it does not apply, is computed whenever it is shown.
import * as z from 'zod/mini'
import { Instant, OptionalLine, PersonId, PieceId, RecordId } from './atoms.ts'

/** What puts a lift outside the equation beside its measures (NIOSH 94-110 rev. 9/2021, p. 6). */
export const LiftManner = z.enum(['one hand', 'seated', 'kneeling', 'unstable', 'restricted'])

/** One way of lifting a piece. Never changed or removed; the latest is shown first. */
export const Lift = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  /** Version of the lifting formulas when it was measured; see `LIFT_FORMULA`. */
  formula: z.int().check(z.gte(1)),
  loadKg: z.number().check(z.gt(0), z.lte(10_000)),
  /** Hands from the point between the ankles, hands above the floor at the start, and how far up or down. */
  hCm: z.number().check(z.gte(0), z.lte(300)),
  vCm: z.number().check(z.gte(0), z.lte(300)),
  dCm: z.number().check(z.gte(0), z.lte(300)),
  angleDeg: z.number().check(z.gte(0), z.lte(180)),
  perMinute: z.number().check(z.gte(0), z.lte(60)),
  durationH: z.number().check(z.gt(0), z.lte(24)),
  coupling: z.enum(['good', 'fair', 'poor']),
  persons: z.int().check(z.gte(1), z.lte(12)),
  manner: z.array(LiftManner).check(z.maxLength(5)),
  note: OptionalLine,
  by: PersonId,
  at: Instant,
})
export type Lift = z.infer<typeof Lift>
