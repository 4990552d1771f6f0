// Notes typed together: two fields, the real text rooms, lost networks, reloads, input methods.
import { createElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { seededRandom } from '#lib/base'
import { BoardProvider } from '../../../app/_board/board-provider.tsx'
import { Field, type TextBox } from '../../../app/_board/core/field.ts'
import type { Note } from '../../../app/_board/core/note.ts'
import type { Session } from '../../../app/_board/core/session.ts'
import { useNote } from '../../../app/_board/use-note.ts'
import { aWorld, type World } from './kit/world.ts'

/** A textarea without a browser. */
class Box implements TextBox {
  value = ''
  selectionStart = 0
  selectionEnd = 0
  setSelectionRange(start: number, end: number): void {
    this.selectionStart = start
    this.selectionEnd = end
  }
  /** Types over what is selected. */
  type(text: string, field: Field | null): void {
    this.value = this.value.slice(0, this.selectionStart) + text + this.value.slice(this.selectionEnd)
    const at = this.selectionStart + text.length
    this.setSelectionRange(at, at)
    field?.input()
  }
  at(position: number, end = position): this {
    this.setSelectionRange(position, end)
    return this
  }
}

/** A textarea as a screen has it. */
function Pad() {
  const { bind, save } = useNote('skull')
  return createElement('textarea', { ...bind, name: save })
}

function noteOf(session: Session): { readonly note: Note; readonly close: () => void } {
  const open = session.openNote('skull')
  if (!open) throw new Error('Believed: somebody is here')
  return open
}

async function typist(world: World, personId: string) {
  const device = world.device(personId)
  const session = world.tab(device)
  await world.clock.pass(200)
  const { note, close } = noteOf(session)
  const box = new Box()
  const field = new Field(note, box)
  await world.clock.pass(200)
  return { device, session, note, box, field, close }
}

describe('a note', () => {
  it('is typed by two at once, letter by letter, with each caret in its place', async () => {
    const world = await aWorld()
    const pia = await typist(world, 'pia')
    const mira = await typist(world, 'mira')
    pia.box.type('Bone is soft here.', pia.field)
    await world.clock.pass(100)
    expect(mira.box.value).toBe('Bone is soft here.')
    mira.box.at(0).type('Left side: ', mira.field)
    pia.box.at(18).type(' Stop.', pia.field)
    await world.clock.pass(100)
    expect(pia.box.value).toBe('Left side: Bone is soft here. Stop.')
    expect(mira.box.value).toBe(pia.box.value)
    expect(pia.box.selectionEnd).toBe(pia.box.value.length)
    expect(mira.box.selectionEnd).toBe(11)
    expect(world.errors).toEqual([])
  })

  it('says sending until the server has it, then kept', async () => {
    const world = await aWorld()
    const { note, box, field } = await typist(world, 'pia')
    expect(note.shown.get()).toMatchObject({ isReady: true, save: 'kept' })
    box.type('x', field)
    expect(note.shown.get()).toMatchObject({ text: 'x', save: 'sending' })
    await world.clock.pass(6000)
    expect(note.shown.get().save).toBe('kept')
  })

  it('typed offline and reloaded, is laid into what others typed meanwhile', async () => {
    const world = await aWorld()
    const pia = await typist(world, 'pia')
    const mira = await typist(world, 'mira')
    pia.box.type('Start.', pia.field)
    await world.clock.pass(6000)
    world.cut(pia.device)
    await world.clock.pass(10)
    pia.box.type(' Typed offline.', pia.field)
    mira.box.at(0).type('Mira: ', mira.field)
    await world.clock.pass(1000)
    expect(pia.note.shown.get().save).toBe('offline')
    pia.session.stop()
    await world.clock.pass(1000)
    const again = world.tab(pia.device)
    await world.clock.pass(3000)
    const { note } = noteOf(again)
    await world.clock.pass(1000)
    expect(note.text).toBe('Start. Typed offline.')
    world.mend(pia.device)
    await world.clock.pass(10_000)
    expect(note.text).toBe('Mira: Start. Typed offline.')
    expect(mira.box.value).toBe(note.text)
    expect(note.shown.get().save).toBe('kept')
    expect(pia.device.disks.get('pia')?.notes.size).toBe(0)
  })

  it('takes no letter before it is bound, and says that it is opening', () => {
    const page = renderToStaticMarkup(createElement(BoardProvider, null, createElement(Pad)))
    expect(page).toBe('<textarea readOnly="" name="opening"></textarea>')
  })

  it('keeps what is typed before anything is back, neither from this device nor from the server', async () => {
    const world = await aWorld()
    const pia = await typist(world, 'pia')
    const mira = await typist(world, 'mira')
    mira.box.type('Theirs.', mira.field)
    await world.clock.pass(6000)
    world.cut(pia.device)
    await world.clock.pass(10)
    pia.box.at(7).type(' Held.', pia.field)
    await world.clock.pass(1000)
    pia.close()
    world.mend(pia.device)
    const { note } = noteOf(pia.session)
    const box = new Box()
    const field = new Field(note, box)
    box.type('First. ', field)
    await world.clock.pass(10_000)
    expect(box.value).toContain('First.')
    expect(box.value).toContain('Theirs. Held.')
    expect(mira.box.value).toBe(box.value)
    expect(world.errors).toEqual([])
  })

  it('leaves the field alone while an input method composes', async () => {
    const world = await aWorld()
    const pia = await typist(world, 'pia')
    const mira = await typist(world, 'mira')
    pia.box.type('ab', pia.field)
    await world.clock.pass(100)
    pia.field.compositionStart()
    pia.box.at(1).type('ほ', pia.field)
    mira.box.at(0).type('>> ', mira.field)
    await world.clock.pass(100)
    expect(pia.box.value).toBe('aほb')
    expect(mira.box.value).toBe('>> ab')
    pia.box.at(1, 2).type('骨', null)
    pia.field.compositionEnd()
    await world.clock.pass(100)
    expect(pia.box.value).toBe('>> a骨b')
    expect(pia.box.selectionEnd).toBe(5)
    expect(mira.box.value).toBe('>> a骨b')
  })

  it('is emptied for everybody once its words are in a record', async () => {
    const world = await aWorld()
    const pia = await typist(world, 'pia')
    const mira = await typist(world, 'mira')
    pia.box.type('Done for today.', pia.field)
    await world.clock.pass(100)
    pia.note.clear()
    expect(pia.box.value).toBe('')
    await world.clock.pass(100)
    expect(mira.box.value).toBe('')
  })

  it('ends equal in every field after random typing, cuts and restarts (200 histories)', {
    timeout: 240_000,
  }, async () => {
    for (let seed = 1; seed <= 200; seed++) {
      const dice = seededRandom(seed)
      const world = await aWorld({ seed })
      const people = await Promise.all(['pia', 'mira', 'ana'].slice(0, 2).map((who) => typist(world, who)))
      const typed: string[] = []
      for (let step = 0; step < 30; step++) {
        const one = people[dice.below(people.length)]
        if (!one) continue
        const chance = dice.below(20)
        if (chance < 14) {
          const word = `w${seed}x${step} `
          typed.push(word)
          one.box.at(dice.below(one.box.value.length + 1)).type(word, one.field)
        } else if (chance < 17) {
          if (one.device.net.isUp) world.cut(one.device)
          else world.mend(one.device)
        } else if (chance < 18) await world.restart()
        await world.clock.pass(dice.below(3) === 0 ? 4000 : dice.below(50))
      }
      for (const { device } of people) world.mend(device)
      await world.clock.pass(20_000)
      const [first] = people
      for (const { box, note } of people) {
        expect([seed, box.value]).toEqual([seed, first?.box.value])
        expect([seed, note.shown.get().save]).toEqual([seed, 'kept'])
      }
      // Nothing typed is lost: words may be split by others' words, letters are all there.
      const letters = (text: string) => [...text].sort().join('')
      expect([seed, letters(first?.box.value ?? '')]).toEqual([seed, letters(typed.join(''))])
      expect(world.errors).toEqual([])
      await world.close()
    }
  })
})
