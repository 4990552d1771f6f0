// Frames that no honest client sends, each with what the server owes for it. What is owed is worked out from the frame
// itself where chance made it: one that cannot be read ends its connection with a reason, each act in one that can is
// answered, and what the protocol lets pass in silence is owed nothing.
import * as encoding from 'lib0/encoding'
import * as Y from 'yjs'
import type { Random } from '#lib/base'
import { ClientMessage, TALUS_FRAME } from '#lib/words'
import { readAwareness, readFrame } from '../../server/sync/frames.ts'

type Owed = { readonly ends: true } | { readonly ends?: false; readonly answers: number }

export interface Shot {
  readonly kind: string
  readonly bytes: Uint8Array
  readonly owed: Owed
  /** Sent so many times in a row, without waiting. */
  readonly times?: number
}

export interface Scene {
  readonly place: 'board' | `sheet/${string}` | `text/${string}`
  readonly random: Random
  /** Ids of acts that honest people sent lately. */
  readonly honestIds: readonly string[]
  readonly people: readonly string[]
  readonly pieces: readonly string[]
  /** Yjs client ids and clocks seen in the text. */
  readonly authors: ReadonlyMap<number, number>
}

const ends = { ends: true } as const
const silence = { answers: 0 } as const
/** Frames in a flood: more than a connection may send at once. */
const FLOOD = 1000
const LONG = 1024 * 1024

const frame = (write: (encoder: encoding.Encoder) => void): Uint8Array => {
  const encoder = encoding.createEncoder()
  write(encoder)
  return encoding.toUint8Array(encoder)
}
const messageFrame = (message: unknown): Uint8Array =>
  frame((encoder) => {
    encoding.writeVarUint(encoder, TALUS_FRAME)
    encoding.writeVarString(encoder, typeof message === 'string' ? message : JSON.stringify(message))
  })
const syncFrame = (step: number, bytes: Uint8Array) =>
  frame((encoder) => {
    encoding.writeVarUint(encoder, 0)
    encoding.writeVarUint(encoder, step)
    encoding.writeVarUint8Array(encoder, bytes)
  })
const presenceFrame = (write: (encoder: encoding.Encoder) => void) =>
  frame((encoder) => {
    encoding.writeVarUint(encoder, 1)
    encoding.writeVarUint8Array(encoder, frame(write))
  })

/** What the server owes for any bytes at all; null when that depends on what it holds. */
function owedFor(bytes: Uint8Array, place: Scene['place']): Owed | null {
  let said: ReturnType<typeof readFrame>
  try {
    said = readFrame(bytes)
  } catch {
    return ends
  }
  switch (said.what) {
    case 'step 1':
      return null
    case 'update':
      return place.startsWith('text/') ? null : silence
    case 'awareness':
      if (place !== 'board') return ends
      try {
        readAwareness(said.update, 5_000)
        return silence
      } catch {
        return ends
      }
    case 'message': {
      const message = place === 'board' ? ClientMessage.safeParse(parse(said.text)) : null
      if (!message?.success) return ends
      return { answers: message.data.type === 'ops' ? message.data.ops.length : message.data.type === 'ask' ? 1 : 0 }
    }
    default:
      return said satisfies never
  }
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}

/** Letters of many scripts, joiners, overrides, surrogates, controls, look-alikes. */
const oddities = [
  'Åse',
  'Łódź',
  '李四',
  'ابن سينا',
  'דוד',
  'ไทย',
  'नाम',
  'ꦗꦮ',
  '𐍈𐌰𐌽',
  'e\u0301\u0301\u0301',
  '👩‍🔬',
  '\u202eevil',
  '\u2066x\u2069',
  '\ufeff',
  '\u0000',
  '\u0007',
  '\ud800',
  '\u200b\u200d',
  '<script>alert(1)</script>',
  '{{7*7}}',
  "'; DROP TABLE entry; --",
  '../../etc/passwd',
  '%00',
  '\u2028',
  'раура1',
  '__proto__',
  'constructor',
  'a'.repeat(9000),
  '\r\nset-cookie: a=b',
  '$'.concat('{7*7}'),
  '=1+1',
]
export const oddity = (random: Random): string => oddities[random.below(oddities.length)] ?? ''

type Maker = (scene: Scene) => Shot

