'use client'
// Everything of the lab that is not the room: one page, long rows, each change kept at once and taken back by Undo.
import Link from 'next/link'
import type { ReactNode } from 'react'
import { useWho } from '../_board/index.ts'
import { buttonClass, Notice, PageHeading, Section } from '../_parts/controls/index.ts'
import { AirLimitsForm } from './air-limits-form.tsx'
import { CompressorForm } from './compressor-form.tsx'
import { InductionForm } from './induction-form.tsx'
import { ClosedDays, LabForm } from './lab-form.tsx'
import { LimitsForm } from './limits-form.tsx'
import { PathsForm } from './paths-form.tsx'
import { ShiftsForm } from './shifts-form.tsx'
import { TechniquesForm } from './techniques-form.tsx'
import { useLab } from './use-lab.ts'
import { WallLink } from './wall-link.tsx'
import { WeightsForm } from './weights-form.tsx'

/** The settings. */
export function SettingsScreen() {
  const role = useWho()?.role
  const hand = useLab()
  if (!hand) return null
  if (role !== 'manager')
    return (
      <div className="margin-page py-6">
        <Notice kind="empty">Only the manager changes the lab’s settings.</Notice>
      </div>
    )
  return (
    <div className="margin-page mx-auto flex max-w-4xl flex-col gap-8 pb-16">
      <PageHeading
        title="Lab settings"
        actions={
          <Link className={buttonClass('line')} href="/room">
            Room and places
          </Link>
        }
      />
      <Part title="The lab">
        <LabForm {...hand} />
      </Part>
      <Part title="Shifts">
        <ShiftsForm {...hand} />
      </Part>
      <Part title="Closed days">
        <ClosedDays {...hand} />
      </Part>
      <Part title="What a good day is">
        <WeightsForm {...hand} />
      </Part>
      <Part title="Limits">
        <LimitsForm {...hand} />
      </Part>
      <Part title="Limits in air">
        <AirLimitsForm {...hand} />
      </Part>
      <Part title="Compressor">
        <CompressorForm {...hand} />
      </Part>
      <Part title="Techniques">
        <TechniquesForm {...hand} />
      </Part>
      <Part title="Induction">
        <InductionForm {...hand} />
      </Part>
      <Part title="Learning paths">
        <PathsForm {...hand} />
      </Part>
      <Part title="Wall screens">
        <WallLink />
      </Part>
    </div>
  )
}

function Part({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <Section title={title}>
      <div className="pt-4">{children}</div>
    </Section>
  )
}
