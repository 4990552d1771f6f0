import type { Sentences } from './sentence.ts'

export const actSentences: Sentences = {}
