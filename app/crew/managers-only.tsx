// Beside the title of what managers alone are sent.
import { Mark } from '../_parts/marks/index.ts'

/** The lock and the words. */
export function ManagersOnly() {
  return (
    <span className="flex items-center gap-1">
      <Mark name="private" size={18} /> managers only
    </span>
  )
}
