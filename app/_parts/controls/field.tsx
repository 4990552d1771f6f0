'use client'
// Fields one fills in. The label stands above, the hint and what is wrong below, all tied together for
// readers. A field with something wrong gets a heavy left edge and a sentence, never a colour alone.
import {
  type InputHTMLAttributes,
  type ReactNode,
  type Ref,
  type SelectHTMLAttributes,
  type TextareaHTMLAttributes,
  useId,
} from 'react'
import { Mark } from '../marks/index.ts'

type Told = {
  readonly label: string
  /** Only readers hear the label; the place on the screen says it to eyes. */
  readonly isLabelHidden?: boolean | undefined
  readonly hint?: ReactNode
  readonly problem?: ReactNode
  readonly className?: string | undefined
}

export type TextFieldProps = Told &
  Omit<InputHTMLAttributes<HTMLInputElement>, 'style' | 'className'> & {
    /** The unit that stands behind a number. */
    readonly unit?: string | undefined
    readonly isInked?: boolean | undefined
    readonly ref?: Ref<HTMLInputElement>
  }

/** One line of words or one number. */
export function TextField({
  label,
  isLabelHidden,
  hint,
  problem,
  unit,
  isInked = false,
  className,
  ...input
}: TextFieldProps) {
  return (
    <Frame {...{ label, isLabelHidden, hint, problem, className }}>
      {(told) => (
        <span className="field-box">
          <input
            {...input}
            {...told}
            className={`field-input ${isInked ? 'inked' : ''} ${unit === undefined ? '' : 'text-right'}`}
          />
          {unit === undefined ? null : (
            <span className="pr-3 text-umber" aria-hidden="true">
              {unit}
            </span>
          )}
        </span>
      )}
    </Frame>
  )
}

export type NumberFieldProps = Omit<TextFieldProps, 'value' | 'onChange' | 'type'> & {
  /** What stands in the field; undefined is empty. */
  readonly value: number | undefined
  readonly onValue: (value: number | undefined) => void
}

/** A number with its unit; the keyboard's digits come up on a phone, arrows step it. */
export function NumberField({ value, onValue, label, unit, ...rest }: NumberFieldProps) {
  return (
    <TextField
      {...rest}
      label={unit === undefined ? label : `${label}, ${unit}`}
      unit={unit}
      type="number"
      inputMode="decimal"
      value={value ?? ''}
      onChange={(event) => onValue(Number.isNaN(event.target.valueAsNumber) ? undefined : event.target.valueAsNumber)}
    />
  )
}

export type TextAreaProps = Told &
  Omit<TextareaHTMLAttributes<HTMLTextAreaElement>, 'style' | 'className'> & { readonly ref?: Ref<HTMLTextAreaElement> }

/** Several lines of words; grows with them where the browser can. */
export function TextArea({ label, isLabelHidden, hint, problem, className, rows = 3, ...input }: TextAreaProps) {
  return (
    <Frame {...{ label, isLabelHidden, hint, problem, className }}>
      {(told) => <textarea {...input} {...told} rows={rows} className="field-box field-input field-grows py-2.5" />}
    </Frame>
  )
}

type Choice = { readonly value: string; readonly label: string; readonly isOff?: boolean | undefined }

export type SelectProps = Told &
  Omit<SelectHTMLAttributes<HTMLSelectElement>, 'style' | 'className' | 'onChange' | 'value'> & {
    readonly value: string
    readonly choices: readonly Choice[]
    readonly onValue: (value: string) => void
  }

/** One of a few; the system's own list opens, which every hand and reader knows. */
export function Select({ label, isLabelHidden, hint, problem, className, choices, onValue, ...select }: SelectProps) {
  return (
    <Frame {...{ label, isLabelHidden, hint, problem, className }}>
      {(told) => (
        <span className="field-box">
          <select
            {...select}
            {...told}
            className="field-input field-select"
            onChange={(event) => onValue(event.target.value)}
          >
            {choices.map((choice) => (
              <option key={choice.value} value={choice.value} disabled={choice.isOff}>
                {choice.label}
              </option>
            ))}
          </select>
          <Mark name="unfold" size={18} className="field-unfold" />
        </span>
      )}
    </Frame>
  )
}

export type CheckProps = {
  readonly label: ReactNode
  readonly note?: ReactNode
  readonly isOn: boolean
  readonly onToggle: (isOn: boolean) => void
  readonly isOff?: boolean | undefined
  /** Several of these with one name are one choice among them. */
  readonly oneOf?: string | undefined
  readonly className?: string | undefined
}

/** A box to tick, or with `oneOf` a ring to choose; the whole line is the target. */
export function Check({ label, note, isOn, onToggle, isOff = false, oneOf, className = '' }: CheckProps) {
  return (
    <label className={`check ${className}`}>
      <input
        type={oneOf === undefined ? 'checkbox' : 'radio'}
        name={oneOf}
        className="peer sr-only"
        checked={isOn}
        disabled={isOff}
        onChange={(event) => onToggle(event.target.checked)}
      />
      <span className={oneOf === undefined ? 'check-box' : 'check-ring'} aria-hidden="true">
        {oneOf === undefined && isOn ? <Mark name="tick" size={20} /> : null}
      </span>
      <span>
        <span className="block font-strong">{label}</span>
        {note === undefined ? null : <span className="block text-small text-umber">{note}</span>}
      </span>
    </label>
  )
}

export type SearchFieldProps = Omit<
  InputHTMLAttributes<HTMLInputElement>,
  'style' | 'className' | 'onChange' | 'value'
> & {
  readonly label: string
  readonly value: string
  readonly onValue: (value: string) => void
  readonly className?: string | undefined
  readonly ref?: Ref<HTMLInputElement>
}

/** Find as one types: a rule with a lens, no box. Escape empties it. */
export function SearchField({ label, value, onValue, className = '', onKeyDown, ...input }: SearchFieldProps) {
  return (
    <label className={`find ${className}`}>
      <Mark name="search" size={20} />
      <input
        placeholder={label}
        {...input}
        type="search"
        aria-label={label}
        className="find-input"
        value={value}
        onChange={(event) => onValue(event.target.value)}
        onKeyDown={(event) => {
          if (event.key === 'Escape' && value !== '') {
            event.preventDefault()
            onValue('')
          }
          onKeyDown?.(event)
        }}
      />
    </label>
  )
}

function Frame({ label, isLabelHidden, hint, problem, className = '', children }: FrameProps) {
  const id = useId()
  const notes = [hint === undefined ? '' : `${id}h`, problem === undefined ? '' : `${id}p`].filter(
    (note) => note !== '',
  )
  return (
    <div className={`field ${problem === undefined ? '' : 'field-wrong'} ${className}`}>
      <label htmlFor={id} className={isLabelHidden === true ? 'sr-only' : 'mb-1 block text-small font-firm text-umber'}>
        {label}
      </label>
      {children({
        id,
        'aria-invalid': problem === undefined ? undefined : true,
        'aria-describedby': notes.length === 0 ? undefined : notes.join(' '),
      })}
      {hint === undefined ? null : (
        <p id={`${id}h`} className="mt-1 text-small text-umber">
          {hint}
        </p>
      )}
      {problem === undefined ? null : (
        <p id={`${id}p`} className="mt-1 text-small font-firm" role="alert">
          {problem}
        </p>
      )}
    </div>
  )
}

type FrameProps = Told & {
  readonly children: (told: {
    readonly id: string
    readonly 'aria-invalid': true | undefined
    readonly 'aria-describedby': string | undefined
  }) => ReactNode
}
