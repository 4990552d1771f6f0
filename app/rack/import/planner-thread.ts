// The planner's thread: one question, one answer, by number.
import { type Asks, makePlanner } from './planner.ts'

export type Question = { readonly n: number; readonly what: keyof Asks; readonly ask: unknown }
export type Reply = { readonly n: number; readonly answer: unknown }

const planner = makePlanner()
self.onmessage = ({ data }: MessageEvent<Question>) => {
  const { n, what, ask } = data
  // Typed at the other end by `Asks`; between them is only a copy.
  const answer = (planner[what] as (ask: unknown) => unknown)(ask)
  self.postMessage({ n, answer } satisfies Reply)
}
