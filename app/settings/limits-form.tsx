'use client'
// The daily limits every line-up keeps. The defaults are published action values; who set others, and on what basis,
// stands beside them. Talus plans by them and never says that something is safe.
import { Notice } from '../_parts/controls/index.ts'
import { KeptNumber, KeptText } from '../room/kept-field.tsx'
import type { LabInHand } from './use-lab.ts'

/** Vibration, noise, learners, neighbours. */
export function LimitsForm({ lab, keep }: LabInHand) {
  const { limits } = lab
  const edit = (patch: Partial<typeof limits>) => keep({ limits: { ...limits, ...patch } })
  return (
    <div className="flex flex-col gap-4">
      <div className="grid gap-4 tablet:grid-cols-2">
        <div>
          <KeptNumber
            label="Hand-arm vibration"
            unit="points a day"
            step={5}
            max={400}
            value={limits.vibrationPoints}
            onKeep={(vibrationPoints) => edit({ vibrationPoints })}
          />
          <p className="mt-1 text-small text-umber">
            100 points are the daily action value of 2.5 m/s² A(8), Directive 2002/44/EC.
          </p>
        </div>
        <div>
          <KeptNumber
            label="Noise"
            unit="dB(A) over 8 h"
            step={1}
            min={60}
            max={90}
            value={limits.noiseDba}
            onKeep={(noiseDba) => edit({ noiseDba })}
          />
          <p className="mt-1 text-small text-umber">80 is the lower action value of Directive 2003/10/EC.</p>
        </div>
        <KeptNumber
          label="Learners beside one mentor"
          step={1}
          max={20}
          value={limits.learnersPerMentor}
          onKeep={(learnersPerMentor) => edit({ learnersPerMentor })}
        />
        <KeptNumber
          label="Places count as neighbours up to"
          unit="m apart"
          step={0.1}
          max={100}
          value={limits.neighbourM}
          onKeep={(neighbourM) => edit({ neighbourM })}
        />
      </div>
      <KeptText label="Set by whom, when, on what basis" value={limits.basis} onKeep={(basis) => edit({ basis })} />
      <Notice kind="plain" mark="caution">
        Local codes, the site’s safety officer and licensed practice decide; these figures only keep the plan below
        them.
      </Notice>
    </div>
  )
}
