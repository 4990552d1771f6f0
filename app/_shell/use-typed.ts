'use client'
// Words typed at the bench survive a reload or an empty battery: each field is kept on this device under its name
// and its person until what it says was done.
import { useCallback, useEffect, useState } from 'react'
import { useWho } from '../_board/index.ts'

const PREFIX = 'talus.typed.'

/** A text that stays on this device until cleared. Storage that is full or forbidden only costs the keeping. */
export function useTyped(field: string): readonly [string, (text: string) => void, () => void] {
  const name = `${useWho()?.personId ?? ''}.${field}`
  const [text, setText] = useState('')
  useEffect(() => {
    try {
      setText(localStorage.getItem(PREFIX + name) ?? '')
    } catch {
      setText('')
    }
  }, [name])
  const type = useCallback(
    (next: string) => {
      setText(next)
      try {
        if (next === '') localStorage.removeItem(PREFIX + name)
        else localStorage.setItem(PREFIX + name, next)
      } catch {
        // A private window or a full disk: the words are on the screen all the same.
      }
    },
    [name],
  )
  return [text, type, useCallback(() => type(''), [type])]
}