const bytesOf = (random: Random, length: number) => Uint8Array.from({ length }, () => random.below(256))
const pick = <T>(random: Random, list: readonly T[], otherwise: T): T => list[random.below(list.length)] ?? otherwise
let made = 0
const freshId = ({ random }: Scene) => `h${(made++).toString(36)}${random.word().toString(36)}`

const acts = (kind: string, ops: readonly unknown[]): Shot => ({
  kind,
  bytes: messageFrame({ type: 'ops', ops }),
  owed: { answers: ops.length },
})

/** An act for managers and preparators, from somebody who is neither. */
function forbiddenAct(scene: Scene): { id: string; kind: string } & Record<string, unknown> {
  const { random, people, pieces } = scene
  const [id, personId, pieceId] = [freshId(scene), pick(random, people, 'x'), pick(random, pieces, 'x')]
  return pick<{ id: string; kind: string } & Record<string, unknown>>(
    random,
    [
      { id, kind: 'editJacket', pieceId, patch: { note: oddity(random) } },
      { id, kind: 'editPerson', personId, patch: { role: 'manager' } },
      { id, kind: 'editPerson', personId, patch: { name: oddity(random) } },
      { id, kind: 'setLab', patch: { name: oddity(random) } },
      { id, kind: 'erasePerson', personId },
      { id, kind: 'beginDay', date: '2030-01-01' },
      { id, kind: 'dropStep', stepId: pieceId },
      { id, kind: 'importRows', importId: id, rows: Array(50).fill({ id: pieceId }) },
    ],
    { id, kind: 'setLab', patch: {} },
  )
}

const onBoard: Record<string, Maker> = {
  forgedAuthor: (scene) =>
    acts('forgedAuthor', [
      {
        ...forbiddenAct(scene),
        personId: pick(scene.random, scene.people, 'x'),
        role: 'manager',
        by: 'system',
        seq: 1,
      },
    ]),
  forgedId: (scene) =>
    acts('forgedId', [{ ...forbiddenAct(scene), id: pick(scene.random, scene.honestIds, '__proto__') }]),
  forbidden: (scene) =>
    acts(
      'forbidden',
      Array.from({ length: 1 + scene.random.below(5) }, () => forbiddenAct(scene)),
    ),
  oddNames: (scene) => {
    const { random } = scene
    const person = { id: freshId(scene), name: oddity(random), familyName: oddity(random), role: 'manager' }
    return acts('oddNames', [{ id: freshId(scene), kind: 'addPerson', person }])
  },
  nonsenseActs: (scene) => {
    const { random } = scene
    const values = [null, 1e308, -1, [], {}, 'x', true, { __proto__: { a: 1 } }, [[[]]], '\u0000']
    const value = () => values[random.below(values.length)]
    const kind = pick(
      random,
      ['claim', 'attend', 'log', 'finishStep', 'post', 'toString', '__proto__', '', 'handOver'],
      '',
    )
    return acts('nonsenseActs', [
      { id: freshId(scene), kind, [oddity(random).slice(0, 20)]: value(), pieceId: value() },
      value(),
    ])
  },
  deep: ({ random }) => {
    const depth = 1000 + random.below(100_000)
    const inside =
      random.below(2) === 0 ? '['.repeat(depth) + ']'.repeat(depth) : `${'{"a":'.repeat(depth)}1${'}'.repeat(depth)}`
    const bytes = messageFrame(`{"type":"ops","ops":[{"id":"deep1","kind":"log","words":${inside}}]}`)
    return { kind: 'deep', bytes, owed: owedFor(bytes, 'board') ?? silence }
  },
  long: ({ random }) => {
    const bytes = messageFrame({
      type: 'ops',
      ops: [{ id: 'long', kind: 'log', words: 'x'.repeat(random.below(LONG - 200)) }],
    })
    return { kind: 'long', bytes, owed: { answers: 1 } }
  },
  manyActs: (scene) =>
    acts(
      'manyActs',
      Array.from({ length: 100 }, () => forbiddenAct(scene)),
    ),
  asks: (scene) => {
    const { random } = scene
    const what = pick(
      random,
      ['drawUp', 'whatIf', 'season', 'promise', 'safety', 'hindsight', 'toString', '__proto__'],
      '',
    )
    const body = pick<unknown>(
      random,
      [null, {}, { date: 'x' }, { date: '2026-03-12', steps: 1e300 }, { pieceId: oddity(random) }, [1]],
      null,
    )
    const message = { type: 'ask', ask: freshId(scene), what, body }
    return { kind: 'asks', bytes: messageFrame(message), owed: { answers: 1 } }
  },
  presence: ({ random }) => {
    const states = random.below(3)
    const bytes = presenceFrame((encoder) => {
      encoding.writeVarUint(encoder, states)
      for (let i = 0; i < states; i++) {
        encoding.writeVarUint(encoder, random.word())
        encoding.writeVarUint(encoder, pick(random, [0, 1, 2 ** 31, Number.MAX_SAFE_INTEGER], 0))
        encoding.writeVarString(
          encoder,
          pick(
            random,
            ['null', '{"at":"floor"}', `{"at":"${oddity(random)}"}`, '[', '{"at":"a","personId":"x","name":"y"}'],
            '',
          ),
        )
      }
    })
    return { kind: 'presence', bytes, owed: owedFor(bytes, 'board') ?? silence }
  },
  presenceFlood: ({ random }) => ({
    kind: 'presenceFlood',
    bytes: presenceFrame((encoder) => {
      encoding.writeVarUint(encoder, 1)
      encoding.writeVarUint(encoder, random.word())
      encoding.writeVarUint(encoder, 2 ** 40)
      encoding.writeVarString(encoder, '{"at":"floor"}')
    }),
    owed: ends,
    times: FLOOD,
  }),
}

