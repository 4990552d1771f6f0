import { Notice, PageHeading, RowsComing } from '../_parts/controls/index.ts'

type NotHereProps = {
  readonly title: string
  /** The board is still on its way; else the page is not for whoever looks. */
  readonly isComing: boolean
  /** Rows that are about to come. */
  readonly rows?: number
}

/** A page of those who work here, while there is nothing of it to show. */
export function NotHere({ title, isComing, rows = 6 }: NotHereProps) {
  return (
    <div className="margin-page">
      <PageHeading title={title} />
      {isComing ? <RowsComing count={rows} /> : <Notice kind="empty">This page is for those who work here.</Notice>}
    </div>
  )
}
