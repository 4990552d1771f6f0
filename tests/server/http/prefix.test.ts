// The path below which a proxy shows a lab: taken off, put back, and nothing beside it taken for it.
import type { IncomingMessage } from 'node:http'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { putBack, takeOff } from '../../../server/http/prefix.ts'
import { prefixOf } from '../../../server/options.mjs'

const asked = (url: string, prefix: string): [boolean, string | undefined] => {
  const request = { url } as IncomingMessage
  return [takeOff(request, prefix), request.url]
}

test('what is below the path loses it, what is beside it stays as it is', () => {
  expect(asked('/talus', '/talus')).toEqual([true, '/'])
  expect(asked('/talus?a=1', '/talus')).toEqual([true, '/?a=1'])
  expect(asked('/talus/rack', '/talus')).toEqual([true, '/rack'])
  // A second host in what is left must still be seen as one.
  expect(asked('/talus//elsewhere', '/talus')).toEqual([true, '//elsewhere'])
  for (const url of ['/', '/talusx', '/x/talus', '/TALUS/', '']) expect(asked(url, '/talus')).toEqual([false, url])
})

test('whatever is taken off is put back', () => {
  const part = fc.stringMatching(/^[a-z0-9?=&%._-]{0,12}$/)
  fc.assert(
    fc.property(fc.constantFrom('', '/talus', '/a/b'), fc.array(part, { minLength: 1 }), (prefix, parts) => {
      const url = `${prefix}/${parts.join('/')}`
      const [isBelow, rest] = asked(url, prefix)
      expect(isBelow).toBe(true)
      const back = putBack(rest ?? '', prefix)
      // The first page alone is known without a stroke at its end.
      expect(back).toBe(/^\/($|\?)/.test(rest ?? '') && prefix !== '' ? url.replace(`${prefix}/`, prefix) : url)
    }),
  )
})

test('it is said by the variable or on the command line, and refused where it is no path', () => {
  expect(prefixOf([], {})).toBe('')
  expect(prefixOf([], { TALUS_PREFIX: '/talus/' })).toBe('/talus')
  expect(prefixOf(['--prefix', '/a/b'], { TALUS_PREFIX: '/talus' })).toBe('/a/b')
  expect(prefixOf(['--prefix=/a'], {})).toBe('/a')
  for (const wrong of ['talus', '//elsewhere', '/a b', '/../x', '/A', 'https://x'])
    expect(() => prefixOf([], { TALUS_PREFIX: wrong })).toThrow(wrong)
})