/** Structs written by hand, as Yjs' own encoder would never write them. */
function structs(write: (encoder: encoding.Encoder) => void): Uint8Array {
  return syncFrame(
    2,
    frame((encoder) => {
      write(encoder)
    }),
  )
}

function textBy(client: number, clock: number, letters: string): Uint8Array {
  return frame((encoder) => {
    // One client with one struct: a string without neighbours, in the note.
    for (const n of [1, 1, client, clock]) encoding.writeVarUint(encoder, n)
    encoding.writeUint8(encoder, 4)
    encoding.writeVarUint(encoder, 1)
    encoding.writeVarString(encoder, 'note')
    encoding.writeVarString(encoder, letters)
    encoding.writeVarUint(encoder, 0)
  })
}

const inText: Record<string, Maker> = {
  forgedClient: ({ random, authors }) => {
    const [client, clock] = pick(random, [...authors], [1, 0])
    // Under somebody else's id: told to come again with an own one.
    return { kind: 'forgedClient', bytes: syncFrame(2, textBy(client, clock, 'forged')), owed: ends }
  },
  gap: ({ random }) => ({
    kind: 'gap',
    bytes: syncFrame(2, textBy(random.word(), 1 + random.below(1000), 'gap')),
    owed: { answers: 1 },
  }),
  hugeClock: ({ random }) => ({
    kind: 'hugeClock',
    bytes: syncFrame(2, textBy(random.word(), 2 ** 31 + random.below(2 ** 31), 'far')),
    owed: ends,
  }),
  hugeClient: ({ random }) => ({
    kind: 'hugeClient',
    bytes: syncFrame(2, textBy(2 ** 33 + random.word(), 0, 'far')),
    owed: ends,
  }),
  hugeStruct: ({ random }) => ({
    kind: 'hugeStruct',
    bytes: structs((encoder) => {
      for (const n of [1, 1, random.word(), 0]) encoding.writeVarUint(encoder, n)
      encoding.writeUint8(encoder, pick(random, [0, 10], 0))
      encoding.writeVarUint(encoder, 2 ** 50)
      encoding.writeVarUint(encoder, 0)
    }),
    owed: ends,
  }),
  otherTypes: ({ random }) => {
    const doc = new Y.Doc()
    const kind = random.below(4)
    if (kind === 0) doc.getMap('note').set('a', new Y.Map())
    else if (kind === 1) doc.getArray('other').push([1, { a: 1 }])
    else if (kind === 2) doc.getText('note').insertEmbed(0, { image: 'x' })
    else doc.getText('note').insert(0, 'bold', { bold: true })
    return { kind: 'otherTypes', bytes: syncFrame(2, Y.encodeStateAsUpdate(doc)), owed: ends }
  },
  nested: ({ random }) => {
    const doc = new Y.Doc()
    let map = doc.getMap('note')
    for (let depth = 0; depth < 50 + random.below(400); depth++) {
      const inner = new Y.Map()
      map.set('a', inner)
      map = inner as Y.Map<unknown>
    }
    return { kind: 'nested', bytes: syncFrame(2, Y.encodeStateAsUpdate(doc)), owed: ends }
  },
  farDeletes: ({ random }) => ({
    kind: 'farDeletes',
    bytes: structs((encoder) => {
      for (const n of [0, 1, random.word(), 1, 0, 2 ** 30]) encoding.writeVarUint(encoder, n)
    }),
    owed: { answers: 1 },
  }),
}

