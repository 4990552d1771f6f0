// What fits on one bench: its code, the stone, the number under it and the date beside it. As a bench gets
// smaller the date's words go first, then the mark, then the stone; the number breaks at its hyphen before it is lost.
import { wordWidth } from '../figures/scale.ts'
import { proportion } from '../stone/index.ts'
import type { Box, Letters } from './measure.ts'
import type { PieceShape } from './shapes.ts'

export type BenchLayout = {
  readonly code: { readonly x: number; readonly y: number }
  readonly stones: readonly {
    readonly piece: PieceShape
    readonly x: number
    readonly y: number
    readonly width: number
    readonly height: number
  }[]
  /** Where the number is written, middle and last baseline, one line or two; null when the bench has no room for it. */
  readonly number: NumberAt | null
  readonly mark: { readonly x: number; readonly y: number } | null
  readonly date: { readonly x: number; readonly y: number } | null
}

/** Between a bench's edge and the mark in its corner, which has room of its own around it. */
const edgeGap = 2

export type NumberAt = {
  readonly x: number
  readonly y: number
  readonly size: number
  readonly lines: readonly string[]
  readonly leading: number
}

/** How wide a field number is, inked: the mono face runs 0.6 em a letter. */
export function numberWidth(number: string, size: number, run = 0.6): number {
  return number.length * size * run
}

/** The words of a bench's number line: the first piece, and how many more lie there. */
function numberLine(pieces: readonly PieceShape[]): string {
  const [first] = pieces
  if (first === undefined) return ''
  return pieces.length === 1 ? first.number : `${first.number} +${pieces.length - 1}`
}

/** Lays out a bench's pieces in its upright box. */
export function layBench(
  box: Box,
  code: string,
  pieces: readonly PieceShape[],
  letters: Letters,
  pxPerM: number,
): BenchLayout {
  const pad = letters.code * 0.36
  const codeAt = { x: box.x + pad, y: box.y + pad + letters.code * 0.74 }
  const codeWidth = wordWidth(code, letters.code) + pad * 2
  const [first] = pieces
  if (first === undefined) return { code: codeAt, stones: [], number: null, mark: null, date: null }

  const number = numberIn(box, codeWidth, pieces, letters)
  const isBesideCode = number !== null && number.x !== box.x + box.w / 2
  const strip =
    number === null ? 2 : isBesideCode ? box.h : letters.number * 0.48 + number.leading * number.lines.length

  const upper = box.h - strip
  const dateWidth = first.date === undefined ? 0 : wordWidth(first.date.words, letters.date) + pad + 4
  const markWidth = first.date === undefined ? 0 : letters.mark + pad
  const beside = isBesideCode ? 0 : box.w - codeWidth
  // The stone keeps at least its smallest self between code and date.
  // The date stands under its mark and keeps a clear gap over the number: too low a bench keeps the mark alone.
  const dateBase = edgeGap + letters.mark + letters.date * 0.82
  const numberTop = number === null ? box.h : box.h - strip + letters.number * 0.16
  const hasDate =
    dateWidth > 0 && beside - dateWidth >= letters.stone * 0.8 && dateBase + letters.date * 0.38 <= numberTop
  const hasMark = markWidth > 0 && beside - markWidth >= letters.stone * 0.8
  const right = hasDate ? dateWidth : hasMark ? markWidth : 0

  // The code stands in the corner: a bench deep enough lets the stone lie under it, in the middle.
  // A narrow one has no room beside the code and does so as soon as a small stone fits.
  const isNarrow = beside - pad < letters.stone * 1.3 && upper - letters.code * 1.25 - 4 >= letters.stone * 0.6
  const isDeep = isNarrow || upper > letters.code * 1.5 + letters.stone * 1.2
  const left = isDeep && right === 0 ? pad : codeWidth
  const zoneLeft = box.x + (isDeep ? pad : left)
  const zone = {
    x: zoneLeft,
    y: box.y + (isDeep ? letters.code * 1.25 : 2),
    w: box.x + box.w - (isDeep && !hasDate ? pad : right) - zoneLeft,
    h: upper - (isDeep ? letters.code * 1.25 : 2) - 2,
  }
  const shown = pieces.slice(0, Math.max(1, Math.min(3, Math.floor(zone.w / (letters.stone * 0.9)))))
  const slot = zone.w / shown.length
  // A number in two lines may leave no height for a stone.
  const hasStones = number === null || number.lines.length === 1 || zone.h >= letters.stone * 0.6
  const stones = (hasStones ? shown : []).map((piece, index) => {
    const ratio = proportion(piece.lengthM, piece.widthM)
    const wanted = Math.max(letters.stone, Math.max(piece.lengthM, piece.widthM) * pxPerM)
    const width = Math.max(8, Math.min(wanted, slot - 4, zone.h / ratio))
    const middle = zone.x + slot * (index + 0.5)
    // In the middle of the bench where code and date leave it free.
    const wished = shown.length === 1 ? box.x + box.w / 2 : middle
    const x = Math.min(zone.x + zone.w - width / 2, Math.max(zone.x + width / 2, wished))
    return { piece, x, y: zone.y + zone.h / 2, width, height: width * ratio }
  })
  const edge = box.x + box.w - pad
  return {
    code: codeAt,
    stones,
    number,
    mark: hasMark ? { x: edge - letters.mark / 2 + 1, y: box.y + edgeGap + letters.mark / 2 } : null,
    date: hasDate ? { x: edge, y: box.y + dateBase } : null,
  }
}

/** One line under the stone; where the bench is too narrow, two lines broken at the hyphen: under the code, or beside it. */
function numberIn(
  box: Box,
  codeWidth: number,
  pieces: readonly PieceShape[],
  { number: size, run, code }: Letters,
): NumberAt | null {
  const first = pieces[0]?.number ?? ''
  const middle = { x: box.x + box.w / 2, y: box.y + box.h - size * 0.48 }
  const leading = size * 0.92
  if (box.h >= code * 1.05 + size * 1.36) {
    for (const words of [numberLine(pieces), first])
      for (const each of [size, size - 1])
        if (numberWidth(words, each, run) <= box.w - 5) return { ...middle, size: each, lines: [words], leading }
  }
  const hyphen = first.lastIndexOf('-')
  if (hyphen < 1) return null
  const lines = [first.slice(0, hyphen), first.slice(hyphen)]
  const wide = Math.max(...lines.map((line) => numberWidth(line, size, run)))
  if (wide <= box.w - 2 && box.h >= code * 1.25 + leading * 2 + size * 0.3) return { ...middle, size, lines, leading }
  // A little less than the code’s own margin keeps them apart; the number gives way in size before it is lost.
  const left = codeWidth - code * 0.12
  const each = Math.min(size, (size * (box.w - left - 2)) / wide)
  const isBeside = each >= size * 0.82 && box.h >= leading * 2 + size * 0.3
  return isBeside
    ? { x: box.x + left + (box.w - left) / 2, y: box.y + box.h / 2 + leading * 0.86, size: each, lines, leading }
    : null
}
