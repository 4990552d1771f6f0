// One sentence per code: who, where, what, and if it helps, what would open it.
import type { Finding } from '#lib/words'
import type { Names } from '../names.ts'

/** What a sentence is made from: names by id, the finding's ids and numbers. */
export type Sentence = (say: Names, ids: Finding['ids'], numbers: Finding['numbers']) => string
export type Sentences = Readonly<Record<string, Sentence>>
