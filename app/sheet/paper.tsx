'use client'
import { sayDate } from '../_text/index.ts'
// What stands only on paper: ruled lines for notes by hand, who printed it and when, and a place to sign.
import type { SheetAt } from './sheet-at.ts'
import { nameOf } from './sheet-at.ts'

const LINES = 12

/** The foot of the printed form. */
export function PaperFoot({ at }: { readonly at: SheetAt }) {
  return (
    <section className="print-only" aria-hidden="true">
      <h2 className="heading border-b-[1.5px] border-ink pb-1 text-section">By hand</h2>
      {Array.from({ length: LINES }, (_, index) => (
        <div key={index} className="paper-line" />
      ))}
      <p className="paper-foot">
        {at.sheet.number}. Printed {sayDate(at.today, 'full')} by {nameOf(at, at.me)},{' '}
        {at.records.lab.get('lab')?.name ?? ''}. The record in Talus goes on after this page.
      </p>
    </section>
  )
}
