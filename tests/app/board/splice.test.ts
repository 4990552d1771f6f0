// Differences between texts as splices, and their way over to a text that has changed meanwhile.
import { describe, expect, it } from 'vitest'
import { seededRandom } from '#lib/base'
import { movedBy, rebased, spliced, spliceOf } from '../../../app/_board/core/splice.ts'

const LETTERS = ['a', 'b', 'a', ' ', '\n', 'é', '骨', '🦴', '👩‍🔬']

describe('splices', () => {
  it('turn any text into any other, at the caret where letters repeat', () => {
    expect(spliceOf('same', 'same')).toBe(null)
    expect(spliceOf('aaa', 'aaaa', 2)).toEqual({ at: 1, remove: 0, insert: 'a' })
    expect(spliceOf('aaa', 'aaaa', 4)).toEqual({ at: 3, remove: 0, insert: 'a' })
    expect(spliceOf('needle', 'noodle', 3)).toEqual({ at: 1, remove: 2, insert: 'oo' })
    const dice = seededRandom(7)
    const text = () => Array.from({ length: dice.below(12) }, () => LETTERS[dice.below(LETTERS.length)]).join('')
    for (let round = 0; round < 5000; round++) {
      const [before, after] = [text(), text()]
      const splice = spliceOf(before, after, dice.below(after.length + 1))
      expect(splice ? spliced(before, splice) : before).toBe(after)
      // Half a character would be sent as nonsense.
      if (splice) expect(() => encodeURIComponent(splice.insert)).not.toThrow()
      if (splice) expect(() => encodeURIComponent(before.slice(splice.at, splice.at + splice.remove))).not.toThrow()
    }
  })

  it('keep the caret beside its neighbours', () => {
    const delta = [{ retain: 2 }, { insert: 'xyz' }, { delete: 1 }]
    expect([0, 2, 3, 4].map((position) => movedBy(position, delta))).toEqual([0, 2, 5, 6])
    expect(movedBy(2, delta, true)).toBe(5)
  })

  it('are brought over to another text: what was put in stays, what is gone is not asked for again', () => {
    const over = (before: string, mine: string, theirs: string) => {
      const own = rebased(before, mine, theirs)
      return own ? spliced(theirs, own) : theirs
    }
    expect(over('', 'typed offline', '')).toBe('typed offline')
    expect(over('one two', 'one two three', 'zero one two')).toBe('zero one two three')
    expect(over('one two', 'zero one two', 'one two three')).toBe('zero one two three')
    expect(over('one two', 'one', 'one two three')).toBe('one three')
    expect(over('', 'the whole sentence', 'the whole')).toBe('the whole sentence')
    expect(over('base', 'base mine', 'base mine')).toBe('base mine')
    expect(over('one two', 'one 2', 'one deux')).toBe('one deux2')
  })
})
