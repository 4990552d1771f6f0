// An address that leads nowhere.
import Link from 'next/link'
import { buttonClass, Notice } from './_parts/controls/index.ts'

export default function NotFound() {
  return (
    <div className="margin-page py-8">
      <Notice
        kind="empty"
        action={
          <Link className={buttonClass('ink')} href="/">
            To the Floor
          </Link>
        }
      >
        Nothing is at this address. It may have been moved, or the link is incomplete.
      </Notice>
    </div>
  )
}
