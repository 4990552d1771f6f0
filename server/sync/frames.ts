// What travels on a socket: y-protocols' frames, and beside them our JSON messages in a frame of their own. Encoding
// is done once per message, not once per reader.
import * as decoding from 'lib0/decoding'
import * as encoding from 'lib0/encoding'
import { type ServerMessage, TALUS_FRAME } from '#lib/words'

export type Frame = Uint8Array

/** y-protocols' frame types. Nobody asks for presence: whoever comes is shown it. */
const SYNC = 0
const AWARENESS = 1
const AUTH = 2

const STEP_1 = 0
const STEP_2 = 1
const UPDATE = 2

/** What a client's frame says. */
export type Said =
  | { readonly what: 'step 1'; readonly stateVector: Uint8Array }
  /** Step 2 answers our step 1, an update comes unasked; both carry what the client has. */
  | { readonly what: 'update'; readonly update: Uint8Array }
  | { readonly what: 'awareness'; readonly update: Uint8Array }
  | { readonly what: 'message'; readonly text: string }

/** Reads a frame; throws on anything that is not one. */
export function readFrame(bytes: Uint8Array): Said {
  const decoder = decoding.createDecoder(bytes)
  const said = readOne(decoder)
  if (decoding.hasContent(decoder)) throw new Error('bytes after the frame')
  return said
}

function readOne(decoder: decoding.Decoder): Said {
  const type = decoding.readVarUint(decoder)
  switch (type) {
    case SYNC: {
      const step = decoding.readVarUint(decoder)
      const bytes = decoding.readVarUint8Array(decoder)
      if (step === STEP_1) return { what: 'step 1', stateVector: bytes }
      if (step === STEP_2 || step === UPDATE) return { what: 'update', update: bytes }
      throw new Error(`sync step ${step}`)
    }
    case AWARENESS:
      return { what: 'awareness', update: decoding.readVarUint8Array(decoder) }
    case TALUS_FRAME:
      return { what: 'message', text: decoding.readVarString(decoder) }
    default:
      throw new Error(type === AUTH ? 'auth frame' : `frame type ${type}`)
  }
}

function syncFrame(step: number, bytes: Uint8Array): Frame {
  const encoder = encoding.createEncoder()
  encoding.writeVarUint(encoder, SYNC)
  encoding.writeVarUint(encoder, step)
  encoding.writeVarUint8Array(encoder, bytes)
  return encoding.toUint8Array(encoder)
}

/** Asks for what the other side has beyond a state vector. */
export const step1Frame = (stateVector: Uint8Array): Frame => syncFrame(STEP_1, stateVector)
/** Answers step 1. */
export const step2Frame = (update: Uint8Array): Frame => syncFrame(STEP_2, update)
export const updateFrame = (update: Uint8Array): Frame => syncFrame(UPDATE, update)

/** One message of ours. */
export function messageFrame(message: ServerMessage): Frame {
  const encoder = encoding.createEncoder()
  encoding.writeVarUint(encoder, TALUS_FRAME)
  encoding.writeVarString(encoder, JSON.stringify(message))
  return encoding.toUint8Array(encoder)
}

/** One person's presence as it travels; a null state says goodbye. */
export interface AwarenessState {
  readonly client: number
  readonly clock: number
  readonly json: string
}

export function awarenessFrame(states: Iterable<AwarenessState>): Frame {
  const list = [...states]
  const inner = encoding.createEncoder()
  encoding.writeVarUint(inner, list.length)
  for (const { client, clock, json } of list) {
    encoding.writeVarUint(inner, client)
    encoding.writeVarUint(inner, clock)
    encoding.writeVarString(inner, json)
  }
  const encoder = encoding.createEncoder()
  encoding.writeVarUint(encoder, AWARENESS)
  encoding.writeVarUint8Array(encoder, encoding.toUint8Array(inner))
  return encoding.toUint8Array(encoder)
}

/** Says nothing: keeps a quiet connection from being given up by the client, which waits half a minute. */
export const quietFrame: Frame = awarenessFrame([])

/** Reads the states of an awareness update; throws on anything that is not one. */
export function readAwareness(update: Uint8Array, statesMax: number): readonly AwarenessState[] {
  const decoder = decoding.createDecoder(update)
  const count = decoding.readVarUint(decoder)
  if (count > statesMax) throw new Error(`${count} awareness states`)
  const states: AwarenessState[] = []
  for (let i = 0; i < count; i++) {
    const client = decoding.readVarUint(decoder)
    const clock = decoding.readVarUint(decoder)
    states.push({ client, clock, json: decoding.readVarString(decoder) })
  }
  return states
}
