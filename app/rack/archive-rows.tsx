'use client'
// What rests in the archive and has these words: asked of the server while one types, brought to the board when wanted.
import Link from 'next/link'
import type { PieceId } from '#lib/words'
import { FieldNumber, Row, Rows, SectionHeading } from '../_parts/controls/index.ts'
import { Stone } from '../_parts/stone/index.ts'
import { useArchive } from '../_shell/archive.ts'
import { ActButton } from '../mine/act-button.tsx'

/** The archive's rows; nothing while nothing is typed. */
export function ArchiveRows({ typed, isStaff }: { readonly typed: string; readonly isStaff: boolean }) {
  const hits = useArchive(typed)
  if (hits.length === 0) return null
  return (
    <section className="pt-8">
      <SectionHeading title="In the archive" aside="at rest, not on the board" />
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
            <Link href={`/sheet/${hit.id}`} className="underline-offset-4 hover:underline">
              <FieldNumber>{hit.number}</FieldNumber>
            </Link>
          </Row>
        ))}
      </Rows>
    </section>
  )
}
