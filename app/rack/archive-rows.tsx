'use client'
// What rests in the archive and has these words: asked of the server while one types, brought to the board when wanted.
import Link from 'next/link'
import type { PieceId } from '#lib/words'
import { FieldNumber, Notice, Row, Rows, SectionHeading } from '../_parts/controls/index.ts'
import { Stone } from '../_parts/stone/index.ts'
import { useArchive } from '../_shell/archive.ts'
import { ActButton } from '../mine/act-button.tsx'

/** The archive's rows, or why there are none; nothing while nothing is typed. */
export function ArchiveRows({ typed, isStaff }: { readonly typed: string; readonly isStaff: boolean }) {
  const { state, hits } = useArchive(typed)
  if (state === 'unasked') return null
  return (
    <section className="pt-8">
      <SectionHeading title="In the archive" aside="at rest, not on the board" />
      <div role="status">
        {state === 'asking' ? <p className="py-3 text-umber">Asked for these words.</p> : null}
        {state === 'found' && hits.length === 0 ? (
          <p className="py-3 text-umber">Nothing in the archive has these words.</p>
        ) : null}
        {state === 'out of reach' ? (
          <Notice kind="stale">
            The archive is out of reach. Nothing in it is lost; type again when the lab is in reach.
          </Notice>
        ) : null}
      </div>
      <Rows label="In the archive">
        {hits.map((hit) => (
          <Row
            key={hit.id}
            height="action"
            lead={<Stone seed={hit.id} stage={hit.stage} size={48} />}
            note={hit.name}
            end={
              isStaff ? (
                <ActButton
                  word="Bring to the board"
                  label={`Bring ${hit.number} to the board`}
                  done={`${hit.number} is on the board.`}
                  // The server's search answers with ids of pieces.
                  act={{ kind: 'bringBack', pieceId: hit.id as PieceId }}
                />
              ) : undefined
            }
          >
            <Link href={`/sheet/${hit.id}`} className="-my-3 inline-block py-3 underline-offset-4 hover:underline">
              <FieldNumber>{hit.number}</FieldNumber>
            </Link>
          </Row>
        ))}
      </Rows>
    </section>
  )
}
