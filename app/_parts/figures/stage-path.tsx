// The seven stages as a path of stones: done ones joined by a heavy rule, the present one larger, what is
// still ahead broken. On a phone the path becomes a line of small stones under the present one's word.
import { Stone, type StoneStage } from '../stone/index.ts'

export type StagePathStep = {
  readonly stage: StoneStage
  readonly word: string
  /** Such as "since 14 Jan". */
  readonly note?: string | undefined
  readonly state: 'done' | 'now' | 'ahead'
}

export type StagePathProps = {
  readonly seed: string
  readonly steps: readonly StagePathStep[]
  readonly lengthM?: number | undefined
  readonly widthM?: number | undefined
  readonly label?: string
}

/** The path, as an ordered list. */
export function StagePath({ seed, steps, lengthM, widthM, label = 'Stages' }: StagePathProps) {
  return (
    <ol className="stage-path" aria-label={label}>
      {steps.map((step) => (
        <li
          key={step.stage}
          className={`stage-step stage-${step.state}`}
          aria-current={step.state === 'now' ? 'step' : undefined}
        >
          <span className="stage-stone">
            <Stone
              seed={seed}
              stage={step.stage}
              size={step.state === 'now' ? 84 : 56}
              lengthM={lengthM}
              widthM={widthM}
              tone={step.state === 'ahead' ? 'faint' : 'ink'}
              isHeld={step.state === 'now'}
            />
          </span>
          <span className={`stage-word block ${step.state === 'now' ? 'font-strong text-say' : 'text-small'}`}>
            {step.word}
          </span>
          <span className="stage-note block text-cap text-umber">{step.note ?? '\u00a0'}</span>
        </li>
      ))}
    </ol>
  )
}
