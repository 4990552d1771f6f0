'use client'
// Fragments and joins of a piece: the numbered tray, two chosen and what came of them in one press, the pair to try
// next with its reasons, the assemblies, the order to glue in, and all pairs.
import { useState } from 'react'
import type { FragmentPair } from '#lib/words'
import { useNewId, useSheet } from '../../_board/index.ts'
import { Button, DialogButton, Fold, FoldingSection, Live, Notice, RowsComing } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayDate, sayList } from '../../_text/index.ts'
import type { SheetAt } from '../sheet-at.ts'
import { FragmentForm, LayOutForm } from './fragment-form.tsx'
import { JoinActs } from './join-forms.tsx'
import { PairTable } from './pair-table.tsx'
import { sayChance, sayProgress, sayReasons } from './say.ts'
import { type Tray, useTray } from './use-tray.ts'
import './joins.css'

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'
const letterOf = (index: number) =>
  `${LETTERS[index % LETTERS.length] ?? 'A'}${index < LETTERS.length ? '' : Math.floor(index / LETTERS.length)}`
const results = [
  ['fit', 'They fit'],
  ['no fit', 'No fit'],
  ['unsure', 'Not sure'],
] as const

/** The section; nothing for a guest where no fragment was laid out. */
export function JoinsSection({ at }: { readonly at: SheetAt }) {
  const { ready } = useSheet(at.sheet.id)
  const tray = useTray(at.records, at.sheet.id)
  const [chosen, setChosen] = useState<readonly number[]>([])
  const count = tray.fragments.length
  if (count === 0 && !at.mayWrite) return null
  return (
    <FoldingSection
      id="joins"
      title="Fragments and joins"
      brief={at.sheet.specimen?.stage === 'joining' && count > 0 ? null : sayTray(tray)}
      aside={count === 0 ? undefined : `${count} on the tray`}
    >
      {!ready ? (
        <RowsComing count={2} />
      ) : count === 0 ? (
        <Notice kind="empty">No fragment is laid out yet.</Notice>
      ) : null}
      {count > 1 ? <p className="py-2">{sayProgress(tray.advice)}</p> : null}
      {count === 0 ? null : <TrayCells tray={tray} chosen={chosen} onChoose={setChosen} />}
      {at.mayWrite ? <Verdict at={at} tray={tray} chosen={chosen} onChoose={setChosen} /> : null}
      {tray.assemblies.length > 0 ? <AssemblyList at={at} tray={tray} /> : null}
      {at.mayWrite ? <FragmentActs at={at} tray={tray} chosen={chosen} /> : null}
      {count > 1 ? (
        <Fold title="All pairs" className="pt-3">
          <PairTable tray={tray} chosen={chosen[0] ?? null} />
        </Fold>
      ) : null}
    </FoldingSection>
  )
}

const figure = (count: number, one: string) => `${count} ${count === 1 ? one : `${one}s`}`

/** What lies there, in a line. */
const sayTray = ({ fragments, fits }: Tray): string =>
  fragments.length === 0
    ? 'none laid out'
    : `${figure(fragments.length, 'fragment')}, ${fits.length === 0 ? 'no join yet' : figure(fits.length, 'join')}`

type Choosing = {
  readonly tray: Tray
  readonly chosen: readonly number[]
  readonly onChoose: (numbers: readonly number[]) => void
}

/** Numbered cells, side by side as in a sorting tray; two can be chosen. */
function TrayCells({ tray, chosen, onChoose }: Choosing) {
  const letters = new Map(tray.assemblies.flatMap((group, index) => group.map((number) => [number, letterOf(index)])))
  return (
    <fieldset className="tray" aria-label="Tray; choose two fragments">
      {tray.fragments.map(({ number, edges }) => {
        const letter = letters.get(number)
        const isChosen = chosen.includes(number)
        const open = edges.filter(({ isTaken }) => !isTaken).length
        return (
          <button
            key={number}
            type="button"
            className="tray-cell"
            aria-pressed={isChosen}
            aria-label={`Fragment ${number}${letter ? `, in assembly ${letter}` : ''}, ${edges.length === 0 ? 'not measured' : `${open} open edges`}`}
            onClick={() => onChoose(isChosen ? chosen.filter((one) => one !== number) : [...chosen, number].slice(-2))}
          >
            <span className="inked">{number}</span>
            <span className="tray-letter" aria-hidden="true">
              {letter ?? ''}
            </span>
          </button>
        )
      })}
    </fieldset>
  )
}

