'use client'
// What a piece belongs to: one animal in two jackets, one jacket split into specimens, part and counterpart. Numbers stay
// as they are; a relation that was a mistake is ended and stays to be read.
import Link from 'next/link'
import { useState } from 'react'
import type { PieceId, RecordOf, Records } from '#lib/words'
import { useNewId } from '../../_board/index.ts'
import {
  ActForm,
  DialogButton,
  FieldNumber,
  FoldingSection,
  SearchField,
  Select,
  TextField,
} from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { momentOf, nameOf, type SheetAt } from '../sheet-at.ts'

type Relation = RecordOf<'relation'>

const whats: readonly { readonly value: Relation['what']; readonly label: string }[] = [
  { value: 'one animal', label: 'One animal in several jackets or pieces' },
  { value: 'split', label: 'One jacket or block, split into several' },
  { value: 'counterpart', label: 'Part and counterpart' },
]
const sayWhat: Readonly<Record<Relation['what'], string>> = {
  'one animal': 'One animal with',
  split: 'Split, with',
  counterpart: 'Part and counterpart with',
}

/** As many as a line of a phone holds beside the heading. */
const NUMBERS_MAX = 2

const numberOf = (records: Records, id: string): string =>
  records.specimen.get(id)?.number ?? records.jacket.get(id)?.fieldNumber ?? 'one at rest'

/** The relations of a piece; nothing at all while it has none and nobody may add one. */
export function Relations({ at }: { readonly at: SheetAt }) {
  const all = [...at.records.relation.values()]
  const own = all.filter((one) => one.ends === null && one.pieceIds.includes(at.sheet.id))
  const enders = new Map(all.flatMap((one) => (one.ends === null ? [] : [[one.ends, one] as const])))
  if (own.length === 0 && !at.isStaff) return null
  const others = [...new Set(own.flatMap((one) => one.pieceIds))].filter((id) => id !== at.sheet.id)
  const brief =
    others.length === 0
      ? 'nothing noted'
      : others.length > NUMBERS_MAX
        ? `${others.length} others`
        : others.map((id) => numberOf(at.records, id)).join(', ')
  return (
    <FoldingSection id="belongs" title="Belongs with" brief={brief}>
      {own.length === 0 ? <p className="text-umber">Nothing is noted.</p> : null}
      <ul>
        {own.map((one) => (
          <RelationRow key={one.id} at={at} relation={one} end={enders.get(one.id) ?? null} />
        ))}
      </ul>
      {at.isStaff ? (
        <DialogButton word="Belongs with…" title={`What ${at.sheet.number} belongs with`} className="no-print mt-3">
          {(close) => <RelateForm at={at} onDone={close} />}
        </DialogButton>
      ) : null}
    </FoldingSection>
  )
}

type RelationRowProps = { readonly at: SheetAt; readonly relation: Relation; readonly end: Relation | null }

function RelationRow({ at, relation, end }: RelationRowProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const others = relation.pieceIds.filter((id) => id !== at.sheet.id)
  return (
    <li className="border-b border-line py-2">
      <p>
        {end ? <s>{sayWhat[relation.what]}</s> : sayWhat[relation.what]}{' '}
        {others.map((id) => (
          <Link key={id} href={`/sheet/${id}`} className="mr-3 inline-block py-2.5 underline underline-offset-4">
            <FieldNumber>{numberOf(at.records, id)}</FieldNumber>
          </Link>
        ))}
      </p>
      {relation.note === '' ? null : <p>{relation.note}</p>}
      <p className="text-small text-umber">
        {momentOf(at, relation.at)}, {nameOf(at, relation.by)}
        {end ? `. Ended ${momentOf(at, end.at)} by ${nameOf(at, end.by)}${end.note === '' ? '' : `: ${end.note}`}` : ''}
      </p>
      {at.isStaff && end === null ? (
        <DialogButton
          kind="quiet"
          word="End it…"
          title="It does not belong together"
          width="narrow"
          className="no-print"
        >
          {(close) => (
            <EndForm
              problem={problem}
              onEnd={(note) => {
                if (attempt({ kind: 'endRelation', relationId: newId(), ends: relation.id, note })) close()
              }}
            />
          )}
        </DialogButton>
      ) : null}
    </li>
  )
}

function EndForm(props: { readonly problem: string | undefined; readonly onEnd: (note: string) => void }) {
  const [note, setNote] = useState('')
  return (
    <ActForm act="End it" problem={props.problem} onAct={() => props.onEnd(note.trim())}>
      <TextField label="Why" hint="Both records stay." value={note} onChange={(event) => setNote(event.target.value)} />
    </ActForm>
  )
}

const FOUND_MAX = 8

function RelateForm({ at, onDone }: { readonly at: SheetAt; readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [what, setWhat] = useState<Relation['what']>('one animal')
  const [typed, setTyped] = useState('')
  const [chosen, setChosen] = useState<readonly PieceId[]>([])
  const [note, setNote] = useState('')
  const found = matching(at.records, typed).filter((id) => id !== at.sheet.id && !chosen.includes(id))
  return (
    <ActForm
      act="Note it"
      problem={problem}
      isOff={chosen.length === 0}
      onAct={() => {
        const relation = { id: newId(), what, pieceIds: [at.sheet.id, ...chosen], note: note.trim() }
        if (attempt({ kind: 'relate', relation })) onDone()
      }}
    >
      <Select
        label="How"
        value={what}
        onValue={(value) => setWhat(whats.find((one) => one.value === value)?.value ?? 'one animal')}
        choices={whats}
      />
      <SearchField label="Number of the other" value={typed} onValue={setTyped} />
      <ul>
        {found.slice(0, FOUND_MAX).map((id) => (
          <li key={id} className="border-b border-line">
            <button
              type="button"
              className="choice"
              onClick={() => {
                setChosen([...chosen, id])
                setTyped('')
              }}
            >
              <FieldNumber>{numberOf(at.records, id)}</FieldNumber>
            </button>
          </li>
        ))}
      </ul>
      {chosen.length === 0 ? null : <p>With {chosen.map((id) => numberOf(at.records, id)).join(', ')}.</p>}
      <TextField label="What tells so" value={note} onChange={(event) => setNote(event.target.value)} />
    </ActForm>
  )
}

/** Pieces of the board whose number has what was typed. */
function matching(records: Records, typed: string): readonly PieceId[] {
  const wanted = typed.trim().toLocaleLowerCase('en')
  if (wanted === '') return []
  const pieces = [...records.jacket.values(), ...records.specimen.values()]
  return pieces.filter((one) => numberOf(records, one.id).toLocaleLowerCase('en').includes(wanted)).map(({ id }) => id)
}
