'use client'
// The piece drawn large, with its metre rule: how big it is and how far it has come, before anything is read.
import { Stone } from '../_parts/stone/index.ts'
import { sayMass, sayMetres } from '../_text/index.ts'
import type { SheetAt } from './sheet-at.ts'

const SIZE = 300

/** The stone, a scale bar beneath it. */
export function Picture({ at }: { readonly at: SheetAt }) {
  const { piece, stage, id, number } = at.sheet
  const longM = Math.max(piece.lengthM, piece.widthM)
  const barM = longM > 0 ? barFor(longM) : 0
  return (
    <figure className="sheet-picture">
      <div className="grid place-items-center py-5">
        <Stone
          seed={id}
          stage={stage}
          size={SIZE}
          lengthM={piece.lengthM}
          widthM={piece.widthM}
          label={`${number}, ${stage}, ${sayMetres(piece.lengthM)} by ${sayMetres(piece.widthM)}, drawn as a sign`}
        />
      </div>
      <figcaption className="flex items-end justify-between gap-4 px-3 pb-2 text-small">
        {barM > 0 ? <ScaleBar barM={barM} widthPx={(barM / longM) * SIZE} /> : <span>size not noted</span>}
        <span className="text-right text-umber">
          {sayMetres(piece.lengthM)} × {sayMetres(piece.widthM)} × {sayMetres(piece.heightM)}
          <br />
          {sayMass(piece.mass)}
        </span>
      </figcaption>
    </figure>
  )
}

function ScaleBar({ barM, widthPx }: { readonly barM: number; readonly widthPx: number }) {
  return (
    <svg className="pen overflow-visible" width={widthPx + 4} height={30} viewBox={`0 0 ${widthPx + 4} 30`} role="img">
      <title>{`Scale bar, ${sayMetres(barM)}`}</title>
      <path d={`M2 4v10M2 9h${widthPx}M${2 + widthPx / 2} 6.500v5M${2 + widthPx} 4v10`} />
      <text x={2} y={28} fontSize={13} stroke="none" fontWeight={620}>
        {sayMetres(barM)}
      </text>
    </svg>
  )
}

/** A round length of about a third of the piece. */
function barFor(longM: number): number {
  const wanted = longM / 3
  const power = 10 ** Math.floor(Math.log10(wanted))
  const share = wanted / power
  return (share >= 5 ? 5 : share >= 2 ? 2 : 1) * power
}