/** What came of the two in the hand; the advised pair when none is chosen. */
function Verdict({ at, tray, chosen, onChoose }: Choosing & { readonly at: SheetAt }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [said, setSaid] = useState('')
  const { next, isDone } = tray.advice
  const [one, other] = chosen
  const own: FragmentPair | null =
    one === undefined || other === undefined ? null : [Math.min(one, other), Math.max(one, other)]
  const pair = own ?? (chosen.length === 0 && next ? next.pair : null)
  if (!pair)
    return chosen.length === 1 ? <p className="pt-3">Choose a second fragment, or press it again to let go.</p> : null
  const name = `${pair[0]} and ${pair[1]}`
  return (
    <div className="pair-verdict">
      {own || !next ? (
        <p>
          <b>In the hand: {name}.</b>
        </p>
      ) : (
        <p>
          <b>
            {isDone ? 'If you go on' : 'Try next'}: {name}
          </b>
          , because {sayReasons(tray.study, next)}. By estimate the chance is {sayChance(next.chance)}
          {next.unsure ? '; nobody was sure of it before' : ''}.
        </p>
      )}
      <div className="no-print flex flex-wrap gap-3 pt-2">
        {results.map(([result, word]) => (
          <Button
            key={result}
            size="action"
            label={`${word}: ${name}`}
            onClick={() => {
              const body = { kind: 'tryPair', tryId: newId(), pieceId: at.sheet.id, result } as const
              if (!attempt({ ...body, pair: [pair[0], pair[1]] })) return
              setSaid(`${name}: ${word.toLowerCase()}.`)
              onChoose([])
            }}
          >
            {word}
          </Button>
        ))}
      </div>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <Live message={said} />
    </div>
  )
}

/** What hangs together, and how; then the order to glue the rest in. */
function AssemblyList({ at, tray }: { readonly at: SheetAt; readonly tray: Tray }) {
  const inGroup = (group: readonly number[], pair: FragmentPair) => group.includes(pair[0])
  return (
    <>
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told */}
      <ul role="list" aria-label="Assemblies" className="pt-4">
        {tray.assemblies.map((group, index) => (
          <li key={group[0]} className="border-b border-line py-2">
            <p className="font-strong">
              Assembly {letterOf(index)}: <span className="inked">{group.join(' + ')}</span>
            </p>
            {/* biome-ignore lint/a11y/noRedundantRoles: as above */}
            <ul role="list">
              {tray.fits
                .filter((pair) => inGroup(group, pair))
                .map((pair) => (
                  <li key={pair.join('-')} className="flex flex-wrap items-center justify-between gap-2 py-1">
                    <span>
                      <span className="inked">{pair.join('–')}</span> {sayJoin(tray, pair)}
                    </span>
                    {at.mayWrite ? <JoinActs at={at} tray={tray} pair={pair} /> : null}
                  </li>
                ))}
            </ul>
          </li>
        ))}
      </ul>
      {tray.order.length > 0 ? (
        <p className="pt-2 text-small text-umber">
          Glue in this order, so that nothing is locked out:{' '}
          {tray.order
            .map(
              ({ pair, locksOut }) =>
                `${pair.join('–')}${locksOut.length > 0 ? ` (locks out ${sayList(locksOut.map(String))})` : ''}`,
            )
            .join(', ')}
          .
        </p>
      ) : null}
    </>
  )
}

function sayJoin(tray: Tray, pair: FragmentPair): string {
  const join = tray.joins.get(pair.join('-'))
  if (!join || join.state === 'undone') return join ? 'fit, taken apart' : 'fit'
  if (join.state === 'trial') return 'held dry'
  const cured = join.curedAt ? `, cured ${sayDate(join.curedAt.date, 'short')} at ${join.curedAt.time}` : ''
  return `glued with ${join.adhesive}${cured}`
}

/** Laying out and measuring. */
function FragmentActs({
  at,
  tray,
  chosen,
}: {
  readonly at: SheetAt
  readonly tray: Tray
  readonly chosen: readonly number[]
}) {
  const free = Math.max(0, ...tray.fragments.map(({ number }) => number)) + 1
  const empty = { thicknessMm: null, texture: null, shade: null, surface: null, edges: [], note: '' }
  const one = chosen.length === 1 ? tray.fragments.find(({ number }) => number === chosen[0]) : undefined
  return (
    <div className="no-print flex flex-wrap gap-3 pt-3">
      <DialogButton mark="add" word="Add a fragment…" title="A fragment on the tray">
        {(close) => <FragmentForm pieceId={at.sheet.id} given={{ number: free, ...empty }} isNew onDone={close} />}
      </DialogButton>
      <DialogButton word="Lay out several…" title="Fragments on the tray">
        {(close) => <LayOutForm pieceId={at.sheet.id} first={free} onDone={close} />}
      </DialogButton>
      {one ? (
        <DialogButton word={`Measure ${one.number}…`} title={`Fragment ${one.number}`}>
          {(close) => {
            const { number, thicknessMm, texture, shade, surface, edges, note } = one
            const given = { number, thicknessMm, texture, shade, surface, edges, note }
            return <FragmentForm pieceId={at.sheet.id} given={given} isNew={false} onDone={close} />
          }}
        </DialogButton>
      ) : null}
    </div>
  )
}
