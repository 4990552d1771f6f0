// A text field bound to a note: what is typed goes into the note as a splice, what others type moves the field's text
// and leaves the caret where its neighbours are. While an input method composes (accents, Japanese, dictation) the
// field is left alone; what came in meanwhile is laid in when the composition ends.
import type { Stop } from './cell.ts'
import type { Note } from './note.ts'
import { type DeltaStep, movedBy, type Splice, spliceOf } from './splice.ts'

/** What of a textarea is needed. */
export type TextBox = {
  value: string
  readonly selectionStart: number
  readonly selectionEnd: number
  setSelectionRange(start: number, end: number): void
}

export class Field {
  readonly #note: Note
  readonly #box: TextBox
  readonly #stop: Stop
  /** The note's text as the field last agreed with it. */
  #agreed: string
  #isComposing = false
  /** Others' changes since the field was left alone. */
  #missed: (readonly DeltaStep[])[] = []

  constructor(note: Note, box: TextBox) {
    this.#note = note
    this.#box = box
    this.#agreed = note.text
    if (box.value !== note.text) box.value = note.text
    this.#stop = note.listen((delta, text) => this.#changed(delta, text))
  }

  /** The field's text differs. */
  input(): void {
    if (this.#isComposing) return
    this.#send()
  }

  compositionStart(): void {
    this.#isComposing = true
  }

  compositionEnd(): void {
    this.#isComposing = false
    this.#send()
  }

  detach(): void {
    if (this.#isComposing) this.compositionEnd()
    this.#stop()
  }

  #send(): void {
    const box = this.#box
    const caret = box.selectionEnd
    const own = spliceOf(this.#agreed, box.value, caret)
    const missed = this.#missed
    this.#missed = []
    if (missed.length === 0) {
      this.#agreed = box.value
      if (own) this.#note.edit(own)
      return
    }
    const moved = own && carried(own, missed)
    if (moved) this.#note.edit(moved)
    const end = moved ? moved.at + moved.insert.length : missed.reduce((at, delta) => movedBy(at, delta), caret)
    this.#put(this.#note.text, end, end)
  }

  #changed(delta: readonly DeltaStep[], text: string): void {
    const steps = delta.length > 0 ? delta : deltaOf(this.#agreedNow(), text)
    if (this.#isComposing) {
      this.#missed.push(steps)
      return
    }
    const { selectionStart, selectionEnd } = this.#box
    this.#put(text, movedBy(selectionStart, steps), movedBy(selectionEnd, steps))
  }

  /** The note's text before the change that is being told. */
  #agreedNow(): string {
    return this.#missed.reduce((text, delta) => applied(text, delta), this.#agreed)
  }

  #put(text: string, start: number, end: number): void {
    this.#agreed = text
    if (this.#box.value === text) return
    this.#box.value = text
    this.#box.setSelectionRange(start, end)
  }
}

/** A splice made on an old text, as it stands on the text after `deltas`. */
function carried({ at, remove, insert }: Splice, deltas: readonly (readonly DeltaStep[])[]): Splice {
  let start = at
  let end = at + remove
  for (const delta of deltas) {
    start = movedBy(start, delta, true)
    end = movedBy(end, delta)
  }
  return { at: start, remove: Math.max(0, end - start), insert }
}

function deltaOf(before: string, after: string): readonly DeltaStep[] {
  const splice = spliceOf(before, after)
  if (!splice) return []
  const { at, remove, insert } = splice
  return [{ retain: at }, ...(insert === '' ? [] : [{ insert }]), ...(remove === 0 ? [] : [{ delete: remove }])]
}

function applied(text: string, delta: readonly DeltaStep[]): string {
  let at = 0
  let result = ''
  for (const step of delta) {
    if (step.retain !== undefined) {
      result += text.slice(at, at + step.retain)
      at += step.retain
    } else if (typeof step.insert === 'string') result += step.insert
    else if (step.delete !== undefined) at += step.delete
  }
  return result + text.slice(at)
}
