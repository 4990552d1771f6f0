'use client'
// The daily limits every line-up keeps. The defaults are published action values; who set others, and on what basis,
// stands beside them. Talus plans by them and never says that something is safe.
import { useBoard, useNow, useWho } from '../_board/index.ts'
import { Notice, Select } from '../_parts/controls/index.ts'
import { sayDate } from '../_text/index.ts'
import { KeptNumber, KeptText } from '../room/kept-field.tsx'
import { Measured } from './tool-figures.tsx'
import type { LabInHand } from './use-lab.ts'

/** Vibration, noise, learners, neighbours. */
export function LimitsForm({ lab, keep }: LabInHand) {
  const { limits } = lab
  const who = useWho()
  const setter = useBoard((records) =>
    limits.setBy === undefined ? undefined : records.person.get(limits.setBy)?.name,
  )
  const now = useNow(60_000)
  const stamp = who === null || now.ms === 0 ? {} : { setBy: who.personId, setOn: now.date }
  const edit = (patch: Partial<typeof limits>) => keep({ limits: { ...limits, ...patch, ...stamp } })
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
        <Select
          label="Noise of a person’s day is told"
          value={limits.noiseRule ?? ''}
          choices={[
            { value: '', label: 'by the lab’s jurisdiction' },
            { value: 'eu', label: 'by equal energy, 3 dB (EU, UK)' },
            { value: 'niosh', label: 'by NIOSH, 3 dB from 85' },
            { value: 'osha', label: 'by OSHA, 5 dB from 90' },
          ]}
          onValue={(value) => edit({ noiseRule: (['eu', 'niosh', 'osha'] as const).find((one) => one === value) })}
        />
        <Measured
          label="The room with no tool of one’s own"
          unit="dB(A)"
          max={120}
          value={limits.backgroundDba ?? null}
          onKeep={(value) => edit({ backgroundDba: value ?? undefined })}
        />
        <Measured
          label="Most at microscopes in a day"
          unit="min"
          max={1440}
          step={5}
          hint="Leave it empty for no cap."
          value={limits.scopeMinutesMax ?? null}
          onKeep={(value) => edit({ scopeMinutesMax: value === null ? undefined : Math.round(value) })}
        />
        <Measured
          label="A break at the microscope every"
          unit="min"
          max={240}
          step={5}
          hint="Leave it empty for none. Oxford’s occupational health asks for one every 20 minutes."
          value={limits.scopeBreakMinutes ?? null}
          onKeep={(value) => edit({ scopeBreakMinutes: value === null ? undefined : Math.max(5, Math.round(value)) })}
        />
      </div>
      {limits.setOn === undefined ? null : (
        <p className="text-small text-umber">
          Last changed by {setter ?? 'somebody'} on {sayDate(limits.setOn, 'full')}.
        </p>
      )}
      <KeptText label="Set by whom, when, on what basis" value={limits.basis} onKeep={(basis) => edit({ basis })} />
      <Notice kind="plain" mark="caution">
        Local codes, the site’s safety officer and licensed practice decide; these figures only keep the plan below
        them.
      </Notice>
    </div>
  )
}
