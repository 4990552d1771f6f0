// What the documents said since the last frame, in its order, until the draft takes it.
import { type Change, type Home, type Records, withChanges } from '#lib/words'
import { changesTo } from './homes.ts'

/** Changes of a home, or all it holds from now on (null: nothing, it was closed). */
export type News =
  | { readonly home: Home; readonly changes: readonly Change[] }
  | { readonly home: Home; readonly whole: Records | null }

export class Inbox {
  #news: News[] = []

  put(news: News): void {
    this.#news.push(news)
  }

  /** Everything that came in, as one list of changes to `base`. */
  take(base: Records): readonly Change[] {
    const news = this.#news
    this.#news = []
    let now = base
    const all: Change[] = []
    for (const item of news) {
      // A whole home replaces also what came just before it.
      const changes = 'changes' in item ? item.changes : changesTo(item.home, now, item.whole)
      if (news.length > 1) now = withChanges(now, changes)
      all.push(...changes)
    }
    return all
  }
}
