// Keeping the old objects where a fresh value says the same, all the way down: what is computed anew at each edit then
// differs only where the edit made a difference, and screens that compare by identity paint only that.

/** `fresh` with the parts of `before` wherever they say the same; `before` itself when all of it does. */
export function share<T>(before: T, fresh: T): T {
  // What is returned says the same as `fresh`, so it has its type.
  return shared(before, fresh) as T
}

function shared(before: unknown, fresh: unknown): unknown {
  if (Object.is(before, fresh)) return before
  if (typeof before !== 'object' || typeof fresh !== 'object' || before === null || fresh === null) return fresh
  if (Array.isArray(before)) return Array.isArray(fresh) ? sharedList(before, fresh) : fresh
  const form = Object.getPrototypeOf(fresh)
  if (Object.getPrototypeOf(before) !== form) return fresh
  if (fresh instanceof Map) return before instanceof Map ? sharedMap(before, fresh) : fresh
  if (fresh instanceof Set) return before instanceof Set && isSameSet(before, fresh) ? before : fresh
  // Functions' and classes' objects have an identity of their own.
  if (form !== Object.prototype) return fresh
  return sharedObject(before as Fields, fresh as Fields)
}

type Fields = Readonly<Record<string, unknown>>

function sharedList(before: readonly unknown[], fresh: readonly unknown[]): readonly unknown[] {
  const list = fresh.map((item, index) => (index < before.length ? shared(before[index], item) : item))
  return list.length === before.length && list.every((item, index) => Object.is(item, before[index])) ? before : list
}

function sharedMap(before: ReadonlyMap<unknown, unknown>, fresh: ReadonlyMap<unknown, unknown>) {
  let isSame = before.size === fresh.size
  const map = new Map<unknown, unknown>()
  // The order of a map is part of what it says.
  const old = before.keys()
  for (const [key, item] of fresh) {
    const kept = before.has(key) ? shared(before.get(key), item) : item
    if (!Object.is(old.next().value, key) || !Object.is(kept, before.get(key))) isSame = false
    map.set(key, kept)
  }
  return isSame ? before : map
}

function isSameSet(before: ReadonlySet<unknown>, fresh: ReadonlySet<unknown>): boolean {
  const old = before.values()
  return before.size === fresh.size && [...fresh].every((item) => Object.is(old.next().value, item))
}

function sharedObject(before: Fields, fresh: Fields): Fields {
  const keys = Object.keys(fresh)
  let isSame = keys.length === Object.keys(before).length
  const made: Record<string, unknown> = {}
  for (const key of keys) {
    made[key] = Object.hasOwn(before, key) ? shared(before[key], fresh[key]) : fresh[key]
    if (!Object.hasOwn(before, key) || !Object.is(made[key], before[key])) isSame = false
  }
  return isSame ? before : made
}
