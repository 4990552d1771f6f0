// What client and server say to each other beside the Yjs sync: edits (ops), receipts, refusals, and questions that
// are answered by computing (draw up, search). Every message is JSON inside one y-protocols frame of type TALUS_FRAME.
import * as z from 'zod/mini'
import { OpId, PersonId, Role } from './atoms.ts'

/** Version of this protocol; a client of another version is told to reload. */
export const PROTOCOL_VERSION = 1
/** Frame type beside y-protocols' 0 sync, 1 awareness, 2 auth and 3 query awareness (the last two are not used). */
export const TALUS_FRAME = 64

/** Why an edit was refused, or what would be: no language here, app/_text makes the sentence. */
export const Finding = z.strictObject({
  /** Rule of product.md section 6 (R1–R8), or O for an op's own condition. */
  rule: z.enum(['R1', 'R2', 'R3', 'R4', 'R5', 'R6', 'R7', 'R8', 'O']),
  /** What exactly, as a stable code: `seat-taken`. */
  code: z.string().check(z.maxLength(60)),
  /** Records named in the sentence, by their part in it: `{ person: id, place: id }`. */
  ids: z.record(z.string(), z.string()),
  /** Figures in the sentence. */
  numbers: z.record(z.string(), z.number()),
})
export type Finding = z.infer<typeof Finding>

/** Makes a finding; figures and ids are optional. */
export function finding(
  rule: Finding['rule'],
  code: string,
  ids: Readonly<Record<string, string>> = {},
  numbers: Readonly<Record<string, number>> = {},
): Finding {
  return { rule, code, ids: { ...ids }, numbers: { ...numbers } }
}

/** Client to server. Ops are parsed one by one by the gate, so that one bad op does not take the others with it. */
export const ClientMessage = z.discriminatedUnion('type', [
  z.strictObject({
    type: z.literal('ops'),
    ops: z.array(z.unknown()).check(z.minLength(1), z.maxLength(100)),
  }),
  /** A question answered by computing; `what` names it, `body` is parsed by whoever answers. */
  z.strictObject({
    type: z.literal('ask'),
    ask: z.string().check(z.maxLength(40)),
    what: z.string().check(z.maxLength(40)),
    body: z.unknown(),
  }),
  z.strictObject({ type: z.literal('stop'), ask: z.string().check(z.maxLength(40)) }),
])
export type ClientMessage = z.infer<typeof ClientMessage>

/** Server to client. */
export const ServerMessage = z.discriminatedUnion('type', [
  /** First word on each connection; a client that holds another epoch drops its copy and takes this one whole. */
  z.strictObject({
    type: z.literal('hello'),
    version: z.int(),
    epoch: z.string(),
    build: z.string(),
    personId: z.nullable(PersonId),
    role: Role,
    lab: z.string(),
    at: z.string(),
  }),
  /** Durable on disk. */
  z.strictObject({
    type: z.literal('kept'),
    items: z.array(z.strictObject({ id: OpId, seq: z.int(), at: z.string() })),
  }),
  z.strictObject({
    type: z.literal('refused'),
    items: z.array(z.strictObject({ id: z.string(), findings: z.array(Finding) })),
  }),
  z.strictObject({
    type: z.literal('answer'),
    ask: z.string(),
    body: z.unknown(),
    done: z.boolean(),
  }),
  /** The store cannot keep anything now (`read-only`), or is well again (`well`). */
  z.strictObject({
    type: z.literal('state'),
    state: z.enum(['well', 'read-only']),
  }),
  z.strictObject({
    type: z.literal('bye'),
    reason: z.enum(['signed-out', 'role-changed', 'stopping', 'bad-message', 'too-much']),
  }),
])
export type ServerMessage = z.infer<typeof ServerMessage>

/** All that a client may rely on in the hello of another version, older or newer than its own. */
const AnyHello = z.object({ type: z.literal('hello'), version: z.int() })

/**
 * Reads what the server said; null for what is no message of ours. A hello of another version is read as that version and
 * nothing else, whatever it has come to hold: a tab that stayed open over an upgrade, or over the way back, must understand
 * at least that it has to reload.
 */
export function readServerMessage(value: unknown): ServerMessage | null {
  const { data: hello } = AnyHello.safeParse(value)
  if (hello && hello.version !== PROTOCOL_VERSION)
    return { ...hello, epoch: '', build: '', personId: null, role: 'wall', lab: '', at: '' }
  return ServerMessage.safeParse(value).data ?? null
}
