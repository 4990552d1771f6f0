// The shape every act has: who may, judge (findings, empty when it may be), apply (changes), and where it can be taken
// back, the op that does so. The same code judges early in the browser and with authority at the gate.
import type { Change, Finding, Home, OpId, PersonId, Records, Role } from '#lib/words'
import type { Op, OpKind, OpOf } from './shapes/index.ts'

/**
 * Who acts: from the connection, never from the message. `system` is the server itself and may do what its code does;
 * it and the wall carry their role's name in place of a person's id.
 */
export type Who = { readonly personId: PersonId; readonly role: Role | 'system' }

/** When an op takes effect: the server's clock at the gate; the browser's own guess in the early view. */
export type When = {
  /** ISO instant in UTC. */
  readonly at: string
  /** The lab's local date and minute of the day at that instant. */
  readonly date: string
  readonly minute: number
}

/**
 * A home beyond board and office that must be loaded first; `id` names one record of the archive. What is `gateOnly` is
 * read to see that nothing recorded is overwritten: a judgement without it is only milder, so a screen need not wait.
 */
export type Need = { readonly home: Home; readonly id?: string; readonly gateOnly?: true }

/** One act of the lab. */
export type OpDef<K extends OpKind> = {
  readonly kind: K
  /** Roles that may do this at all; judge may narrow it further (own work only). */
  readonly roles: readonly Role[]
  /** True when an edit may make a posted turn unlawful: then the days from today on are judged with it in place. */
  readonly keepsDays?: true
  /** Homes beyond board and office that judge or apply reads; the server loads them first. */
  readonly needs?: (records: Records, op: OpOf<K>) => readonly Need[]
  /** Findings that stand against the op on these records; empty when it may be done. */
  readonly judge: (records: Records, op: OpOf<K>, who: Who, when: When) => readonly Finding[]
  /** The changes the op makes; called only when judge found nothing. */
  readonly apply: (records: Records, op: OpOf<K>, who: Who, when: When) => readonly Change[]
  /** The op that takes this one back, computed on the records before it; null when it cannot be. `id` is the new op's. */
  readonly inverse?: (records: Records, op: OpOf<K>, id: OpId, who: Who) => Op | null
}

/** Declares an op; only there to infer the types. */
export function defineOp<K extends OpKind>(def: OpDef<K>): OpDef<K> {
  return def
}

const manager: readonly Role[] = ['manager']
const staff: readonly Role[] = ['manager', 'preparator']
const crew: readonly Role[] = ['manager', 'preparator', 'volunteer']
const everybody: readonly Role[] = ['manager', 'preparator', 'volunteer', 'researcher']

/** The sets of roles the acts are open to; the wall only reads. */
export const by = { manager, staff, crew, everybody } as const
