'use client'
// What can be taken out of the lab as a file: what it holds, whom it is for, and one button each. The server makes a
// file while it is sent, so that a large lab needs no waiting room.
import Link from 'next/link'
import { useWho } from '../_board/index.ts'
import { addressOf } from '../_parts/address.ts'
import { ButtonFace, buttonClass, Notice, PageHeading, Row, Rows, Section } from '../_parts/controls/index.ts'
import { type OutFile, outFilesOf } from './files.ts'

/** The screen. */
export function OutScreen() {
  const role = useWho()?.role
  if (!role) return null
  const groups = outFilesOf(role)
  return (
    <div className="margin-page mx-auto flex max-w-4xl flex-col gap-8 pb-16">
      <PageHeading title="Files out" />
      {groups.length === 0 ? <Notice kind="empty">There is no file here that is yours to take out.</Notice> : null}
      <Section title="On paper">
        <div className="flex flex-wrap gap-3 pt-4">
          <Link className={buttonClass('line')} href="/print">
            Records of several pieces
          </Link>
          <Link className={buttonClass('line')} href="/labels">
            Labels
          </Link>
        </div>
      </Section>
      {groups.map(({ title, files }) => (
        <Section key={title} title={title}>
          <Rows label={title}>
            {files.map((file) => (
              <Row key={file.path} height="list" note={file.note} end={<Take {...file} />}>
                <span className="font-strong">{file.word}</span>
              </Row>
            ))}
          </Rows>
        </Section>
      ))}
    </div>
  )
}

function Take({ path, word }: OutFile) {
  return (
    <a className={buttonClass('line')} href={addressOf(`/api/out/${path}`)} download aria-label={`Take out: ${word}`}>
      <ButtonFace>Take out</ButtonFace>
    </a>
  )
}
