// What the mark in the corner says: whether everything typed here is durable on the server, on its way, or held here.

export type Save = {
  readonly state: 'kept' | 'sending' | 'offline' | 'read-only' | 'opening'
  /** Ops made here that the server has not kept yet. */
  readonly count: number
  /** kept: when the last op was kept; offline: when this copy last heard from the server; null for not yet. */
  readonly at: number | null
}

export type SaveFacts = {
  readonly isOpen: boolean
  readonly isOnline: boolean
  readonly isReadOnly: boolean
  readonly count: number
  readonly keptAt: number | null
  readonly heardAt: number
}

/** The mark's state; the same object as before where nothing differs. */
export function saveOf(facts: SaveFacts, before: Save): Save {
  const { count } = facts
  const state = !facts.isOpen
    ? 'opening'
    : !facts.isOnline
      ? 'offline'
      : facts.isReadOnly
        ? 'read-only'
        : count > 0
          ? 'sending'
          : 'kept'
  const at = state === 'offline' ? facts.heardAt || null : facts.keptAt
  return before.state === state && before.count === count && before.at === at ? before : { state, count, at }
}
