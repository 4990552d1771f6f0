// Labels to print: a code that opens the Sheet, and what is read by eye.
import type { Metadata } from 'next'
import { Suspense } from 'react'
import { LabelsScreen } from './labels-screen.tsx'

export const metadata: Metadata = { title: 'Labels' }

export default function Page() {
  return (
    <Suspense>
      <LabelsScreen />
    </Suspense>
  )
}