const anywhere: Record<string, Maker> = {
  random: ({ random, place }) => {
    for (;;) {
      const bytes = bytesOf(random, random.below(60))
      const owed = owedFor(bytes, place)
      if (owed) return { kind: 'random', bytes, owed }
    }
  },
  mutated: (scene) => {
    const { random, place } = scene
    for (;;) {
      const bytes = Uint8Array.from(messageFrame({ type: 'ops', ops: [forbiddenAct(scene)] }))
      for (let n = 0; n <= random.below(3); n++) bytes[random.below(bytes.length)] = random.below(256)
      const owed = owedFor(bytes, place)
      if (owed) return { kind: 'mutated', bytes, owed }
    }
  },
  truncated: (scene) => {
    const { random, place } = scene
    const whole = messageFrame({ type: 'ops', ops: [forbiddenAct(scene)] })
    const bytes = whole.slice(0, random.below(whole.length))
    return { kind: 'truncated', bytes, owed: owedFor(bytes, place) ?? ends }
  },
  hugeCount: ({ random }) => ({
    kind: 'hugeCount',
    bytes: Uint8Array.of(random.below(2), random.below(3), 255, 255, 255, 255, 255, 255, 255, 15),
    owed: ends,
  }),
  tinyUpdates: ({ random }) => ({
    kind: 'tinyUpdates',
    bytes: syncFrame(2, textBy(random.word(), 1, 'a')),
    owed: ends,
    times: FLOOD,
  }),
  tooLong: () => ({ kind: 'tooLong', bytes: new Uint8Array(LONG + 1), owed: ends }),
}

/** Kinds that cost their sender as much as the server are sent seldom. */
const seldom = new Set(['tooLong', 'long', 'deep', 'manyActs', 'nested', 'asks'])
/** Each is many messages. */
const floods = new Set(['presenceFlood', 'tinyUpdates'])

/** One hostile frame for a connection. */
export function hostileFrame(scene: Scene): Shot {
  const { random, place } = scene
  const own = place === 'board' ? onBoard : place.startsWith('text/') ? inText : {}
  const all = { ...own, ...anywhere }
  const names = Object.keys(all)
  for (;;) {
    const name = pick(random, names, 'random')
    if (seldom.has(name) && random.below(20) > 0) continue
    if (floods.has(name) && random.below(100) > 0) continue
    const shot = all[name]?.(scene)
    if (shot) return shot
  }
}

/** Bytes that break the WebSocket protocol itself, written past the library; all end the connection with a code. */
export function brokenWire(random: Random): {
  readonly kind: string
  readonly bytes: Buffer
  readonly isHeavy: boolean
} {
  const mask = [1, 2, 3, 4]
  const long = (high: number, low: number) => {
    const head = Buffer.from([0x82, 0xff, 0, 0, 0, 0, 0, 0, 0, 0, ...mask])
    head.writeUInt32BE(high, 2)
    head.writeUInt32BE(low, 6)
    return head
  }
  const all: readonly (readonly [string, Buffer])[] = [
    ['unmasked', Buffer.from([0x82, 0x01, 0x00])],
    ['reservedBits', Buffer.from([0xf2, 0x81, ...mask, 0])],
    ['badOpcode', Buffer.from([0x83, 0x81, ...mask, 0])],
    ['longPing', Buffer.from([0x89, 0xfe, 0x01, 0x00, ...mask, ...Array(256).fill(0)])],
    ['brokenText', Buffer.from([0x81, 0x82, ...mask, 0xff, 0xfe])],
    ['strayContinuation', Buffer.from([0x80, 0x81, ...mask, 0])],
    ['badClose', Buffer.from([0x88, 0x81, ...mask, 0])],
    ['endlessLength', long(0xffffffff, 0xffffffff)],
    ['hundredMegabytes', long(0, 100 * 1024 * 1024)],
  ]
  const [kind, bytes] = pick(random, all, ['unmasked', Buffer.alloc(1)])
  return { kind, bytes, isHeavy: kind === 'hundredMegabytes' }
}
