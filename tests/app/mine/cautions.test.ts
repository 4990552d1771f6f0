// The usual cautions of a shift as they are printed: each once, with the places it holds for, and whom to ask at the end.
import { describe, expect, test } from 'vitest'
import { cautionMarks } from '#lib/views'
import { put } from '#lib/words'
import { cautionsOfTurns } from '../../../app/mine/cautions.ts'
import { aJacket, aLab, anAirTool, aSmallLab, aSpecimen, aStep, aTechnique, aTurn } from '../../kit/makers.ts'

const lab = aSmallLab(
  put(
    'lab',
    aLab({
      safetyContact: 'Iris, extension 12',
      techniques: [
        aTechnique({ id: 'brush', force: 1, hazards: ['dust'], wear: 'FFP3 mask', whenWrong: 'eyewash at the sink' }),
        aTechnique({ hazards: ['dust'] }),
        ...aLab().techniques.slice(2),
      ],
    }),
  ),
  put('specimen', aSpecimen({ fragile: 'teeth at the left' })),
  put('jacket', aJacket({ id: 'jacket1', hazards: ['mould'] })),
  put('step', aStep({ id: 'jacket1-1', pieceId: 'jacket1', techniqueId: 'brush' })),
)
const turns = [aTurn(), aTurn({ personId: 'pia', pieceId: 'jacket1', stepId: 'jacket1-1', placeId: 'b2' })]

describe('cautions of a shift', () => {
  const said = cautionsOfTurns(lab, turns)
  const of = (key: string) => said.filter((one) => one.key === key)

  test('O each is said once, with all places it holds for', () => {
    expect(of('dust').map(({ codes }) => codes)).toEqual([['b1', 'b2']])
    expect(of('field mould').map(({ codes }) => codes)).toEqual([['b2']])
    expect(of('wear')).toMatchObject([{ text: 'FFP3 mask', codes: ['b2'] }])
    expect(of('wrong')).toMatchObject([{ text: 'eyewash at the sink', codes: ['b2'] }])
  })

  test('O what a piece itself asks for carries its number, and who decides stands last', () => {
    expect(of('fragile')[0]?.text).toMatch(/, teeth at the left$/)
    expect(said.at(-1)).toMatchObject({ key: 'decides', codes: ['b1', 'b2'] })
    expect(said.at(-1)?.text).toContain('Iris, extension 12')
    expect(JSON.stringify(said)).not.toMatch(/\bsafe\b/i)
  })

  test('O a tool without figures says so of vibration and of noise, and asks to be read anew once one is entered', () => {
    const tool = (noiseDba: number | null) => anAirTool({ vibrationMs2: null, noiseDba })
    const board = (noiseDba: number | null) => aSmallLab(put('lab', aLab({ techniques: [tool(noiseDba)] })))
    const turn = aTurn({ personId: 'ben', pieceId: 'rib' })
    const keys = (noiseDba: number | null) => cautionsOfTurns(board(noiseDba), [turn]).map(({ key }) => key)
    expect(keys(null)).toEqual(expect.arrayContaining(['vibration unknown', 'noise unknown']))
    expect(keys(84)).not.toContain('noise unknown')
    const marks = (noiseDba: number | null) => {
      const technique = board(noiseDba).lab.get('lab')?.techniques[0]
      return technique && cautionMarks(board(noiseDba), technique, [])
    }
    expect(marks(null)).not.toEqual(marks(84))
  })

  test('O turns that name what is no longer there say nothing', () => {
    expect(cautionsOfTurns(lab, [aTurn({ placeId: 'gone' }), aTurn({ stepId: 'gone' })])).toEqual([])
  })
})
