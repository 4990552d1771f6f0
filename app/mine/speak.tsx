'use client'
// A spoken note, where the browser turns speech into words. Where it does not, nothing is shown. Many browsers send the
// voice to their maker to do so, which is said before it is pressed.
import { useEffect, useRef, useState } from 'react'
import { Button } from '../_parts/controls/index.ts'

/** The part of the browser's speech recognition that is used here (Web Speech API, W3C community draft). */
type Recognition = {
  lang: string
  onresult: ((event: { readonly results: ArrayLike<ArrayLike<{ readonly transcript: string }>> }) => void) | null
  onend: (() => void) | null
  onerror: (() => void) | null
  start(): void
  stop(): void
  abort(): void
}

function recognizer(): (new () => Recognition) | null {
  const found: unknown =
    Reflect.get(window, 'SpeechRecognition') ?? Reflect.get(window, 'webkitSpeechRecognition') ?? null
  // The name is the standard's; nothing but the members above is touched.
  return typeof found === 'function' ? (found as new () => Recognition) : null
}

/** The button; `onHeard` gets each finished run of words. */
export function Speak({ onHeard }: { readonly onHeard: (words: string) => void }) {
  const [state, setState] = useState<'absent' | 'quiet' | 'hearing' | 'failed'>('absent')
  const heard = useRef<Recognition | null>(null)
  // What was typed while it listened must not be lost: the newest handler gets the words.
  const tell = useRef(onHeard)
  tell.current = onHeard
  useEffect(() => {
    if (recognizer()) setState('quiet')
    return () => heard.current?.abort()
  }, [])
  if (state === 'absent') return null
  const listen = () => {
    const Recognizer = recognizer()
    if (!Recognizer) return
    const one = new Recognizer()
    one.lang = document.documentElement.lang || navigator.language
    one.onresult = (event) => {
      const words = Array.from(event.results, (result) => result[0]?.transcript ?? '')
        .join(' ')
        .trim()
      if (words !== '') tell.current(words)
    }
    one.onend = () => setState((now) => (now === 'failed' ? now : 'quiet'))
    one.onerror = () => setState('failed')
    heard.current = one
    setState('hearing')
    one.start()
  }
  return (
    <div>
      <Button mark="note" onClick={() => (state === 'hearing' ? heard.current?.stop() : listen())}>
        {state === 'hearing' ? 'Stop listening' : 'Speak it'}
      </Button>
      <p className="pt-1 text-small text-umber" role="status">
        {state === 'failed'
          ? 'Nothing was heard. Type it instead; what is typed stays.'
          : 'The browser may send your voice to its maker to turn it into words.'}
      </p>
    </div>
  )
}
