'use client'
// What screens read and do, as hooks over the session's cells. Nothing here decides anything: the core does
// (core/session.ts), these only bring it to React.
import { useCallback, useEffect, useMemo, useRef, useState, useSyncExternalStore } from 'react'
import { localAt } from '#lib/base'
import type { Op, OpBody } from '#lib/ops'
import { type Finding, finding, noRecords, type PhotoRefusal, type RecordOf, type Records } from '#lib/words'
import { useSessionOrNull, useSessionSoon, useShown } from './board-provider.tsx'
import type { Cell } from './core/cell.ts'
import type { Acted } from './core/desk.ts'
import type { PhotoShown } from './core/photo-queue.ts'
import type { HeldPhoto, Other, PhotoPatch, Refused } from './core/ports.ts'
import { isSame, isShallowSame } from './core/same.ts'
import type { Save } from './core/save.ts'
import type { Gate, Someone } from './core/shown.ts'

const EMPTY: Records = noRecords()
const NOBODY: readonly Other[] = []
const NOT_OPEN: { readonly ok: false; readonly findings: readonly Finding[] } = {
  ok: false,
  findings: [finding('O', 'not-open')],
}

/** A cell's value, now and whenever it changes. */
export function useCell<T>(cell: Cell<T>): T {
  return useSyncExternalStore(cell.subscribe, cell.get, cell.get)
}

/**
 * What `select` reads from the board: base and one's own waiting edits together. The screen paints again only when the
 * result differs one level deep, so arrays, maps and objects of records may be made anew in `select`.
 */
export function useBoard<T>(select: (records: Records) => T): T {
  const { records } = useShown()
  const held = useRef<{ records: Records; select: (records: Records) => T; value: T } | null>(null)
  const read = (now: Records): T => {
    const last = held.current
    if (last && last.records === now && last.select === select) return last.value
    const fresh = select(now)
    const value = last && isShallowSame(last.value, fresh) ? last.value : fresh
    held.current = { records: now, select, value }
    return value
  }
  return useSyncExternalStore(
    records.subscribe,
    () => read(records.get()),
    () => read(EMPTY),
  )
}

/** The board at the moment of a call, for handlers: a screen that only asks when pressed need not paint at each edit. */
export function useReadBoard(): () => Records {
  return useShown().records.get
}

/** Does an act: judged at once, shown at once, kept by the server soon. A refusal here comes with its findings. */
export function useAct(): (body: OpBody) => Acted {
  const session = useSessionOrNull()
  return useCallback((body) => session?.act(body) ?? NOT_OPEN, [session])
}

/** What would stand against an act, without doing it; empty when it may be done. Reads the board of the moment. */
export function useWouldRefuse(): (body: OpBody) => readonly Finding[] {
  const session = useSessionOrNull()
  return useCallback((body) => session?.wouldRefuse(body) ?? NOT_OPEN.findings, [session])
}

/** Makes fresh ids for new records; call it in handlers, not while painting. */
export function useNewId(): () => string {
  const session = useSessionOrNull()
  return useCallback(() => {
    if (!session) throw new Error('Got a call for an id before the board was open; expected useGate() to say "in"')
    return session.newId()
  }, [session])
}

/** Who acts here; null until known. A wall has the id `wall` and no name. */
export function useWho(): Someone | null {
  return useCell(useShown().who)
}

/** Whether somebody is signed in: opening, in, out, or reload when the server speaks a newer protocol. */
export function useGate(): Gate {
  return useCell(useShown().gate)
}

/** The mark in the corner. */
export function useSave(): Save {
  const shown = useShown()
  const save = useCell(shown.save)
  // Told in the server's time, like every other clock of the screen.
  const skewMs = useCell(shown.skewMs)
  return useMemo(() => (save.at === null ? save : { ...save, at: save.at + skewMs }), [save, skewMs])
}

/** Own edits that the server refused, with the reason, until dismissed. */
export function useRefused(): { readonly list: readonly Refused[]; readonly dismiss: (id: string) => void } {
  const session = useSessionOrNull()
  const list = useCell(useShown().refused)
  const dismiss = useCallback((id: string) => session?.dismiss(id), [session])
  return { list, dismiss }
}

/** Photographs made here that are not on their Sheets yet, and what can be done with them. */
export function usePhotos(): {
  readonly held: readonly PhotoShown[]
  /** Takes a file in under a fresh id; answers why not, or null. */
  readonly add: (photo: Pick<HeldPhoto, 'pieceId' | 'file' | 'said' | 'draftOf'>) => Promise<PhotoRefusal | null>
  readonly release: (id: string, patch: PhotoPatch) => void
  readonly again: (id: string) => void
  readonly drop: (id: string) => void
} {
  const session = useSessionOrNull()
  const held = useCell(useShown().photos)
  return useMemo(() => {
    const told = (done: Promise<unknown> | undefined) => void done?.catch((error: unknown) => console.error(error))
    return {
      held,
      add: async (photo) => {
        const queue = session?.photos
        return queue ? queue.add({ ...photo, id: session.newId() }) : 'bad-name'
      },
      release: (id, patch) => told(session?.photos?.release(id, patch)),
      again: (id) => told(session?.photos?.again(id)),
      drop: (id) => told(session?.photos?.drop(id)),
    }
  }, [session, held])
}

/** One's own last edit that can be taken back, and the taking back; `undo` answers null when there is none. */
export function useUndo(): { readonly label: Op | null; readonly undo: () => Acted | null } {
  const session = useSessionOrNull()
  const label = useCell(useShown().undoable)
  const undo = useCallback(() => session?.undo() ?? null, [session])
  return { label, undo }
}

