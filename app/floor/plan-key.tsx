'use client'
// What the drawing's signs mean. Folded away once somebody knows it; the device remembers that.
import { memo, useEffect, useState } from 'react'
import { KeyItem, Stool } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { Stone, type StoneStage } from '../_parts/stone/index.ts'

const KNOWN = 'talus-key-known'
const stages: readonly StoneStage[] = ['sealed', 'opened', 'exposing', 'joining', 'stabilised', 'housed']

/** The key under the plan; a proposal has signs of its own. */
export const PlanKey = memo(function PlanKey({ isProposal = false }: { readonly isProposal?: boolean }) {
  const [isOpen, setOpen] = useState(true)
  useEffect(() => setOpen(localStorage.getItem(KNOWN) !== 'yes'), [])
  return (
    <details
      className="fold"
      open={isOpen}
      onToggle={(event) => {
        const now = event.currentTarget.open
        setOpen(now)
        localStorage.setItem(KNOWN, now ? 'no' : 'yes')
      }}
    >
      <summary className="fold-title text-small">{isOpen ? 'Key; fold away once known' : 'Key'}</summary>
      {isProposal ? <ProposalKey /> : <PresentKey />}
    </details>
  )
})

function PresentKey() {
  return (
    <div className="flex flex-wrap gap-x-5 gap-y-2 pb-2">
      {stages.map((stage) => (
        <KeyItem key={stage} figure={<Stone seed={`key ${stage}`} stage={stage} size={30} />}>
          {stage}
        </KeyItem>
      ))}
      <KeyItem figure={<Stool state="in" size={20} />}>in</KeyItem>
      <KeyItem figure={<Stool state="late" size={20} />}>late</KeyItem>
      <KeyItem figure={<Mark name="learner" size={22} />}>learner tied to mentor</KeyItem>
      <KeyItem figure={<Stool state="free" size={20} />}>free seat</KeyItem>
      <KeyItem figure={<Mark name="hold" size={20} />}>held</KeyItem>
      <KeyItem figure={<Mark name="claim" size={20} />}>claimed</KeyItem>
      <KeyItem figure={<Mark name="plumb" size={20} />}>dated</KeyItem>
      <KeyItem figure={<Mark name="undercut" size={20} />}>at risk</KeyItem>
    </div>
  )
}

function ProposalKey() {
  return (
    <div className="flex flex-wrap gap-x-5 gap-y-2 pb-2">
      <KeyItem figure={<Line className="stroke-chalk" width={2} dash="5 3" />}>chalk, broken: drawn up</KeyItem>
      <KeyItem figure={<Line className="stroke-ink" width={2.6} />}>ink, heavy: held, stays</KeyItem>
      <KeyItem figure={<Line className="stroke-faint" width={1.2} />}>faint: as it is now</KeyItem>
      <KeyItem figure={<Mark name="moved" size={22} />}>thread: who moves</KeyItem>
    </div>
  )
}

function Line({ className, width, dash }: LineProps) {
  return (
    <svg width={38} height={8} viewBox="0 0 38 8" aria-hidden="true">
      <path className={className} d="M0 4H38" strokeWidth={width} strokeDasharray={dash} />
    </svg>
  )
}

type LineProps = { readonly className: string; readonly width: number; readonly dash?: string }
