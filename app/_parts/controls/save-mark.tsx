// Whether what was done is kept: a drawer shut, ajar or out, and always in words.
import { Mark, type MarkName } from '../marks/index.ts'

export type SaveState =
  | { readonly kind: 'kept'; readonly at: string }
  | { readonly kind: 'sending'; readonly count: number }
  | { readonly kind: 'offline'; readonly count: number }

/** The mark in the corner. Changes are told politely to readers. */
export function SaveMark({ state }: { readonly state: SaveState }) {
  return (
    <span className="flex min-h-11 items-center gap-1.5 text-small font-firm whitespace-nowrap" role="status">
      <Mark name={drawer[state.kind]} size={22} />
      {saveWords(state)}
    </span>
  )
}

/** "kept 10:42", "sending 2", "offline, 2 held here". */
function saveWords(state: SaveState): string {
  switch (state.kind) {
    case 'kept':
      return `kept ${state.at}`
    case 'sending':
      return `sending ${state.count}`
    case 'offline':
      return state.count === 0 ? 'offline' : `offline, ${state.count} held here`
  }
}

const drawer: Record<SaveState['kind'], MarkName> = { kept: 'kept', sending: 'sending', offline: 'offline' }
