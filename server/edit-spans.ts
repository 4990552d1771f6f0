// The way of edits as spans, of one lab. Whose edit it is makes no difference: edits are kept in batches, so a batch is
// what is told, from the first judgement in it to the moment it is shown, with each judgement and the append within.
//
//   edits ──────────────────────────────────────────┐
//     └ judge └ judge …      └ append ─────────┘  shown
//
// A refusal while nothing waits to be kept is told by itself.
import type { Verdict } from './gate.ts'
import type { Appended, Entry } from './store/contract.ts'
import { noTraces, type Span, type Spans } from './traces.ts'

export interface EditSpans {
  readonly judge: (kind: string, judge: () => Verdict) => Verdict
  /** One append at a time. */
  readonly append: (entries: readonly Entry[], append: () => Promise<Appended>) => Promise<Appended>
  /** What was appended last is on its way to the screens. */
  readonly shown: () => void
}

const plain: EditSpans = { judge: (_kind, judge) => judge(), append: (_entries, append) => append(), shown: () => {} }

export function editSpans(spans: Spans): EditSpans {
  if (spans === noTraces) return plain
  /** What is judged joins this. */
  let gathering: Span | null = null
  let hasPassed = false
  /** With the store, or shown in a moment. */
  let leaving: Span | null = null

  const finish = (span: Span | null, outcome: string, isFault = false) => {
    span?.note({ 'talus.outcome': outcome })
    span?.end(isFault)
  }
  const giveUp = (outcome: string, isFault: boolean) => {
    finish(leaving, outcome, isFault)
    // What was judged meanwhile rested on it and is judged again.
    finish(gathering, 'put back')
    leaving = null
    gathering = null
    hasPassed = false
  }
  return {
    judge(kind, judge) {
      gathering ??= spans.begin('edits', {})
      const verdict = gathering.span('judge', { 'talus.kind': kind }, (inside) => {
        const made = judge()
        inside.note({ 'talus.outcome': made.ok ? 'passed' : 'refused' })
        return made
      })
      if (verdict.ok) hasPassed = true
      else if (!hasPassed) {
        gathering.note({ 'talus.ops': 1, 'talus.kinds': [kind] })
        finish(gathering, 'refused')
        gathering = null
      }
      return verdict
    },
    append(entries, append) {
      const batch = gathering ?? spans.begin('edits', {})
      gathering = null
      hasPassed = false
      leaving = batch
      batch.note({ 'talus.ops': entries.length, 'talus.kinds': [...new Set(entries.map(({ kind }) => kind))] })
      const appended = batch.span('append', {}, append)
      appended.then(
        ({ ok }) => {
          if (!ok) giveUp('put back', false)
        },
        () => giveUp('failed', true),
      )
      return appended
    },
    shown() {
      finish(leaving, 'kept')
      leaving = null
    },
  }
}
