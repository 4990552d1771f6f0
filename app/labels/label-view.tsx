// One label as it is printed: the code, the number as it is inked, a few lines.

import { qrPath } from './qr.ts'
import { type Label, type LabelForm, labelForms } from './what.ts'

/** `origin` is where the lab is found: the code leads there. */
export function LabelView({
  label,
  form,
  origin,
}: {
  readonly label: Label
  readonly form: LabelForm
  readonly origin: string
}) {
  const { size, path } = qrPath(origin + label.path)
  return (
    <li className={`label label-${form}`}>
      <svg
        className="label-code"
        viewBox={`0 0 ${size} ${size}`}
        shapeRendering="crispEdges"
        role="img"
        aria-label={`Code of ${label.number}`}
      >
        <rect width={size} height={size} fill="#fff" />
        <path d={path} fill="#000" />
      </svg>
      <div className="label-words">
        <p className="label-number inked">{label.number}</p>
        {label.lines.slice(0, labelForms[form].lines).map((line) => (
          <p key={line} className="label-line">
            {line}
          </p>
        ))}
      </div>
    </li>
  )
}