/** Opens a piece's sheet while mounted. Logs and entries are oldest first. */
export function useSheet(pieceId: string): {
  readonly ready: boolean
  readonly logs: readonly RecordOf<'log'>[]
  readonly entries: readonly RecordOf<'entry'>[]
} {
  const session = useSessionOrNull()
  useEffect(() => session?.openSheet(pieceId), [session, pieceId])
  const ready = useCell(useShown().sheetsReady).has(pieceId)
  const logs = useBoard((records) =>
    [...records.log.values()]
      .filter((log) => log.pieceId === pieceId)
      .sort((a, b) => compare(a.finishedAt, b.finishedAt) || compare(a.id, b.id)),
  )
  const entries = useBoard((records) =>
    [...records.entry.values()]
      .filter((entry) => entry.pieceId === pieceId)
      .sort((a, b) => compare(a.at, b.at) || compare(a.id, b.id)),
  )
  return { ready, logs, entries }
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

/**
 * Says where this screen is (`floor`, `sheet/<id>`) and, if given, in which field; answers who else is at the same
 * place. With null nothing is said and nobody is listed.
 */
export function usePresence(at: string | null, field?: string): readonly Other[] {
  const session = useSessionOrNull()
  useEffect(() => {
    if (!session || at === null) return
    return session.presence.add(field === undefined ? { at } : { at, field })
  }, [session, at, field])
  const others = useOthers()
  return useMemo(() => {
    if (at === null) return NOBODY
    return others.filter((other) => other.at === at)
  }, [others, at])
}

/** Everybody else who has the board open, wherever they are. */
export function useOthers(): readonly Other[] {
  const session = useSessionOrNull()
  return useSyncExternalStore(
    session?.presence.others.subscribe ?? noSubscription,
    () => session?.presence.others.get() ?? NOBODY,
    () => NOBODY,
  )
}

const noSubscription = () => () => {}

export type Asked<T> = {
  /** idle: nothing asked. asking: answers are coming in. done: the last one is here. stopped: by `stop`. */
  readonly state: 'idle' | 'asking' | 'done' | 'stopped'
  /** The latest answer; the caller knows its shape by `what`. */
  readonly answer: T | null
  readonly stop: () => void
  /** Asks the same once more. */
  readonly again: () => void
}

/**
 * Asks the server to compute something (`drawUp`) and gives its answers as they stream in. A `body` that says
 * something else asks anew; null asks nothing.
 */
export function useAsk<T>(what: string, body: unknown): Asked<T> {
  const session = useSessionOrNull()
  const [shown, setShown] = useState<Shown<T>>({ of: null, state: 'idle', answer: null })
  const [round, setRound] = useState(0)
  const held = useRef(body)
  if (!isSame(held.current, body)) held.current = body
  const asked = held.current
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new round asks the same again
  const ask = useMemo(
    () => (session && asked !== null && asked !== undefined ? { session, what, asked } : null),
    [session, what, asked, round],
  )
  const stopped = useRef<() => void>(() => {})
  useEffect(() => {
    if (!ask) return
    const stop = ask.session.asks.start(ask.session.newId(), ask.what, ask.asked, (answer, isDone) =>
      // The answer's shape is the server's for this `what`; it comes from our own code on the other side.
      setShown({ of: ask, state: isDone ? 'done' : 'asking', answer: answer as T }),
    )
    stopped.current = () => {
      stop()
      setShown((now) => {
        if (now.of !== ask) return { of: ask, state: 'stopped', answer: null }
        return now.state === 'asking' ? { ...now, state: 'stopped' } : now
      })
    }
    return stop
  }, [ask])
  const stop = useCallback(() => stopped.current(), [])
  const again = useCallback(() => setRound((now) => now + 1), [])
  // From the press on, not one paint later, the former answer is no answer to what is asked now.
  const {
    state,
    answer,
  }: Pick<Asked<T>, 'state' | 'answer'> = ask === null ? NOTHING_ASKED : shown.of === ask ? shown : JUST_ASKED
  return { state, answer, stop, again }
}

const NOTHING_ASKED = { state: 'idle', answer: null } as const
const JUST_ASKED = { state: 'asking', answer: null } as const
type Shown<T> = { readonly of: object | null } & Pick<Asked<T>, 'state' | 'answer'>

export type Moment = { readonly date: string; readonly minute: number; readonly ms: number }
const NO_MOMENT: Moment = { date: '1970-01-01', minute: 0, ms: 0 }

/** The lab's date and minute by the server's clock, anew every `everyMs`; `ms` is 0 before the first paint here. */
export function useNow(everyMs: number): Moment {
  const shown = useShown()
  const zone = useBoard((records) => records.lab.get('lab')?.zone ?? null)
  const skewMs = useCell(shown.skewMs)
  const [moment, setMoment] = useState<Moment>(NO_MOMENT)
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout>
    const tick = () => {
      const ms = Date.now() + skewMs
      setMoment({ ms, ...localAt(zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone, ms) })
      // On the beat, so that all clocks of a screen turn together.
      timer = setTimeout(tick, everyMs - (ms % everyMs))
    }
    tick()
    return () => clearTimeout(timer)
  }, [zone, skewMs, everyMs])
  return moment
}

/** Ends or changes the person on this device, after the server has been told over HTTP. */
export function useSession(): {
  /** Forgets everything of this person here; answers when it is gone. */
  readonly signOut: () => Promise<void>
  /** The session cookie belongs to somebody else now: opens the board anew for them. */
  readonly changePerson: () => Promise<void>
} {
  // A press may be quicker than the session: it waits for it, or the session would ask who is here with the old cookie.
  const soon = useSessionSoon()
  const signOut = useCallback(async () => (await soon)?.signOut(), [soon])
  const changePerson = useCallback(async () => (await soon)?.changePerson(), [soon])
  return { signOut, changePerson }
}
