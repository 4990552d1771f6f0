// Why a piece does not fit yet: said to oneself about oneself, and by name about everybody else.
import { expect, test } from 'vitest'
import { finding } from '#lib/words'
import { sayNotYet } from '../../../app/rack/not-yet.ts'
import { aSmallLab } from '../../kit/makers.ts'

const records = aSmallLab()
const say = (code: string, ids: Record<string, string>, numbers: Record<string, number> = {}) =>
  sayNotYet(finding('R2', code, ids, numbers), records, 'ana')

test('what one lacks oneself is said as you', () => {
  expect(say('no-skill', { person: 'ana', technique: 'scribe' }, { level: 0 })).toBe(
    'You are not signed off for scribe.',
  )
  expect(say('no-skill', { person: 'ana', technique: 'needle' }, { level: 1 })).toContain(
    'You are at level 1 in needle',
  )
  expect(say('mentor-missing', { person: 'ana', technique: 'needle' })).toContain('You are learning needle.')
  expect(say('two-places', { person: 'ana', place: 'b1' })).toBe('You sit at b1 in that shift already.')
  expect(say('not-inducted', { person: 'ana', item: 'Dust masks' })).toBe(
    'You have not been through “Dust masks” yet. Ask the manager or a preparator.',
  )
})

test('what stands in another is said by their name', () => {
  expect(say('no-skill', { person: 'ben', technique: 'scribe' }, { level: 0 })).toBe(
    'Ben is not signed off for scribe.',
  )
  expect(say('is-away', { person: 'ben' })).not.toContain('You')
})

test('what concerns nobody is said as everywhere else', () => {
  expect(say('no-place', { piece: 'skull' })).toBe('No place is free that N-skull could be worked on at.')
})
