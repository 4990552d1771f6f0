// The shape every act has: one schema, who may, judge (findings, empty when it may be), apply (changes), and where it
// can be taken back, the op that does so. The same code judges early in the browser and with authority at the gate.
import type { z } from 'zod'
import { type Change, type Finding, type Home, OpId, type PersonId, type Records, type Role } from '#lib/words'

/** Who acts: from the connection, never from the message. */
export type Who = { readonly personId: PersonId; readonly role: Role }

/** When an op takes effect: the server's clock at the gate; the browser's own guess in the early view. */
export type When = {
  /** ISO instant in UTC. */
  readonly at: string
  /** The lab's local date and minute of the day at that instant. */
  readonly date: string
  readonly minute: number
}

/** Fields of every op. */
export const opFields = { id: OpId }

export type OpSchema = z.ZodObject<{
  id: typeof OpId
  kind: z.ZodLiteral<string>
}>

/** One act of the lab. `O` is the parsed op. */
export type OpDef<
  S extends z.ZodType<{ id: OpId; kind: string }> = z.ZodType<{
    id: OpId
    kind: string
  }>,
> = {
  readonly kind: z.infer<S>['kind']
  readonly schema: S
  /** Roles that may do this at all; judge may narrow it further (own work only). */
  readonly roles: readonly Role[]
  /** Homes beyond board and office that judge or apply reads; the server loads them first. */
  readonly needs?: (op: z.infer<S>) => readonly Home[]
  /** Findings that stand against the op on these records; empty when it may be done. */
  readonly judge: (records: Records, op: z.infer<S>, who: Who, when: When) => readonly Finding[]
  /** The changes the op makes; called only when judge found nothing. */
  readonly apply: (records: Records, op: z.infer<S>, who: Who, when: When) => readonly Change[]
  /** The op that takes this one back, computed on the records before it; null when it cannot be. `id` is the new op's. */
  readonly inverse?: (records: Records, op: z.infer<S>, id: OpId) => { id: OpId; kind: string } | null
  /** Ids of pieces, people and places whose history should show this op. */
  readonly subjects: (op: z.infer<S>) => readonly string[]
}

/** Declares an op; only there to infer the types. */
export function defineOp<S extends z.ZodType<{ id: OpId; kind: string }>>(def: OpDef<S>): OpDef<S> {
  return def
}
