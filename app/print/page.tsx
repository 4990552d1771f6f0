// The records of several pieces, to be printed or kept as a PDF.
import type { Metadata } from 'next'
import { Suspense } from 'react'
import { PrintScreen } from './print-screen.tsx'

export const metadata: Metadata = { title: 'Records to print' }

export default function Page() {
  return (
    <Suspense>
      <PrintScreen />
    </Suspense>
  )
}
