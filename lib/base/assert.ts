// Our own bugs end here: one request or one op dies, the room lives, the log says which belief was wrong.

/** Throws when `fact` is false; `believed` says what the code relied on. On in production. */
export function assert(fact: unknown, believed: string): asserts fact {
  if (!fact) throw new Error(`Believed: ${believed}`)
}

/** Ends a switch over a union: a new member that is not handled does not compile, and throws if it arrives anyway. */
export function never(value: never): never {
  throw new Error(`Unexpected: ${JSON.stringify(value)}`)
}
